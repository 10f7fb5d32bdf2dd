package story

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/telling"
	"rodlore/evaluate"
	"rodlore/models"
)

// Reader is who a story is for.
type Reader string

const (
	Customer Reader = "customer" // without costs, faults and what is the workshop's own
	Workshop Reader = "workshop"
)

// Options say how a story is told.
type Options struct {
	Reader Reader
	From   string         // what is as new as this date only: 2019, 2019-05 or 2019-05-31
	Print  bool           // for sheets of paper and no screen
	Paper  document.Paper // the zero Paper is A4
}

// Of tells the story of a model. One without a release has none for customers,
// which is an error.
func Of(ctx context.Context, r *catalogue.Range, model string, o Options) (*document.Document, error) {
	t, err := gather(ctx, r, model, o)
	if err != nil {
		return nil, err
	}
	d, err := t.document()
	if ctx.Err() != nil { // what was being worked out may be missing from it
		return nil, ctx.Err()
	}
	return d, err
}

// tale is what a story is told from.
type tale struct {
	telling.Teller
	Options
	ctx      context.Context // ends the gathering, as long as which a tale lives
	source   *catalogue.Range
	set      *models.Settings
	rods     *evaluate.Rods
	pen      pages.Pen // for the whole width
	half     pages.Pen // for one of two columns
	model    string
	chapters []*chapter       // oldest first
	whole    *chapter         // the last against the first; nil where there is one alone
	unread   []string         // what cannot be told, for the workshop
	moving   moving           // what a script moves
	photos   []document.Block // of the model
	page     string           // the file of the story among those of a range; "" where it stands alone
}

// chapter is one release and what became of the rod since the one before; the
// first has nothing before it.
type chapter struct {
	*catalogue.Step
	name    string                // the label of the release
	between []*catalogue.Revision // that led to it, oldest first, itself the last
	heard   []models.Remark       // what customers said of it; for customers what may be shown
	photos  []document.Block
}

// gather takes from a range what a story is told from.
func gather(ctx context.Context, r *catalogue.Range, model string, o Options) (*tale, error) {
	t := &tale{Options: o, ctx: ctx, source: r, model: model}
	var err error
	if t.set, err = r.Settings(); err != nil {
		return nil, err
	}
	if t.Teller, err = telling.New(r); err != nil {
		return nil, err
	}
	t.pen, t.half = pages.Screen(t.Words, t.set), pages.Screen(t.Words, t.set)
	if o.Print {
		t.pen, t.half = pages.Print(t.Words, t.set), pages.Column(t.Words, t.set)
	}
	if t.rods, err = r.Rods(); err != nil {
		return nil, err
	}
	t.pen, t.half = t.pen.With(r.Comparer(), t.rods), t.half.With(r.Comparer(), t.rods)
	revs, err := t.revisions()
	if err != nil {
		return nil, err
	}
	steps, err := r.Steps(ctx, revs, before(revs))
	if err != nil {
		return nil, err
	}
	for _, s := range slices.Backward(steps) {
		t.add(s)
	}
	if len(t.chapters) == 0 {
		return nil, t.nothing()
	}
	if err := t.listen(); err != nil {
		return nil, err
	}
	if err := t.photograph(); err != nil {
		return nil, err
	}
	return t, t.compareEnds()
}

// listen takes what customers said.
func (t *tale) listen() (err error) {
	for _, c := range t.chapters {
		if c.heard, err = t.source.HeardOf(c.Revision); err != nil {
			return err
		}
		if t.Reader == Customer {
			c.heard = slices.DeleteFunc(c.heard, func(r models.Remark) bool { return !r.Show })
		}
	}
	return nil
}

// revisions are those that have a chapter, newest first: the releases, and for
// the workshop a prototype that came after them. All are told by what is known of them
// today.
func (t *tale) revisions() ([]*catalogue.Revision, error) {
	all, err := t.source.Revisions(t.model)
	if err != nil {
		return nil, err
	}
	revs := slices.DeleteFunc(slices.Clone(all), func(rev *catalogue.Revision) bool {
		told := rev.Status == catalogue.Released || t.Reader == Workshop && rev == all[0]
		return !told || rev.Day() < t.From
	})
	for i := range revs {
		since := false
		if revs[i], since = revs[i].AsKnown(revs[0]); since {
			t.unread = append(t.unread, t.Say("releases.known since", "release", t.Label(revs[i], revs[i].Label())))
		}
	}
	return revs, nil
}

// before gives for each of some revisions, newest first, the next older one.
func before(revs []*catalogue.Revision) func(*catalogue.Revision) *catalogue.Revision {
	return func(rev *catalogue.Revision) *catalogue.Revision {
		i := slices.Index(revs, rev)
		for _, older := range revs[i+1:] {
			if older.Fault() == nil {
				return older
			}
		}
		return nil
	}
}

