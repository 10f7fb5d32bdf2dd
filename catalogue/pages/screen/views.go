package screen

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Views lays out views of one range. Not for concurrent use.
type Views struct {
	telling.Teller
	source *catalogue.Range
	set    *models.Settings
	pen    pages.Pen
	now    time.Time
	reader Reader

	Verdicts   bool   // of all models are worked out for the range, which may take its time
	Load, Pull string // that bend the rod of a view, as of a Trial; "" the usual

	parts     []*models.Part // of the range
	materials []string
}

// Reader is who looks at views.
type Reader int

const (
	Workshop Reader = iota
	Customer        // sees what is released, without costs, faults, reasons and notes
)

// New lays out views of a range as it stands now.
func New(r *catalogue.Range, now time.Time, reader Reader) (*Views, error) {
	v := &Views{source: r, now: now, reader: reader}
	var err error
	if v.set, err = r.Settings(); err != nil {
		return nil, err
	}
	if v.Teller, err = telling.New(r); err != nil {
		return nil, err
	}
	rods, err := r.Rods()
	if err != nil {
		return nil, err
	}
	parts, materials, err := r.Shared()
	if err == nil { // faults of them are those of the rods that use them
		v.parts = parts.All
		for _, m := range materials.All {
			v.materials = append(v.materials, m.Name)
		}
	}
	v.pen = pages.Screen(v.Words, v.set).With(r.Comparer(), rods)
	return v, nil
}

func (v *Views) document(title, subtitle string, blocks ...document.Block) *document.Document {
	return &document.Document{
		Title: title, Subtitle: subtitle, Author: v.set.Maker.Text, Language: v.Language(), Date: v.now,
		Footer: v.Say("screen.footer"), Blocks: blocks,
	}
}

// link is one word that leads to a view.
func (v *Views) link(path, to string) document.Span {
	return document.Span{Text: v.Say("screen." + path), Link: to}
}

// links are links in one line.
func links(spans ...document.Span) document.Block {
	var text document.Text
	for i, s := range spans {
		if i > 0 {
			text = append(text, document.Span{Text: " · "})
		}
		text = append(text, s)
	}
	return document.Ways{Links: text}
}

func (v *Views) figure(p *drawing.Picture, err error) (document.Block, error) {
	return document.Figure{Picture: p}, err
}

// Back puts the way back above a page that other commands make too.
func (v *Views) Back(page *document.Document, of string) *document.Document {
	to := []document.Span{v.link("all", address(RangeView))}
	if rev, err := v.find(of); err == nil {
		to = append(to, document.Span{Text: v.title(rev), Link: address(RodView, RodKey, of)})
	}
	page.Blocks = append([]document.Block{links(to...)}, page.Blocks...)
	return page
}

// Range shows the rods of the range to one scale, and how each of them stands.
func (v *Views) Range(ctx context.Context) (*document.Document, error) {
	names, err := v.source.Models()
	if err != nil {
		return nil, err
	}
	if err := v.source.Follow(ctx, names...); err != nil {
		return nil, err
	}
	d := v.document(v.set.Maker.Text, v.Say("screen.subtitle", "day", v.now.Format(time.DateOnly)))
	if len(names) == 0 {
		d.Blocks = []document.Block{v.Paragraph("screen.no models")}
		if v.reader == Workshop {
			d.Blocks = append(d.Blocks, links(v.link("views.new", address(NewView))))
		}
		return d, nil
	}
	var revs []*catalogue.Revision
	var rods []pages.Labelled
	for _, name := range names {
		rev, err := v.standing(name)
		switch {
		case err != nil:
			return nil, err
		case rev == nil:
			continue
		}
		revs = append(revs, rev)
		if rev.Fault() == nil && !rev.Spec().Bare {
			rods = append(rods, pages.Labelled{Label: rev.Spec().Name.Text, Spec: rev.Spec()})
		}
	}
	if err := v.source.EvaluateAll(ctx, revs); err != nil {
		return nil, err
	}
	if len(rods) > 0 {
		rack, err := v.figure(v.pen.Rack(rods))
		if err != nil {
			return nil, err
		}
		d.Blocks = append(d.Blocks, rack)
	}
	table, err := v.models(ctx, revs)
	if err != nil {
		return nil, err
	}
	d.Blocks = append(d.Blocks, table)
	if v.reader == Customer {
		return d, nil
	}
	d.Blocks = append(d.Blocks, v.faults(revs)...)
	year := strconv.Itoa(v.now.Year())
	d.Blocks = append(d.Blocks, links(document.Span{
		Text: v.Say("screen.yearbook", "year", year), Link: address(YearbookView, YearKey, year),
	}, v.link("views.built", address(BuiltView)), v.link("views.new", address(NewView)), v.link("verdicts", address(RangeView, VerdictsKey, "all"))))
	return d, nil
}

