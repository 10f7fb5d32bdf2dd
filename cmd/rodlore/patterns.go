package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/catalogue/working"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// patternOptions say which patterns are laid out and what becomes of one.
type patternOptions struct {
	count, buttRing, like string
	write                 bool
}

func newPatterns(p *program) *cobra.Command {
	var o patternOptions
	cmd := &cobra.Command{
		Use:   "patterns MODEL[@REV]",
		Short: "ring patterns laid out on the bent rod, beside the present one",
		Long: `For each number of rings, places along the rod as a maker finds them with a
loaded rod: the line runs through the rings at half the test curve, and the
rings are moved until each turns it by about the same angle. No spacing is
shorter than the one nearer the tip, no whipping comes nearer to a joint than
its own length, and with the reel on top the line is kept off the blank where
the number of rings allows it. Of patterns that are nearly as even, the one
whose spacing grows most smoothly is taken. The rod is bent again with its new
rings until they stay; places are whole millimetres.

The butt ring stays where it is, for its place is a matter of casting;
--butt-ring-at, from the butt, moves it. The tip ring stays too. Every other
ring is of the part that stands nearest to its place now; which parts those are
is yours to change.

Each figure is the rod's own, so at half its own test curve where that comes
into it. What gets worse is marked.`,
		Example: `  rodlore patterns skerry-10
  rodlore patterns skerry-10 --count 5..8 --butt-ring-at 1.3m
  rodlore patterns skerry-10 --like wrack-9@2025
  rodlore patterns skerry-10 --count 5 --write`,
		Args:              wants(1, 1, "one model or spec"),
		ValidArgsFunction: p.completeRods,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(args[0]); err != nil {
				return err
			}
			s, err := p.find(cmd.Context(), args[0])
			if err != nil {
				return err
			}
			list, err := p.layPatterns(cmd, s, o)
			if err != nil {
				return err
			}
			if o.write {
				return p.writePattern(s, args[0], list)
			}
			return p.show(func() object { return patternsOf(s, list, "") }, func() { p.showPatterns(s, list) })
		},
	}
	cmd.Flags().StringVar(&o.count, "count", "", "how many `rings` beside the tip ring: 7, or 5..11; as now and a few more and fewer if not given")
	cmd.Flags().StringVar(&o.buttRing, "butt-ring-at", "", "`place` of the butt ring from the butt: 1.10m, \"3 ft 7 in\"")
	cmd.Flags().StringVar(&o.like, "like", "", "lay one out with the count and proportions of that `model` too")
	cmd.Flags().BoolVar(&o.write, "write", false, "put the pattern into the draft")
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("like", p.completeRevisions))
	return cmd
}

// check refuses options that make no sense, whatever the rod.
func (o patternOptions) check(arg string) error {
	from, to, err := o.counts(0)
	if err != nil {
		return err
	}
	if _, err := o.buttRingFromButt(); err != nil {
		return err
	}
	if !o.write {
		return nil
	}
	if _, rev, _ := strings.Cut(arg, "@"); rev != "" && rev != "draft" && !isPath(arg) {
		return misuse("--write changes the draft; leave out @%s", rev)
	}
	if _, top, ok := strings.Cut(arg, "+"); ok && !isPath(arg) {
		return misuse("--write changes the rings of the main top; leave out +%s and edit those of that by hand", top)
	}
	one := o.like == "" && o.count != "" && from == to || o.like != "" && o.count == ""
	if !one {
		return misuse("--write wants one pattern: give --count 6, say, or --like alone")
	}
	return nil
}

const (
	// fewer and more are how far from the present count patterns are laid out
	// if none is asked for, and fewest the least of them.
	fewer, more, fewest = 3, 2, 3
)

// counts are the counts asked for, of a rod with so many rings now.
func (o patternOptions) counts(present int) (from, to int, err error) {
	if o.count == "" {
		from = max(min(max(present-fewer, fewest), present), evaluate.FewestRings)
		return from, min(max(present+more, from), evaluate.MostRings), nil
	}
	first, last, isRange := strings.Cut(o.count, "..")
	if !isRange {
		last = first
	}
	from, err = strconv.Atoi(first)
	if err == nil {
		to, err = strconv.Atoi(last)
	}
	switch {
	case err != nil:
		return 0, 0, misuseOf("count", "%q is no number of rings; write 7, or 5..11", o.count)
	case from > to:
		return 0, 0, misuseOf("count", "%q runs from more to less; write %s..%s", o.count, last, first)
	case from < evaluate.FewestRings || to > evaluate.MostRings:
		return 0, 0, misuseOf("count", "%q; a pattern has %d to %d rings", o.count, evaluate.FewestRings, evaluate.MostRings)
	}
	return from, to, nil
}

// buttRingFromButt is where the butt ring is to stand, 0 where that is not said.
func (o patternOptions) buttRingFromButt() (float64, error) {
	if o.buttRing == "" {
		return 0, nil
	}
	at, err := quantity[units.Length]("butt-ring-at", o.buttRing)
	if err == nil && at <= 0 {
		err = misuseOf("butt-ring-at", "%q is not above the butt", o.buttRing)
	}
	return at, err
}

// laidOut are the patterns of a rod.
type laidOut struct {
	present *evaluate.Pattern
	others  []pattern
}

// pattern is one of them, or why there is none.
type pattern struct {
	*evaluate.Pattern
	count int
	like  string // the model that it is taken from; "" where it was laid out
	fault error
}

