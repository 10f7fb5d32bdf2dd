package yearbook

import (
	"slices"
	"strings"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
)

// quiet are the models that nothing became of, a line each.
func (b *book) quiet() []document.Block {
	if len(b.year.Quiet) == 0 {
		return nil
	}
	var lines []string
	for _, m := range b.year.Quiet {
		lines = append(lines, b.say("quiet."+standing(m), "name", m.Name(), "label", m.Label, "day", m.Stood.Day()))
	}
	return []document.Block{b.heading(2, "quiet.heading"), telling.Bullets(lines)}
}

// stock lists what changed of the parts and materials.
func (b *book) stock() []document.Block {
	if len(b.year.Stock) == 0 {
		return nil
	}
	table := document.Table{
		Caption: b.say("stock.table", "currency", b.set.Currency.Text),
		Columns: b.Columns("yearbook.stock", "day", "what", "change", "users", "why"),
	}
	for _, e := range b.year.Stock {
		why, _, _ := strings.Cut(e.State.Why(), "\n")
		if e.Begun {
			table.Add(e.State.Day(), e.File, b.count("stock.begun", len(e.Changes)), "", why)
			continue
		}
		for _, edit := range diffing.Edits(e.Changes) {
			item := edit.Group.Of
			table.Add(e.State.Day(), item, b.change(edit), b.List(b.users(item)), why)
		}
	}
	return []document.Block{b.heading(2, "stock.heading"), table}
}

// change says what became of one part or material.
func (b *book) change(e diffing.Edit) string {
	c := e.Changes[0]
	if len(c.Path) == 1 { // the whole of it
		if c.Kind == diffing.Added {
			return b.say("stock.new", "what", b.Content(c.New))
		}
		return b.say("stock.gone", "what", b.Content(c.Old))
	}
	return b.Summary(e.Changes, 0)
}

// users are the models that used a part or material when the year ended.
func (b *book) users(item string) []string {
	var names []string
	for _, m := range slices.Concat(b.year.Models, b.year.Quiet) {
		if m.Stood == nil || m.Stood.Spec() == nil {
			continue
		}
		if m.Stood.Spec().Parts[item] != nil || m.Stood.Spec().Materials[item] != nil {
			names = append(names, m.Name())
		}
	}
	return names
}

// notes tell what could not be read.
func (b *book) notes() []document.Block {
	if len(b.year.Notes) == 0 {
		return nil
	}
	return []document.Block{b.heading(2, "notes.heading"), b.paragraph("notes.intro"), telling.Bullets(b.Notes(b.year.Notes))}
}
