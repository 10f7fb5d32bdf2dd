package main

import (
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models/spelling"
)

func newFigures(p *program) *cobra.Command {
	var o figuresOptions
	cmd := &cobra.Command{
		Use:   "figures MODEL[@REV] | SPEC.yaml",
		Short: "what a rod weighs, how it bends and recovers",
		Long: `Figures of one rod, worked out from the dimensions in its spec: those that say
most of it, or --all. Beside each stands how much rods built to the spec
vary: one standard deviation, from the tolerances in range.yaml and the spec.
The path of a spec works outside a range too; parts.yaml, materials.yaml and
range.yaml are then taken from beside it or from the folder above.`,
		Example: `  rodlore figures skerry-10
  rodlore figures skerry-10@2024 --explain
  rodlore figures skerry-10 --all
  rodlore figures skerry-10 --sources third-load
  rodlore figures models/skerry-10.yaml --json`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRods,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, figs, measured, err := p.findFigures(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			if err := o.check(figs); err != nil {
				return err
			}
			return p.show(func() object { return allOf(s, figs, measured, o.sources) }, func() {
				if o.sources != "" {
					p.showSources(s, figs, o.sources)
				} else {
					p.showFigures(s, figs, measured, o)
				}
			})
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show every figure")
	cmd.Flags().BoolVar(&o.explain, "explain", false, "say what each figure means")
	cmd.Flags().BoolVar(&o.errors, "errors", false, "show the bound on the numerical error of each figure")
	cmd.Flags().StringVar(&o.sources, "sources", "", "show what makes the tolerance of this `figure` wide, the widest first")
	return cmd
}

// figuresOptions say what of the figures is shown.
type figuresOptions struct {
	all     bool
	explain bool
	errors  bool
	sources string // the key of the one figure whose sources are wanted
}

// check refuses sources of a figure that the rod does not have.
func (o figuresOptions) check(figs *evaluate.Figures) error {
	if o.sources == "" {
		return nil
	}
	if _, ok := figs.Get(o.sources); ok {
		return nil
	}
	keys := say.Each(figs.List, func(f evaluate.Figure) string { return f.Key })
	return misuseOf("sources", "the rod has no figure %q%s", o.sources, spelling.DidYouMean(o.sources, keys))
}

// findFigures gives the rod that an argument names and its figures, with
// tolerances and what was measured of them.
func (p *program) findFigures(ctx context.Context, arg string) (s subject, figs *evaluate.Figures, m *catalogue.Measurements, err error) {
	if isPath(arg) {
		m = &catalogue.Measurements{}
		if s, err = readSpec(p.at(arg)); err == nil {
			figs, err = evaluate.New(s.Spec(), s.set).FiguresWithTolerances(ctx)
		}
		return s, figs, m, err
	}
	err = p.look(ctx, func(r *catalogue.Range) error {
		if s.Revision, err = r.FindRod(arg); err != nil {
			return err
		}
		if s.set, err = r.Settings(); err != nil {
			return err
		}
		if figs, err = r.FiguresWithTolerances(ctx, s.Revision); err != nil {
			return err
		}
		m, err = r.MeasuredOn(ctx, s.Revision)
		return err
	})
	return s, figs, m, err
}

// allOf is what figures prints, with the sources of one where they were asked for.
func allOf(s subject, figs *evaluate.Figures, m *catalogue.Measurements, sources string) object {
	t := s.teller()
	doc := object{
		{"model", s.Model}, {"revision", revisionOf(s.Revision)}, {"method", figs.Method},
		{"figures", say.Each(figs.List, func(f evaluate.Figure) object { return measuredFigure(t, figs, m, f) })},
		{"wants", say.Each(evaluate.Wants(s.Spec(), figs), wantedOf)}, {"notes", figureNotes(t, figs, m)},
	}
	if sources != "" {
		doc = append(doc, pair{"sources", sourcesOf(t, figs, sources)})
	}
	if blank := blankOf(s); blank != nil {
		doc = append(doc, pair{"blank", blank})
	}
	return doc
}

// wantedOf is one of the limits that the spec sets itself; min and max are null where
// open, value is null where the rod has no such figure.
func wantedOf(w evaluate.Wanted) object {
	var value any
	if w.Known {
		value = w.Value
	}
	return object{{"figure", w.Figure}, {"wanted", w.Text}, {"min", w.Min}, {"max", w.Max}, {"value", value}, {"met", w.Met}}
}

// weakestOf is what fails first at a load limit: "material", "flattening" or
// "wrinkling", and where, m from the tip.
func weakestOf(w evaluate.Weakest) object { return object{{"by", w.By}, {"at", w.At}} }

// figureOf is one figure, SI.
func figureOf(t say.Teller, figs *evaluate.Figures, f evaluate.Figure) object {
	var tolerance any // one standard deviation of the rods built to the spec; null where it was not worked out
	if figs.Tolerances != nil {
		tolerance = f.Tolerance
	}
	doc := object{{"key", f.Key}, {"value", f.Value}, {"unit", f.Unit}, {"error", f.Error}, {"tolerance", tolerance}}
	if unknown, scatter := figs.Apart(f); unknown > 0 { // of the blank, the same in all rods on it, and from rod to rod
		doc = append(doc, pair{"apart", object{{"unknown", unknown}, {"scatter", scatter}}})
	}
	doc = append(doc, pair{"text", t.Figure(f)})
	if f.Weakest.By != "" {
		doc = append(doc, pair{"weakest", weakestOf(f.Weakest)})
	}
	return doc
}

func figuresOf(t say.Teller, figs *evaluate.Figures) []object {
	return say.Each(figs.List, func(f evaluate.Figure) object { return figureOf(t, figs, f) })
}

// measuredFigure is one figure with what was measured of it on rods of this revision.
func measuredFigure(t say.Teller, figs *evaluate.Figures, m *catalogue.Measurements, f evaluate.Figure) object {
	measured := say.Each(m.Of(f.Key), func(one catalogue.Measurement) object { return measuredOf(f, one) })
	return append(figureOf(t, figs, f), pair{"measured", measured})
}

func (p *printer) showFigures(s subject, figs *evaluate.Figures, m *catalogue.Measurements, o figuresOptions) {
	p.println(p.paint(bold, title(s.Revision)))
	p.println()
	shown := slices.DeleteFunc(slices.Clone(figs.List), func(f evaluate.Figure) bool { return o.leavesOut(f.Key) })
	d, notes := s.display(), &footnotes{list: slices.DeleteFunc(figureNotes(s.teller(), figs, m), func(n footnote) bool {
		return n.figure != "" && o.leavesOut(n.figure)
	})}
	t := newTable(words(""), numbers(""), numbers(""), filling(""))
	if o.errors {
		t.columns = []column{{head: "figure"}, {head: "value", right: true}, {head: "error", right: true}, {head: "what it says", wraps: true}}
	}
	apart := !o.errors && !o.explain && slices.ContainsFunc(shown, func(f evaluate.Figure) bool { unknown, _ := figs.Apart(f); return unknown > 0 })
	if apart {
		t.columns = []column{{head: ""}, {head: "all in all", right: true}, {head: "not known", right: true}, {head: "rod to rod", right: true}, {wraps: true}}
	}
	for i, f := range shown {
		if i > 0 && isMain(shown[i-1].Key) && !isMain(f.Key) {
			t.rows = append(t.rows, nil)
		}
		var bound, text string
		if o.errors {
			bound = "exact"
			if f.Error > 0 {
				bound = fmt.Sprintf("±%.1g %s", f.Error, f.Unit)
			}
		}
		if text = s.teller().Weakest(f.Weakest); o.explain {
			text = s.teller().Figure(f)
		}
		cells := []string{figures.Short(f.Key) + notes.marks(f.Key), d.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance), bound, text}
		if apart {
			unknown, scatter := figs.Apart(f)
			cells = slices.Replace(cells, 2, 3, deviation(d, f, unknown), deviation(d, f, scatter))
		}
		t.add(cells...)
	}
	p.print("", t)
	if apart {
		p.paragraph("Not known: of this blank, the same in all rods on it until it is measured. Two rods of one blank share it, so a change from one to the other is known far better: see compare.")
	}
	if more := len(figs.List) - len(shown); more > 0 {
		p.paragraph("%s", count(more, "more figure")+" with --all; --explain says what they mean")
	}
	p.showWants(s, figs)
	p.showMeasured(s, figs, m)
	p.showBlank(s)
	p.showFootnotes(notes)
}

// deviation writes a part of a figure's tolerance; "" where there is none.
func deviation(d figures.Display, f evaluate.Figure, by float64) string {
	if !(by > 0) {
		return ""
	}
	return "± " + d.Single(f.Key).Deviation(f.Key, f.Unit, by, by)
}

// leavesOut reports whether a figure is not one of those that are wanted.
func (o figuresOptions) leavesOut(key string) bool {
	return !o.all && figures.Of(key).In&figures.First == 0
}

// showWants holds the limits that the spec sets itself against the figures.
func (p *printer) showWants(s subject, figs *evaluate.Figures) {
	wanted := evaluate.Wants(s.Spec(), figs)
	if len(wanted) == 0 {
		return
	}
	p.println()
	p.println("wanted:")
	for _, w := range wanted {
		p.wrapped("  ", s.teller().Wanted(w))
	}
}

// figureNotes are those of the figures and what could not be read of
// measurements.
func figureNotes(t say.Teller, figs *evaluate.Figures, m *catalogue.Measurements) []footnote {
	return slices.Concat(notesOn(t, figs.Notes), notesOf(told(t, m.Unread)))
}

// measuredOf is one measurement of a figure. deviation is how many standard deviations,
// of the reading and of the figure's tolerance together, it lies off the figure.
func measuredOf(f evaluate.Figure, m catalogue.Measurement) object {
	return object{
		{"value", m.Value}, {"uncertainty", m.Deviation}, {"rod", say.English().RodName(m.Rod)}, {"date", m.Date},
		{"deviation", f.Deviations(m.Value, m.Deviation)},
	}
}

// showMeasured holds what was measured against the figures, which have their
// tolerances.
func (p *printer) showMeasured(s subject, figs *evaluate.Figures, m *catalogue.Measurements) {
	if len(m.List) == 0 {
		return
	}
	t := telling.Teller{Teller: s.teller()}
	table := textTable(t.Measured(figs, m))
	table.columns[len(table.columns)-1].head = "" // it goes without saying
	p.println()
	p.print("", table)
	p.println(t.Say("review.measured.how"))
}
