package story

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// The file that links to all others, and the one that says how all look.
const (
	frontPage  = "index.html"
	styleSheet = "style.css"
)

// Site makes the pages of a range, by the names of their files: a front page and a
// story of every model that was released. They link to each other and to nothing
// else. Models that have nothing to tell are left out; where all are, that is an error.
func Site(ctx context.Context, r *catalogue.Range, o Options) (map[string][]byte, error) {
	models, err := r.Models()
	if err != nil {
		return nil, err
	}
	s := site{pages: map[string][]byte{}}
	for _, model := range models {
		t, err := gather(ctx, r, model, o)
		switch {
		case errors.Is(err, catalogue.ErrNotFound):
			continue
		case err != nil:
			return nil, err
		}
		if err := s.model(t); err != nil {
			return nil, err
		}
	}
	catalogue.ByFamily(s.tales, func(t *tale) string { return t.spec().Family.Text }, func(t *tale) string { return t.model })
	if len(s.tales) == 0 {
		return nil, catalogue.Advise(catalogue.ReleaseAny, nil, "no model has anything to tell: %w", catalogue.ErrNotFound)
	}
	if err := s.front(); err != nil {
		return nil, err
	}
	return s.pages, ctx.Err() // what was being worked out may be missing from them
}

// site is a folder of pages in the making.
type site struct {
	pages map[string][]byte
	tales []*tale
}

// model adds the page of one model.
func (s *site) model(t *tale) error {
	t.page = s.name(t.model)
	s.tales = append(s.tales, t)
	d, err := t.document()
	if err != nil {
		return err
	}
	d.Blocks = slices.Insert(d.Blocks, 0, document.Block(document.Paragraph{{Text: t.Say("site.all rods"), Link: frontPage}}))
	return s.write(t.page, d)
}

// name is a name for a file that no other page has, also where capitals are all
// the same.
func (s *site) name(from string) string {
	from = strings.ReplaceAll(from, " ", "-")
	taken := func(name string) bool {
		return slices.ContainsFunc(slices.Collect(maps.Keys(s.pages)), func(other string) bool { return strings.EqualFold(name, other) })
	}
	name := from + ".html"
	for n := 2; name == frontPage || taken(name); n++ {
		name = fmt.Sprintf("%s-%d.html", from, n)
	}
	s.pages[name] = nil // is written later
	return name
}

func (s *site) write(name string, d *document.Document) error {
	var page bytes.Buffer
	d.Style = styleSheet
	s.pages[styleSheet] = []byte(d.CSS())
	err := d.HTML(&page)
	s.pages[name] = page.Bytes()
	return err
}

// link is where a page is, as seen from the others.
func link(page string) string { return url.PathEscape(page) }

// front writes the front page.
func (s *site) front() error {
	t := s.tales[0]
	d, err := t.sheet(t.Say("site.title", "maker", t.set.Maker.Text), t.Say("story.footer"))
	if err != nil {
		return err
	}
	d.Subtitle = t.Say("site.subtitle")
	table := document.Table{Caption: t.Say("site.caption"), Columns: append(t.Columns("site", "model", "release"), t.OfFigures(overReleases)...)}
	values := t.Values(say.Each(s.tales, func(t *tale) *evaluate.Figures { return t.last().Figures }), overReleases)
	for i, t := range s.tales {
		name := t.spec().Name.Text
		if family := t.spec().Family.Text; family != "" {
			name = t.Say("site.of family", "model", name, "family", family)
		}
		row := []document.Text{{{Text: name, Link: link(t.page)}}, telling.Plain(t.last().name)}
		for _, value := range values[i] {
			row = append(row, telling.Plain(value))
		}
		table.Rows = append(table.Rows, row)
	}
	rods := say.Each(s.tales, func(t *tale) pages.Labelled { return pages.Labelled{Label: t.spec().Name.Text, Spec: t.spec()} })
	rack, err := t.pen.Rack(rods)
	if err != nil {
		return err
	}
	d.Blocks = []document.Block{t.figure(rack), table}
	var about document.Terms
	for _, t := range s.tales {
		text := append(telling.Plain(t.about(t.spec())+" "), document.Span{Text: t.Say("site.read", "model", t.spec().Name.Text), Link: link(t.page)})
		about = append(about, document.Term{Word: t.spec().Name.Text, Text: text})
	}
	d.Blocks = append(d.Blocks, about)
	return s.write(frontPage, d)
}
