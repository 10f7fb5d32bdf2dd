package main

import (
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"rodlore/evaluate"
	"rodlore/evaluate/beam"
	"rodlore/models"
)

func newBend(p *program) *cobra.Command {
	var load, direction string
	var noWeight bool
	cmd := &cobra.Command{
		Use:   "bend MODEL[@REV] --load LOAD",
		Short: "the shape of a rod under a load",
		Long: `The curve of the free length of a rod under a load at the tip ring, butt level.
Forward is measured along the butt from the front of the hold, down square to
it. A mass as load is what is hung; the direction is that between the butt and
the pull: at 90 deg the load hangs, at more the pull comes back to the butt.`,
		Example: `  rodlore bend skerry-10 --load 200g
  rodlore bend skerry-10@2024 --load 5N --direction 120deg
  rodlore bend skerry-10 --load "1 1/2 lb" --no-weight --json`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRevisions,
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := bendCase(load, direction, !noWeight)
			if err != nil {
				return err
			}
			s, err := p.find(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			return p.bend(s, c)
		},
	}
	cmd.Flags().StringVar(&load, "load", "", "the `load`: 5N, or what is hung: 200g, \"1 1/2 lb\", 6oz")
	cmd.Flags().StringVar(&direction, "direction", "90deg", "the `angle` between the butt and the pull")
	cmd.Flags().BoolVar(&noWeight, "no-weight", false, "leave the rod's own weight out")
	return cmd
}

// bendCase reads the options.
func bendCase(load, direction string, weight bool) (c evaluate.BendCase, err error) {
	if load == "" {
		return c, misuse("bend wants a load, such as --load 200g")
	}
	force, err := models.ParseForce(load)
	if err != nil {
		return c, misuse("--load: %w", err)
	}
	angle, err := models.ParseAngle(direction)
	if err != nil {
		return c, misuse("--direction: %w", err)
	}
	switch {
	case force < 0:
		return c, misuse("--load: %q is below zero; turn the pull with --direction instead", load)
	case angle < 0 || angle > math.Pi:
		return c, misuse("--direction: %q is not between 0 and 180 deg", direction)
	}
	return evaluate.BendCase{Force: float64(force), Direction: float64(angle), Weight: weight}, nil
}

// bend works the shape out and prints it. A load for which there is none is a
// no, with the reason as its status.
func (p *program) bend(s subject, c evaluate.BendCase) error {
	bent, err := evaluate.Bend(s.Spec, s.set, c)
	var failure *beam.Failure
	switch {
	case err == nil && p.json:
		return p.writeJSON(newBendJSON(s, c, bent))
	case err == nil:
		p.showBend(s, c, bent)
		return nil
	case p.json && errors.As(err, &failure):
		doc := newBendJSON(s, c, &evaluate.Bent{Status: failure.Error()})
		return errors.Join(p.writeJSON(doc), errNo)
	}
	return err
}

// bendJSON is what bend prints, SI.
type bendJSON struct {
	schema
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
	Load     loadJSON     `json:"load"`
	Points   []pointJSON  `json:"points"` // tip first; none where there is no shape
	Tip      *tipJSON     `json:"tip"`
	Error    *float64     `json:"error"` // bound on the numerical error of the tip's place
	Status   string       `json:"status"`
}

type loadJSON struct {
	Force     float64 `json:"force"`
	Direction float64 `json:"direction"`
	Weight    bool    `json:"weight"`
}

type pointJSON struct {
	S         float64 `json:"s"`
	X         float64 `json:"x"`
	Y         float64 `json:"y"`
	Turn      float64 `json:"turn"`
	Curvature float64 `json:"curvature"`
}

type tipJSON struct {
	X    float64 `json:"x"`
	Y    float64 `json:"y"`
	Turn float64 `json:"turn"`
}

func newBendJSON(s subject, c evaluate.BendCase, b *evaluate.Bent) bendJSON {
	doc := bendJSON{
		schema: schema1, Model: s.Model, Revision: revisionOf(s.Revision),
		Load: loadJSON(c), Points: []pointJSON{}, Status: b.Status,
	}
	for _, pt := range b.Points {
		doc.Points = append(doc.Points, pointJSON(pt))
	}
	if len(b.Points) > 0 {
		doc.Tip = &tipJSON{b.Tip.X, b.Tip.Y, b.Tip.Turn}
		doc.Error = &b.Error
	}
	return doc
}

const bendCaution = "Caution: this is more than the estimated load limit, %s. That limit serves " +
	"to compare revisions and is no safe load. Never load a rod to its limit by hand; wear eye " +
	"protection, keep people clear of rod and line. The rod maker's word and the rules of your " +
	"workshop and country come first."

func (p *program) showBend(s subject, c evaluate.BendCase, b *evaluate.Bent) {
	d := s.display()
	lengths := short(d, "")
	p.println(p.paint(bold, title(s.Revision)))
	p.println(loadWords(d, c))
	p.println()
	t := table{columns: []column{
		{head: "from tip", right: true}, {head: "forward", right: true}, {head: "down", right: true}, {head: "turn", right: true}, {},
	}}
	const rows = 10
	last := len(b.Points) - 1
	for i := range rows + 1 {
		pt := b.Points[i*last/rows]
		note := ""
		switch i {
		case 0:
			note = "the tip"
		case rows:
			note = "the front of the hold"
		}
		t.add(lengths.Value("", "m", pt.S), lengths.Value("", "m", pt.X), lengths.Value("", "m", pt.Y), d.Value("", "rad", pt.Turn), note)
	}
	p.print("", t)
	p.warnOfLimit(s, c)
}

// loadWords says what bends the rod.
func loadWords(d evaluate.Display, c evaluate.BendCase) string {
	how, weight := "hung from", "with"
	if c.Direction != math.Pi/2 {
		how = "pulling, " + d.Value("", "rad", c.Direction) + " to the butt, at"
	}
	if !c.Weight {
		weight = "without"
	}
	return fmt.Sprintf("%s %s the tip ring, %s the rod's own weight", d.Value("", "N", c.Force), how, weight)
}

// warnOfLimit warns of a load beyond the estimate of the load limit.
func (p *program) warnOfLimit(s subject, c evaluate.BendCase) {
	figs, err := evaluate.Evaluate(s.Spec, s.set)
	if err != nil {
		return
	}
	limit, ok := figs.Get("load-limit")
	if ok && c.Force > limit.Value {
		p.println()
		caution := fmt.Sprintf(bendCaution, s.display().Value(limit.Key, limit.Unit, limit.Value))
		p.indented("", wrap(caution, p.width()))
	}
}