// layPatterns lays out what is asked for, on every processor.
func (p *program) layPatterns(cmd *cobra.Command, s subject, o patternOptions) (*laidOut, error) {
	rod, err := evaluate.New(s.Spec(), s.set).Patterns()
	if err != nil {
		return nil, err
	}
	out := &laidOut{}
	if out.present, err = rod.Present(); err != nil {
		return nil, err
	}
	buttRing, err := o.buttRingFromTip(s.Spec())
	if err != nil {
		return nil, err
	}
	from, to, err := o.counts(len(s.Spec().Rings) - 1)
	if err != nil {
		return nil, err
	}
	if o.like == "" || !o.write {
		if out.others, err = layCounts(cmd.Context(), rod, from, to, buttRing); err != nil {
			return nil, err
		}
	}
	if o.like != "" {
		like, err := p.find(cmd.Context(), o.like)
		if err != nil {
			return nil, fmt.Errorf("--like: %w", err)
		}
		taken, err := rod.Like(like.Spec())
		out.others = append(out.others, pattern{taken, len(like.Spec().Rings) - 1, o.like, err})
	}
	return out, out.fault()
}

// buttRingFromTip is the same place as the layout counts it, 0 for where it is.
func (o patternOptions) buttRingFromTip(s *models.Spec) (float64, error) {
	fromButt, err := o.buttRingFromButt()
	switch {
	case err != nil || fromButt == 0:
		return 0, err
	case fromButt >= s.TotalLength():
		return 0, misuseOf("butt-ring-at", "%q is beyond the tip; the rod is %s long", o.buttRing, s.Length.Text)
	}
	return s.TotalLength() - fromButt, nil
}

func layCounts(ctx context.Context, rod *evaluate.Patterns, from, to int, buttRing float64) ([]pattern, error) {
	list := make([]pattern, to-from+1)
	err := evaluate.InParallel(ctx, len(list), func(i int) {
		laid, err := rod.Lay(from+i, buttRing)
		list[i] = pattern{Pattern: laid, count: from + i, fault: err}
	})
	return list, err
}

// fault is why there is nothing to show at all.
func (l *laidOut) fault() error {
	var faults []error
	for _, o := range l.others {
		if o.fault == nil {
			return nil
		}
		faults = append(faults, o.fault)
	}
	return errors.Join(faults...)
}

// writePattern puts the one pattern there is into the draft.
func (p *program) writePattern(s subject, arg string, list *laidOut) error {
	o := list.others[0]
	dir, name := p.files(), s.File
	if isPath(arg) {
		place, err := behindLinks(s.File)
		if err != nil {
			return err
		}
		dir, name = working.At(filepath.Dir(place)), filepath.Base(place)
	}
	written, err := splice(dir, name, func(src []byte) ([]byte, error) {
		return models.SpliceRings(s.File, src, o.Spec.Rings)
	})
	if err != nil {
		return err
	}
	into := ""
	if written {
		into = s.File
	}
	return p.show(func() object { return patternsOf(s, list, into) }, func() {
		if !written {
			p.println(s.File + " has this pattern already; nothing written")
			return
		}
		p.println("wrote " + count(o.count, "ring") + " into " + s.File + "; look at it and save it:")
		if isPath(arg) {
			p.println("  rodlore figures " + visible.Arg(arg))
		} else {
			p.lookAndSave("compare", s.Model)
		}
	})
}

// patternsOf is what patterns prints, SI, with the file that a pattern was put into.
func patternsOf(s subject, list *laidOut, written string) object {
	t := s.teller()
	return object{
		{"model", s.Model}, {"revision", revisionOf(s.Revision)},
		{"tension", list.present.Tension}, // of the line that all patterns are laid out by
		{"present", patternOf(t, pattern{Pattern: list.present, count: len(list.present.Rings) - 1})},
		{"patterns", say.Each(list.others, func(o pattern) object { return patternOf(t, o) })},
		{"notes", notesOn(t, list.present.Figures.Notes)},
		{"written", orNull(written)},
	}
}

// patternOf is one pattern. Where there is none its fault says why, and the lists are
// empty.
func patternOf(t say.Teller, o pattern) object {
	if o.fault != nil {
		o.Pattern = &evaluate.Pattern{Spec: &models.Spec{}, Figures: &evaluate.Figures{}}
	}
	var rings []object // with what the line does to each, tip ring first
	for i, g := range o.Spec.Rings {
		rings = append(rings, object{
			{"at", float64(g.At.Value)}, // from the tip
			{"part", g.Part.Text},
			{"whipping", givenOrNull(g.Whipping)}, // null where it is the usual length
			{"load", o.Pattern.Rings[i].Load}, {"turn", o.Pattern.Rings[i].Turn},
		})
	}
	return object{
		{"count", o.count},
		{"like", orNull(o.like)}, // the model it is taken from; null where it was laid out
		{"rings", rings}, {"figures", figuresOf(t, o.Figures)}, {"binding", t.Notes(o.Binding)}, {"fault", o.fault},
		{"rod", say.Each(o.Bent, func(pt evaluate.Point) evaluate.Place { return evaluate.Place{X: pt.X, Y: pt.Y} })}, // the bent blank's middle, tip first
		{"line", o.Line}, // from the tip ring through the rings to the reel
	}
}