// standing is a model as it stands: as it is edited, and for customers as it was last
// released; nil where it never was.
func (v *Views) standing(model string) (*catalogue.Revision, error) {
	rev, err := v.source.Draft(model)
	if err == nil && v.reader == Customer {
		rev = rev.LastRelease()
	}
	return rev, err
}

// stands is what a revision stands as: for customers the label alone, which is what the
// rod in the shop has.
func (v *Views) stands(rev *catalogue.Revision) string {
	if v.reader == Customer {
		return v.Labels(rev)
	}
	return v.Standing(rev)
}

// labelled are the rods of revisions, but for those that are nil or have faults.
func (v *Views) labelled(revs ...*catalogue.Revision) (rods []pages.Labelled) {
	for _, rev := range revs {
		if rev != nil && rev.Fault() == nil {
			rods = append(rods, pages.Labelled{Label: v.stands(rev), Spec: rev.Spec()})
		}
	}
	return rods
}

func (v *Views) title(rev *catalogue.Revision) string {
	if v.reader == Customer && rev.Spec() != nil {
		return rev.Spec().Name.Text + ", " + v.Labels(rev)
	}
	return v.Title(rev)
}

// find finds the rod of an argument, for customers among what is on sale.
func (v *Views) find(arg string) (*catalogue.Revision, error) {
	rev, err := v.source.FindArg(arg)
	if err != nil || v.reader == Workshop {
		return rev, err
	}
	if !strings.Contains(arg, "@") {
		rev = rev.LastRelease()
	}
	if rev == nil || rev.LastRelease() != rev {
		return nil, fmt.Errorf("%s: %w: it is not on sale", arg, catalogue.ErrNotFound)
	}
	return rev, nil
}

