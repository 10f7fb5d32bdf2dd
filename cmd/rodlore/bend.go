package main

import (
	"context"
	"errors"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"rodlore/evaluate"
	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

func newBend(p *program) *cobra.Command {
	var o bendOptions
	var c evaluate.BendCase
	cmd := &cobra.Command{
		Use:   "bend MODEL[@REV] --load LOAD | --through-rings --tension LOAD",
		Short: "the shape of a rod under a load",
		Long: `The curve of the free length of a rod under a load at the tip ring, butt level.
Forward is measured along the butt from the front of the hold, down square to
it. A mass as load is what is hung; the direction is that between the butt and
the pull: at 90 deg the load hangs, at more the pull comes back to the butt.

With --through-rings the line runs through the rings to the reel, and what it
does to each ring is listed. Rings of a rod with the reel on top stand outside
the bend, where the line may come to lie on the blank.`,
		Example: `  rodlore bend skerry-10 --load 200g
  rodlore bend skerry-10@2024 --load 5N --direction 120deg
  rodlore bend skerry-10 --load "1 1/2 lb" --no-weight --json
  rodlore bend skerry-10 --through-rings --tension 5N`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRods,
		PreRunE:           func(*cobra.Command, []string) (err error) { c, err = o.bendCase(); return err },
		RunE:              p.ofRod(func(_ context.Context, s subject) error { return p.bend(s, c) }),
	}
	cmd.Flags().StringVar(&o.load, "load", "", "the `load`: 5N, or what is hung: 200g, \"1 1/2 lb\", 6oz")
	cmd.Flags().StringVar(&o.direction, "direction", "90deg", "the `angle` between the butt and the pull")
	cmd.Flags().BoolVar(&o.noWeight, "no-weight", false, "leave the rod's own weight out")
	cmd.Flags().BoolVar(&o.throughRings, "through-rings", false, "pull by the line through the rings")
	cmd.Flags().StringVar(&o.tension, "tension", "", "the line's `load` beyond the tip ring, with --through-rings")
	cmd.Flags().Float64Var(&o.friction, "friction", 0, "`coefficient` of friction in the rings, with --through-rings; below 0 where the line runs out")
	return cmd
}

// bendOptions are the options of bend as typed.
type bendOptions struct {
	load, tension, direction string
	noWeight, throughRings   bool
	friction                 float64
}

// bendCase reads the options.
func (o bendOptions) bendCase() (c evaluate.BendCase, err error) {
	option, load := "load", o.load
	if o.tension != "" {
		option, load = "tension", o.tension
	}
	switch {
	case load == "":
		return c, misuse("bend wants a load, such as --load 200g, or --through-rings --tension 5N")
	case o.load != "" && o.tension != "":
		return c, misuse("--load and --tension are one thing said twice; give one of them")
	case !o.throughRings && (o.tension != "" || o.friction != 0):
		return c, misuse("--tension and --friction are the line's; put --through-rings to them")
	}
	force, err := quantity[units.Force](option, load)
	if err != nil {
		return c, err
	}
	angle, err := quantity[units.Angle]("direction", o.direction)
	switch {
	case err != nil:
		return c, err
	case force < 0:
		return c, misuseOf(option, "%q is below zero; turn the pull with --direction instead", load)
	case angle < 0 || angle > math.Pi:
		return c, misuseOf("direction", "%q is not between 0 and 180 deg", o.direction)
	case !(math.Abs(o.friction) <= 1):
		return c, misuseOf("friction", "%g is not between -1 and 1; line on a ceramic ring has about 0.05 to 0.2", o.friction)
	}
	return evaluate.BendCase{
		Force: force, Direction: angle, Weight: !o.noWeight,
		ThroughRings: o.throughRings, Friction: o.friction,
	}, nil
}

// bend works the shape out and prints it. A load for which there is none is a
// no, with the reason as its status.
func (p *program) bend(s subject, c evaluate.BendCase) error {
	rod := evaluate.New(s.Spec(), s.set)
	bent, err := rod.Bend(c)
	var failure *beam.Failure
	switch {
	case err == nil && p.json:
		return p.writeJSON(bentOf(s, c, bent, "converged"))
	case err == nil:
		p.showBend(s, c, bent)
		p.warnOfLimit(s, rod, c)
		return nil
	case p.json && errors.As(err, &failure):
		none := &evaluate.Bent{Error: math.NaN(), Flattened: math.NaN()}
		return errors.Join(p.writeJSON(bentOf(s, c, none, failure.Error())), errNo)
	}
	return err
}

// bentOf is what bend prints, SI.
func bentOf(s subject, c evaluate.BendCase, b *evaluate.Bent, status string) object {
	var tip object // null where there is no shape, and so are error and flattened
	if len(b.Points) > 0 {
		tip = object{{"x", b.Tip.X}, {"y", b.Tip.Y}, {"turn", b.Tip.Turn}}
	}
	doc := object{
		{"model", s.Model}, {"revision", revisionOf(s.Revision)}, {"load", c},
		{"points", b.Points}, // tip first
		{"tip", tip},
		{"error", b.Error},         // bound on the numerical error of the tip's place
		{"flattened", b.Flattened}, // about how much further the tip would go because bent tubes flatten
		{"status", status},
	}
	if l := b.Line; l != nil {
		doc = append(doc, object{{"rings", l.Rings}, {"line-gap", l.Gap}, {"line-touch", l.Touch}}...) // tip ring first
	}
	return doc
}

const bendCaution = "Caution: this is more than the estimated load limit, %s, %s. That limit serves " +
	"to compare revisions and is no safe load. Never load a rod to its limit by hand; wear eye " +
	"protection, keep people clear of rod and line. The rod maker's word and the rules of your " +
	"workshop and country come first."

func (p *printer) showBend(s subject, c evaluate.BendCase, b *evaluate.Bent) {
	d := s.display()
	lengths := d.Single("")
	p.println(p.paint(bold, title(s.Revision)))
	p.println(loadWords(d, c))
	p.println()
	t := newTable(numbers("from tip"), numbers("forward"), numbers("down"), numbers("turn"), words(""))
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
	const told = 1e-3 // m; less is within what a tape tells
	const most = 0.05 // of the free length; beyond it tubes are near to folding
	switch {
	case b.Flattened > most*b.Points[last].S:
		p.paragraph("Bent so far, thin tubes flatten until they fold, which is left out: the rod would hardly stand this.")
	case b.Flattened >= told:
		p.paragraph("Thin tubes flatten a little when they are bent, which is left out: the tip would go about %s further.",
			lengths.Value("", "m", b.Flattened))
	}
	if b.Line != nil {
		p.showBendLine(d, b.Line)
	}
}

// showBendLine prints what the line does to the rings.
func (p *printer) showBendLine(d figures.Display, l *evaluate.BentLine) {
	lengths := d.Single("")
	p.println()
	t := newTable(numbers("ring"), numbers("load"), numbers("line turns"), words(""))
	for i, g := range l.Rings {
		note := ""
		if i == 0 {
			note = "the tip ring"
		}
		t.add(lengths.Value("", "m", g.At), d.Value("", "N", g.Load), d.Value("", "rad", g.Turn), note)
	}
	p.print("", t)
	p.println()
	p.println(fmt.Sprintf("The line stands at most %s off the blank and lies on it over %s.",
		lengths.Value("", "m", l.Gap), lengths.Value("", "m", l.Touch)))
}

// loadWords says what bends the rod.
func loadWords(d figures.Display, c evaluate.BendCase) string {
	how, weight := "hung from", "with"
	if c.Direction != math.Pi/2 {
		how = "pulling, " + d.Value("", "rad", c.Direction) + " to the butt, at"
	}
	if !c.Weight {
		weight = "without"
	}
	if c.ThroughRings {
		return fmt.Sprintf("%s of tension in the line through the rings, %s to the butt,\n%s the rod's own weight",
			d.Value("", "N", c.Force), d.Value("", "rad", c.Direction), weight)
	}
	return fmt.Sprintf("%s %s the tip, %s the rod's own weight", d.Value("", "N", c.Force), how, weight)
}

// warnOfLimit warns of a load beyond the estimate of the load limit.
func (p *printer) warnOfLimit(s subject, rod *evaluate.Rod, c evaluate.BendCase) {
	figs, err := rod.Figures()
	if err != nil {
		return
	}
	if limit, ok := figs.Get("load-limit"); ok && c.Force > limit.Value {
		p.paragraph(bendCaution, s.display().Value(limit.Key, limit.Unit, limit.Value), s.teller().Weakest(limit.Weakest))
	}
}
