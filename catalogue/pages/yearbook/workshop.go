package yearbook

import (
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/evaluate/control"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// rods lists the rods built of a model.
func (b *book) rods(m *catalogue.ModelYear) []document.Block {
	if len(m.Rods) == 0 {
		return nil
	}
	heads := []string{"rod", "built", "release", ">weight", ">worked", ">off"}
	noted := slices.ContainsFunc(m.Rods, func(rod *catalogue.Build) bool { return rod.Notes.Text != "" })
	if noted {
		heads = append(heads, "noted")
	}
	table := document.Table{Caption: b.say("rods.table"), Columns: b.Columns("yearbook.rods", heads...)}
	for _, rod := range m.Rods {
		row := []string{rod.Serial.Text, rod.Date.Text, rod.As(), b.mass(rod.Weight), "", ""}
		if w := weighing(rod, m.Weighings); w != nil {
			row[4] = b.WithTolerance("weight", "kg", w.Worked.Value, w.Worked.Tolerance)
			row[5] = figures.Deviations(w.Off())
		}
		if noted {
			row = append(row, telling.Reflow(rod.Notes.Text))
		}
		table.Add(row...)
	}
	blocks := []document.Block{b.heading(3, "rods.heading"), table}
	if len(m.Weighings) > 0 {
		blocks = append(blocks, document.Paragraph(telling.Plain(b.meanOff(m.Weighings))))
	}
	return blocks
}

// mass writes what was weighed; "" where nothing was.
func (b *book) mass(g models.Given[units.Mass]) string {
	if !g.Set() {
		return ""
	}
	return b.Value("weight", "kg", float64(g.Value))
}

func weighing(rod *catalogue.Build, list []catalogue.Weighing) *catalogue.Weighing {
	for i := range list {
		if list[i].Build == rod {
			return &list[i]
		}
	}
	return nil
}

// meanOff says by how much rods are off what they work out to.
func (b *book) meanOff(list []catalogue.Weighing) string {
	sum, worked := 0.0, 0.0
	for _, w := range list {
		sum += w.Difference()
		worked += w.Worked.Value
	}
	n := float64(len(list))
	path := "rods.heavier"
	switch {
	case !b.Display.Shows("weight", "kg", sum/n, worked/n):
		path = "rods.alike"
	case sum < 0:
		path = "rods.lighter"
	}
	return b.count(path, len(list), "difference", b.Size("weight", "kg", sum/n, worked/n))
}

// repairs lists what was mended of rods of a model.
func (b *book) repairs(m *catalogue.ModelYear) []document.Block {
	if len(m.Repairs) == 0 {
		return nil
	}
	table := document.Table{Caption: b.say("repairs.table"), Columns: b.Columns("yearbook.repairs", "day", "rod", "of", "done", ">weight")}
	for _, r := range m.Repairs {
		done := telling.Reflow(r.Done.Text)
		if r.Section.Text != "" {
			done = b.say("repairs.on", "what", done, "section", r.Section.Text)
		}
		table.Add(r.Date.Text, r.Serial.Text, b.Say("lists.more", "list", r.Rod.Date.Text, "next", r.Rod.As()), done, b.mass(r.Weight))
	}
	return []document.Block{b.heading(3, "repairs.heading"), table}
}

// heard is what customers said of a model.
func (b *book) heard(m *catalogue.ModelYear) []document.Block {
	if len(m.Heard) == 0 {
		return nil
	}
	blocks := []document.Block{b.heading(3, "heard.heading")}
	for _, h := range m.Heard {
		of := b.say("heard.of", "day", h.Date.Text, "label", h.Release.Text)
		blocks = append(blocks, document.Quote{{Text: of, Bold: true}, {Text: " " + telling.Reflow(h.Said.Text)}})
	}
	return blocks
}

// drift says whether the weights of the year tell of a workshop that drifts.
func (b *book) drift() []document.Block {
	chart := b.year.Chart
	if chart == nil {
		return nil
	}
	blocks := []document.Block{b.heading(2, "drift.heading")}
	n := len(chart.Weighings)
	if chart.Control == nil {
		return append(blocks, document.Paragraph(telling.Plain(b.say("drift.few", "n", some(n)))))
	}
	intro := b.say("drift.intro")
	if n < control.Enough {
		intro += " " + b.say("drift.rough", "n", some(n))
	}
	blocks = append(blocks, document.Paragraph(telling.Plain(intro)))
	said := say.Each(b.year.Signals(), func(s control.Signal) string { return b.signal(chart, s) })
	if len(said) == 0 {
		said = []string{b.say("drift.none")}
	}
	return append(blocks, telling.Bullets(said))
}

// signal says one thing that chance would hardly make.
func (b *book) signal(chart *catalogue.WeightChart, s control.Signal) string {
	direction := ".down"
	if s.Above {
		direction = ".up"
	}
	return b.say("drift."+string(s.Rule)+direction,
		"from", chart.Weighings[s.From].Serial.Text, "to", chart.Weighings[s.To].Serial.Text, "n", some(s.To-s.From+1))
}