// models is a table of how models stand: with the last change that was saved, and, of
// those that are not on sale as they are, whether they could be.
func (v *Views) models(ctx context.Context, revs []*catalogue.Revision) (document.Block, error) {
	keys := figures.Keys(figures.Overview)
	t := document.Table{Caption: v.Say("screen.models"), Columns: append(v.Columns("screen", "model", "stands"), v.OfFigures(keys)...)}
	if v.reader == Workshop {
		t.Columns = append(t.Columns, v.Columns("screen", "review", "last change")...)
	}
	known := make([]*evaluate.Figures, len(revs))
	for i, rev := range revs {
		var err error
		if known[i], err = v.source.Figures(rev); err != nil {
			known[i] = &evaluate.Figures{}
		}
	}
	values := v.Values(known, keys)
	for i, rev := range revs {
		name := rev.Model
		if rev.Spec() != nil {
			name = rev.Spec().Name.Text
		}
		stands := v.stands(rev)
		if rev.Status == catalogue.Released {
			stands = v.Labels(rev)
		}
		row := []document.Text{{{Text: name, Link: address(RodView, RodKey, rev.Model)}}, document.Plain(stands)}
		for _, value := range values[i] {
			row = append(row, document.Plain(value))
		}
		if v.reader == Workshop {
			verdict, err := v.verdict(ctx, rev)
			if err != nil {
				return nil, err
			}
			row = append(row, verdict, document.Plain(v.lastChange(rev)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// verdict says whether a rod that is not on sale could be, or leads to where that is
// said.
func (v *Views) verdict(ctx context.Context, rev *catalogue.Revision) (document.Text, error) {
	if rev.Status == catalogue.Released || rev.Fault() != nil {
		return nil, nil
	}
	said := v.Say("screen.look")
	if v.Verdicts {
		var err error
		if said, err = v.Judged(ctx, rev); err != nil {
			return nil, ctx.Err() // it cannot be worked out, as its own view says
		}
	}
	return document.Text{{Text: said, Link: address(ReviewView, RodKey, rev.Model)}}, nil
}

// Judged is the verdict of a revision.
func (v *Views) Judged(ctx context.Context, rev *catalogue.Revision) (string, error) {
	review, err := v.source.Judge(ctx, rev)
	if err != nil {
		return "", err
	}
	return v.Verdict(review.Verdict()), nil
}

// lastChange is the reason of the latest change that was saved; "" where none was.
func (v *Views) lastChange(rev *catalogue.Revision) string {
	if rev.Status == catalogue.Draft {
		rev = rev.Before
	}
	if rev == nil {
		return ""
	}
	return firstLine(rev)
}

// faults are what is wrong with the files of revisions, each at its place.
func (v *Views) faults(revs []*catalogue.Revision) []document.Block {
	var items []string
	for _, rev := range revs {
		var faults models.Faults
		switch err := rev.Fault(); {
		case errors.As(err, &faults):
			for _, f := range faults {
				items = append(items, f.Error())
			}
		case err != nil:
			items = append(items, err.Error())
		}
	}
	return v.Listed("screen.faults", "", items)
}

// Rod shows one rod: how it looks, its figures, and its history where no revision is
// named.
func (v *Views) Rod(ctx context.Context, arg string) (*document.Document, error) {
	rev, err := v.find(arg)
	if err != nil {
		return nil, err
	}
	d := v.document(v.title(rev), "", links(v.link("all", address(RangeView))))
	if rev.Fault() != nil {
		d.Blocks = append(d.Blocks, v.faults([]*catalogue.Revision{rev})...)
	} else {
		blocks, err := v.sound(ctx, rev, arg)
		if err != nil {
			return nil, err
		}
		d.Blocks = append(d.Blocks, blocks...)
	}
	if strings.Contains(arg, "@") {
		return d, nil
	}
	if rev.Status == catalogue.Draft {
		d.Blocks = append(d.Blocks, v.draftForms(rev)...)
	}
	history, err := v.history(ctx, rev)
	if err != nil {
		return nil, err
	}
	d.Blocks = append(d.Blocks, history...)
	return d, nil
}

// sound is what there is to see of a rod without faults.
func (v *Views) sound(ctx context.Context, rev *catalogue.Revision, arg string) ([]document.Block, error) {
	picture, err := v.figure(v.pen.Rod(rev.Spec()))
	if err != nil {
		return nil, err
	}
	var to []document.Span
	if v.reader == Workshop {
		to = append(to, v.link("review", address(ReviewView, RodKey, arg)), v.link("sheet", address(SheetView, RodKey, arg)))
		if !strings.Contains(arg, "@") {
			to = append(to, v.link("try.link", address(TryView, RodKey, arg)))
			for _, view := range []string{PatternsView, StepsView, FitView, BuiltView} {
				to = append(to, v.link("views."+view, address(view, RodKey, arg)))
			}
		}
	}
	if rev.LastRelease() != nil {
		to = append(to, v.link("story", address(StoryView, RodKey, rev.Model)))
	}
	if before := rev.Before.LastRelease(); before != nil {
		to = append(to, v.link("since", address(CompareView, RodKey, rev.Model+"@"+before.Label(), WithKey, arg)))
	}
	figs, err := v.source.FiguresWithTolerances(ctx, rev)
	if err != nil {
		return []document.Block{picture, links(to...), document.Caution{Title: v.Say("screen.no figures"), Text: document.Plain(err.Error())}}, nil
	}
	bent, err := v.bend(ctx, rev, arg, figs)
	return append([]document.Block{picture, links(to...), v.figures(figs)}, bent...), err
}

// figures is a table of the figures that say most, with what each means.
func (v *Views) figures(figs *evaluate.Figures) document.Block {
	t := document.Table{Caption: v.Say("screen.figures"), Columns: v.Columns("screen", "figure", "meaning")}
	for _, f := range figs.List {
		if figures.Of(f.Key).In&figures.First != 0 && v.shows(f.Key) {
			t.Add(v.Name(f.Key), v.Meaning(f.Key, v.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance)))
		}
	}
	return t
}

// shows reports whether the reader is shown a figure.
func (v *Views) shows(key string) bool {
	return v.reader == Workshop || figures.Of(key).In&figures.Own == 0
}

// history is a table of the revisions up to one, newest first: each with the maker's
// reason, and for customers each release with what they are told of it.
func (v *Views) history(ctx context.Context, to *catalogue.Revision) ([]document.Block, error) {
	heading, before, said := "screen.history", (*catalogue.Revision).LastSound, firstLine
	revs, err := v.source.Timeline(to.Model)
	if err != nil {
		return nil, err
	}
	if v.reader == Customer {
		heading, before = "screen.releases", func(rev *catalogue.Revision) *catalogue.Revision { return rev.Before.LastRelease() }
		said = func(rev *catalogue.Revision) string { return telling.Reflow(rev.Tell) }
		revs = slices.DeleteFunc(slices.Clone(revs), func(rev *catalogue.Revision) bool { return rev.LastRelease() != rev })
	}
	steps, err := v.source.Steps(ctx, revs, before)
	if err != nil {
		return nil, err
	}
	t := document.Table{Columns: v.Columns("screen", "revision", "why", "changes")}
	for _, s := range steps {
		changes := document.Plain(v.groups(s.Changes))
		if s.Against != nil {
			changes = document.Text{{Text: changes.String(), Link: address(CompareView, RodKey, name(s.Against), WithKey, name(s.Revision))}}
		}
		t.Rows = append(t.Rows, []document.Text{
			{{Text: v.stands(s.Revision), Link: address(RodView, RodKey, name(s.Revision))}}, document.Plain(said(s.Revision)), changes,
		})
	}
	return []document.Block{document.Heading{Level: 2, Text: v.Say(heading)}, t}, nil
}

func firstLine(rev *catalogue.Revision) string {
	line, _, _ := strings.Cut(rev.Why, "\n")
	return line
}

// groups names what changed, to customers of the rod alone.
func (v *Views) groups(changes []diffing.Change) string {
	var names []string
	for _, e := range diffing.Edits(changes) {
		if v.reader == Customer && e.OnPaper() {
			continue
		}
		names = append(names, v.Group(e.Group))
	}
	return v.List(names)
}

// name is what a revision is found by.
func name(rev *catalogue.Revision) string {
	switch rev.Status {
	case catalogue.Released:
		return rev.Model + "@" + rev.Label()
	case catalogue.Draft:
		return rev.Model
	}
	return rev.Model + "@" + rev.ShortID()
}

// Compare shows two rods side by side, and what became of one from the other.
func (v *Views) Compare(ctx context.Context, older, newer string) (*document.Document, error) {
	sides := make([]*catalogue.Revision, 2)
	for i, arg := range []string{older, newer} {
		rev, err := v.find(arg)
		if err == nil {
			err = rev.Fault()
		}
		if err != nil {
			return nil, err
		}
		sides[i] = rev
	}
	step, err := v.source.Compare(ctx, sides[0], sides[1])
	if err != nil {
		return nil, err
	}
	rack, err := v.figure(v.pen.Rack(v.labelled(sides...)))
	if err != nil {
		return nil, err
	}
	d := v.document(v.title(sides[1]), v.Say("screen.beside", "other", v.title(sides[0])),
		links(v.link("all", address(RangeView)),
			document.Span{Text: v.title(sides[0]), Link: address(RodView, RodKey, older)},
			document.Span{Text: v.title(sides[1]), Link: address(RodView, RodKey, newer)}),
		rack)
	tables := []document.Table{v.Edits(step), v.Sights(step), v.answers(step)}
	if v.reader == Customer {
		d.Blocks = append(d.Blocks, v.Listed("releases.seen", "releases.nothing seen", v.Seen(step))...)
		d.Blocks = append(d.Blocks, v.Listed("releases.made", "", v.Made(step))...)
		tables = tables[2:]
	}
	for _, t := range tables {
		if len(t.Rows) > 0 {
			d.Blocks = append(d.Blocks, t)
		}
	}
	if step.Unworkable != nil {
		d.Blocks = append(d.Blocks, document.Caution{Title: v.Say("screen.no figures"), Text: document.Plain(step.Unworkable.Error())})
	}
	return d, nil
}
