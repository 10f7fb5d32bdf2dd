package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/evaluate"
)

func newFigures(p *program) *cobra.Command {
	var withErrors bool
	cmd := &cobra.Command{
		Use:   "figures MODEL[@REV] | SPEC.yaml",
		Short: "what a rod weighs, how it bends and recovers",
		Long: `Figures of one rod, worked out from the dimensions in its spec. The path of a
spec works outside a range too; parts.yaml, materials.yaml and range.yaml are
then taken from beside it or from the folder above.`,
		Example: `  rodlore figures skerry-10
  rodlore figures skerry-10@2024
  rodlore figures models/skerry-10.yaml --json`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRevisions,
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := p.find(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			figs, err := evaluate.Evaluate(s.Spec, s.set)
			if err != nil {
				return err
			}
			if p.json {
				return p.writeJSON(newFiguresJSON(s, figs))
			}
			p.showFigures(s, figs, withErrors)
			return nil
		},
	}
	cmd.Flags().BoolVar(&withErrors, "errors", false, "show the bound on the numerical error of each figure")
	return cmd
}

// figuresJSON is what figures prints.
type figuresJSON struct {
	schema
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
	Method   string       `json:"method"`
	Figures  []figureJSON `json:"figures"`
	Wants    []wantedJSON `json:"wants"`
	Notes    []string     `json:"notes"`
}

// wantedJSON is one of the limits that the spec sets itself; min and max are
// null where open, value is null where the rod has no such figure.
type wantedJSON struct {
	Figure string   `json:"figure"`
	Wanted string   `json:"wanted"`
	Min    *float64 `json:"min"`
	Max    *float64 `json:"max"`
	Value  *float64 `json:"value"`
	Met    bool     `json:"met"`
}

func newWantedJSON(w evaluate.Wanted) wantedJSON {
	doc := wantedJSON{Figure: w.Figure, Wanted: w.Text, Min: numberOrNull(w.Min), Max: numberOrNull(w.Max), Met: w.Met}
	if w.Known {
		doc.Value = &w.Value
	}
	return doc
}

// figureJSON is one figure, SI.
type figureJSON struct {
	Key   string  `json:"key"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Error float64 `json:"error"`
	// Tolerance is one standard deviation of the rods built to the spec; null
	// where it was not worked out.
	Tolerance *float64 `json:"tolerance"`
	Text      string   `json:"text"`
}

func newFigureJSON(figs *evaluate.Figures, f evaluate.Figure) figureJSON {
	doc := figureJSON{Key: f.Key, Value: f.Value, Unit: f.Unit, Error: f.Error, Text: f.Text}
	if figs.Tolerances != nil {
		doc.Tolerance = numberOrNull(f.Tolerance)
	}
	return doc
}

func newFiguresJSON(s subject, figs *evaluate.Figures) figuresJSON {
	doc := figuresJSON{
		schema: schema1, Model: s.Model, Revision: revisionOf(s.Revision),
		Method: figs.Method, Figures: []figureJSON{}, Wants: []wantedJSON{}, Notes: listOf(figs.Notes),
	}
	for _, w := range evaluate.Wants(s.Spec, figs) {
		doc.Wants = append(doc.Wants, newWantedJSON(w))
	}
	for _, f := range figs.List {
		doc.Figures = append(doc.Figures, newFigureJSON(figs, f))
	}
	return doc
}

func (p *program) showFigures(s subject, figs *evaluate.Figures, withErrors bool) {
	p.println(p.paint(bold, title(s.Revision)))
	p.println()
	d := s.display()
	t := table{columns: []column{{head: ""}, {right: true}, {right: true}, {wraps: true}}}
	if withErrors {
		t.columns = []column{{head: "figure"}, {head: "value", right: true}, {head: "error", right: true}, {head: "what it says", wraps: true}}
	}
	for i, f := range figs.List {
		if i == len(mainFigures) {
			t.rows = append(t.rows, nil)
		}
		bound := ""
		if withErrors {
			bound = "exact"
			if f.Error > 0 {
				bound = fmt.Sprintf("±%.1g %s", f.Error, f.Unit)
			}
		}
		t.add(evaluate.Short(f.Key)+marks(f.Key, figs.Notes), d.Value(f.Key, f.Unit, f.Value), bound, f.Text)
	}
	p.print("", t)
	p.showWants(s, figs)
	p.footnotes(figs.Notes)
}

// showWants holds the limits that the spec sets itself against the figures.
func (p *program) showWants(s subject, figs *evaluate.Figures) {
	wanted := evaluate.Wants(s.Spec, figs)
	if len(wanted) == 0 {
		return
	}
	p.println()
	p.println("wanted:")
	for _, w := range wanted {
		p.indented("  ", wrap(w.Tell(s.display()), p.width()-2))
	}
}

// A note about one figure begins with the figure's key.

// marks gives the numbers of the notes about a figure.
func marks(key string, notes []string) string {
	var m string
	for i, n := range notes {
		if strings.HasPrefix(n, key+": ") {
			m += " " + mark(i)
		}
	}
	return m
}

// mark is the sign of note i.
func mark(i int) string { return fmt.Sprintf("[%d]", i+1) }

// footnotes lists the notes under what they belong to.
func (p *program) footnotes(notes []string) {
	if len(notes) == 0 {
		return
	}
	p.println()
	t := table{columns: []column{{}, {wraps: true}}}
	for i, n := range notes {
		t.add(mark(i), n)
	}
	p.print("", t)
}