// add adds a chapter. One that cannot be read or worked out is told of in the
// workshop only.
func (t *tale) add(s *catalogue.Step) {
	name := t.Label(s.Revision, s.Label())
	if name == "" {
		name = t.Say("releases.prototype", "date", s.Day())
	}
	switch {
	case s.Fault() != nil:
		t.unread = append(t.unread, t.Say("releases.unread", "release", name, "why", catalogue.FirstFault(s.Fault()).Error()))
	case s.Unworkable != nil:
		t.unread = append(t.unread, t.Say("releases.unread", "release", name, "why", catalogue.FirstFault(s.Unworkable).Error()))
	default:
		t.chapters = append(t.chapters, &chapter{Step: s, name: name, between: between(s.Revision, s.Against)})
	}
}

// between lists the revisions that led from one to another, oldest first.
func between(to, from *catalogue.Revision) []*catalogue.Revision {
	var list []*catalogue.Revision
	for rev := to; rev != nil && (from == nil || rev.State != from.State); rev = rev.Before {
		list = append(list, rev)
	}
	slices.Reverse(list)
	return list
}

// nothing says why there is no story.
func (t *tale) nothing() error {
	switch {
	case t.From != "":
		return fmt.Errorf("%s: %w: it has no release since %s", t.model, catalogue.ErrNotFound, t.From)
	case t.Reader == Customer:
		return fmt.Errorf("%s: %w: it has no release that customers could read of; \"--for workshop\" tells of its prototypes", t.model, catalogue.ErrNotFound)
	}
	return fmt.Errorf("%s: %w: it has no saved revision that can be worked out", t.model, catalogue.ErrNotFound)
}

// compareEnds compares the last chapter with the first.
func (t *tale) compareEnds() error {
	if len(t.chapters) < 2 {
		return nil
	}
	step, err := t.source.Compare(t.ctx, t.first().Revision, t.last().Revision)
	if err != nil {
		return err
	}
	t.whole = &chapter{Step: step, name: t.last().name}
	return nil
}

func (t *tale) first() *chapter { return t.chapters[0] }

func (t *tale) last() *chapter { return t.chapters[len(t.chapters)-1] }

// spec is the rod as it is now.
func (t *tale) spec() *models.Spec { return t.last().Spec() }

// document puts the parts of the story together.
func (t *tale) document() (*document.Document, error) {
	d, err := t.sheet(t.Say("story.title", "model", t.spec().Name.Text), t.Say("story.footer"))
	if err != nil {
		return nil, err
	}
	for _, part := range []func() ([]document.Block, error){
		t.opening, t.abreast(t.bends, t.swing), t.abreast(t.flat, t.weight), t.rings, t.far, t.tops, t.releases, t.figures, t.cautions,
	} {
		blocks, err := part()
		if err != nil {
			return nil, err
		}
		d.Blocks = append(d.Blocks, blocks...)
	}
	d.Script = t.moving.script()
	return d, nil
}

// sheet is a document without its content.
func (t *tale) sheet(title, footer string) (*document.Document, error) {
	face, err := telling.Face(t.source, &t.set.Maker)
	return &document.Document{
		Title: title, Subtitle: t.subtitle(), Author: t.set.Maker.Text, Face: face,
		Language: t.Language(), Date: t.last().When, Paper: t.Paper, Footer: footer,
	}, err
}

// abreast puts two parts beside each other where there is room for them.
func (t *tale) abreast(first, second func() ([]document.Block, error)) func() ([]document.Block, error) {
	return func() ([]document.Block, error) {
		left, err := first()
		if err != nil {
			return nil, err
		}
		right, err := second()
		if err != nil || len(left) == 0 || len(right) == 0 {
			return append(left, right...), err
		}
		return []document.Block{document.Beside{Left: left, Right: right}}, nil
	}
}

// fold puts away what not everybody wants to read: on a screen behind a summary,
// and left out of the sheets that a customer takes along.
func (t *tale) fold(summary string, blocks ...document.Block) []document.Block {
	if len(blocks) == 0 {
		return nil
	}
	return []document.Block{document.Details{Summary: summary, Screen: t.Reader == Customer, Blocks: blocks}}
}

func (t *tale) subtitle() string {
	years := t.last().name
	if t.whole != nil {
		years = t.Say("story.years", "first", t.first().name, "last", years)
	}
	if t.Reader == Workshop {
		return t.Say("story.workshop subtitle", "maker", t.set.Maker.Text, "years", years)
	}
	return t.Say("story.subtitle", "maker", t.set.Maker.Text, "years", years)
}

// figure shows a picture, if there is one.
func (t *tale) figure(p *drawing.Picture, caption ...string) document.Block {
	return document.Figure{Picture: p, Caption: telling.Plain(sentences(caption))}
}

// beside puts two blocks beside each other where there is room for them.
func beside(left, right document.Block) document.Block {
	return document.Beside{Left: []document.Block{left}, Right: []document.Block{right}}
}

// heading is one of the text at path.
func (t *tale) heading(level int, path string, pairs ...string) document.Block {
	id := ""
	if level == 2 {
		id, _, _ = strings.Cut(path, ".")
	}
	return document.Heading{Level: level, Text: t.Say(path, pairs...), ID: id}
}
