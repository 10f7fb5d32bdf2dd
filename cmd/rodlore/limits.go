package main

import (
	"context"
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

func newLimits(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "limits MODEL[@REV]",
		Short: "how near a rod comes to its limit, and where",
		Long: `The pull of the line that would bring the blank to its limit divided by the
range's factor, for every angle between butt and line; where it is nearest to
that and what would fail there; and the angle at which a pull of the line's own
strength does it.

A bent tube fails where its strain reaches the smaller of two limits: that of
the material (strain: {compression: …} in materials.yaml) and that at which the
wall buckles, by flattening or by wrinkling on the compressed side. The thinner
the wall for its diameter and the softer it is round the hoop, the lower the
second. Without a hoop modulus: of the material, a low one is taken.

All of it is an estimate to compare revisions by.`,
		Example: `  rodlore limits skerry-10
  rodlore limits skerry-10@2024 --json`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRods,
		RunE: p.ofRod(func(_ context.Context, s subject) error {
			l, err := evaluate.New(s.Spec(), s.set).Limits()
			if err != nil {
				return err
			}
			return p.show(func() object { return limitsOf(s, l) }, func() { p.showLimits(s, l) })
		}),
	}
}

// limitsOf is what limits prints, SI.
func limitsOf(s subject, l *evaluate.Limits) object {
	return object{
		{"model", s.Model}, {"revision", revisionOf(s.Revision)}, {"factor", l.Factor}, {"lifts", l.Lifts},
		{"lift-notes", s.teller().Notes(l.LiftNotes)}, // why an angle has no pull
		{"at-tip", l.AtTip},                           // pulled at the tip ring, as there is no other
		{"line", orNull(l.Line)},                      // its strength
		{"line-angle", l.LineAngle},                   // null where no angle of lifts reaches the limit
		{"strains", l.Strains},                        // tip first
		{"caution", say.English().Say("cautions.limits.text")},
	}
}

func (p *printer) showLimits(s subject, l *evaluate.Limits) {
	d := s.display()
	lengths := d.Single("")
	p.println(p.paint(bold, title(s.Revision)))
	pulled := "line through the rings"
	switch {
	case s.Spec().Bare:
		pulled = "pulled at the end of the bare blank"
	case l.AtTip:
		pulled = "pulled at the tip ring, as there are no others"
	}
	p.wrapped("", fmt.Sprintf("limits of material and wall divided by %g; %s", l.Factor, pulled))
	p.println()
	lifts := newTable(numbers("butt to line"), numbers("pull at the limit"), numbers("nearest its limit, from tip"), words("by"))
	for _, lift := range l.Lifts {
		lifts.add(d.Value("", "rad", lift.Angle), lengths.Value("", "N", lift.Pull), lengths.Value("", "m", lift.At), string(lift.By))
	}
	p.print("", lifts)
	p.println()
	for _, note := range s.teller().Notes(l.LiftNotes) {
		p.wrapped("", note)
		p.println()
	}
	p.wrapped("", lineWords(d, l))
	p.println()
	p.showStrains(d, l)
	p.paragraph("%s", "Caution: "+say.English().Say("cautions.limits.text"))
}

// lineWords says what the line itself can do to the rod.
func lineWords(d figures.Display, l *evaluate.Limits) string {
	steepest := d.Value("", "rad", l.Lifts[len(l.Lifts)-1].Angle)
	switch strength := d.Single("").Value("", "N", l.Line); {
	case l.Line == 0:
		return "The spec gives no strength of line; with line: {breaks: …} the angle at which it reaches the limit is worked out."
	case math.IsNaN(l.LineAngle):
		return fmt.Sprintf("A line that breaks at %s reaches the limit at no angle up to %s.", strength, steepest)
	default:
		return fmt.Sprintf("A line that breaks at %s reaches the limit from %s between butt and line on: hold the rod lower, or set the drag below.",
			strength, d.Value("", "rad", l.LineAngle))
	}
}

// showStrains prints the strains at every tenth of the free length.
func (p *printer) showStrains(d figures.Display, l *evaluate.Limits) {
	t := newTable(numbers("from tip"), numbers("strain at test curve"), numbers("at load limit"), numbers("allowed"), words("by"))
	const rows = 10
	last := len(l.Strains) - 1
	for i := range rows + 1 {
		st := l.Strains[i*last/rows]
		allowed := "unknown"
		if st.Allowed > 0 {
			allowed = d.Value("", "1", st.Allowed)
		}
		t.add(d.Value("", "m", st.S), d.Value("", "1", st.TestCurve), d.Value("", "1", st.LoadLimit), allowed, string(st.By))
	}
	p.print("", t)
}
