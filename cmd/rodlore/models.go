package main

import (
	"context"
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

func newModels(p *program) *cobra.Command {
	return &cobra.Command{
		Use:     "models",
		Short:   "the models of the range as they stand",
		Long:    "The models of the range as they stand now, with the figures a maker looks at\nfirst.",
		Example: "  rodlore models",
		Args:    wants(0, 0, "no arguments"),
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, _ []string) error {
			list, err := listModels(ctx, r)
			if err != nil {
				return err
			}
			if p.json {
				return p.writeJSON(modelsOf(english(r), list))
			}
			return p.showModels(r, list)
		}),
	}
}

// standingModel is a model as it stands, with its figures or why it has none.
type standingModel struct {
	*catalogue.Revision
	released *catalogue.Revision // what is on sale; nil if it never was
	figures  *evaluate.Figures
	err      error
	gone     bool // its file is, though it is saved
}

func listModels(ctx context.Context, r *catalogue.Range) ([]standingModel, error) {
	names, err := r.Models()
	if err != nil {
		return nil, err
	}
	if err := r.Follow(ctx, names...); err != nil {
		return nil, err
	}
	revs := make([]*catalogue.Revision, len(names))
	for i, name := range names {
		if revs[i], err = r.Draft(name); err != nil {
			return nil, err
		}
	}
	if err := r.EvaluateAll(ctx, revs); err != nil {
		return nil, err
	}
	list := make([]standingModel, len(revs))
	for i, rev := range revs {
		list[i] = standingModel{Revision: rev, released: rev.LastRelease()}
		list[i].figures, list[i].err = r.Figures(rev)
	}
	gone, err := r.Gone(ctx)
	if err != nil {
		return nil, err
	}
	for _, name := range gone {
		rev, err := r.Find(name, "saved")
		if err != nil {
			return nil, err
		}
		list = append(list, standingModel{Revision: rev, released: rev.LastRelease(), err: errors.New(goneFile(name)), gone: true})
	}
	slices.SortFunc(list, func(a, b standingModel) int { return strings.Compare(a.Model, b.Model) })
	catalogue.ByFamily(list, func(m standingModel) string { return m.Family() }, func(m standingModel) string { return m.Model })
	return list, nil
}

// modelsOf is what models prints.
func modelsOf(t say.Teller, list []standingModel) object {
	return object{{"models", say.Each(list, func(m standingModel) object {
		var name, released string // the label of what is on sale
		var tops []string         // besides the main one
		var figs []object
		if m.Spec() != nil {
			name, tops = m.Spec().Name.Text, m.Spec().TopNames()
		}
		if m.released != nil {
			released = m.released.Label()
		}
		if m.err == nil {
			figs = figuresOf(t, m.figures)
		}
		return object{
			{"model", m.Model}, {"name", orNull(name)}, {"revision", revisionOf(m.Revision)}, {"released", orNull(released)}, {"fault", m.err},
			{"family", orNull(m.Family())}, {"tops", tops}, {"figures", figs},
		}
	})}}
}

func (p *printer) showModels(r *catalogue.Range, list []standingModel) error {
	if len(list) == 0 {
		p.println("the range has no models yet; \"rodlore add MODEL\" puts one in")
		return nil
	}
	set, err := r.Settings()
	if err != nil {
		return err
	}
	d := set.Display()
	shown := figures.Keys(figures.Overview)
	t := newTable(append([]column{words("model"), filling("name"), words("stands as")}, ofFigures(shown)...)...)
	for _, m := range list {
		t.add(m.row(d, shown)...)
	}
	p.print("", t)
	for _, m := range list {
		if m.gone {
			p.indented("", wrap(m.Model+": "+m.err.Error(), p.width()))
		}
	}
	p.showKin(list)
	return nil
}

// showKin lists the families and the rods with other tops.
func (p *printer) showKin(list []standingModel) {
	var families, tops []string
	members := map[string][]string{}
	for _, m := range list {
		if family := m.Family(); family != "" {
			if members[family] == nil {
				families = append(families, family)
			}
			members[family] = append(members[family], m.Model)
		}
		for _, top := range m.Tops() {
			tops = append(tops, m.Model+"+"+top.Top)
		}
	}
	for _, family := range families {
		p.indented("", wrap("family "+family+": "+strings.Join(members[family], ", "), p.width()))
	}
	if len(tops) > 0 {
		p.indented("", wrap("other tops: "+strings.Join(tops, ", "), p.width()))
	}
}

func (m standingModel) row(d figures.Display, keys []string) []string {
	name := ""
	if m.Spec() != nil {
		name = m.Spec().Name.Text
	}
	return append([]string{m.Model, name, m.stands()}, valuesOf(d, m.figures, keys, "")...)
}

// stands says how far the model has come: "2026", "draft after 2026".
func (m standingModel) stands() string {
	state := string(m.Status)
	switch {
	case m.gone:
		return "file is gone"
	case m.Fault() != nil:
		return "faults; see check"
	case m.err != nil:
		return "no figures"
	case m.Status == catalogue.Released:
		return say.English().Label(m.Revision, m.Label())
	case m.Again != "":
		return m.Again + " again"
	case m.released != nil:
		state += " after " + m.released.Label()
	}
	return state
}
