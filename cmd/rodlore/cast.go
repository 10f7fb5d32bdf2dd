package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// castWords stand under every cast.
const castWords = "One stated cast, the same for every rod: use it to compare revisions, not to promise " +
	"a distance. Its shares and times are those of this cast, with its large bends, and so not quite " +
	"those of the figures cast share and settle. Left out are the drag of the air, the line's path " +
	"through the rings and its run after the release, the give of hand and arm. Cast only where nobody " +
	"stands behind or beside you, and look up first: keep far from overhead power lines."

// flyWords stand above them where fly rods are cast.
const flyWords = "The fly line in the air, the first 30 ft of its class, counts as one weight on a short line."

func newCast(p *program) *cobra.Command {
	o := castOptions{}
	usual := evaluate.UsualCast()
	cmd := &cobra.Command{
		Use:   "cast MODEL[@REV] [MODEL[@REV]…]",
		Short: "a cast worked through in time, to compare revisions by",
		Long: `An overhead cast worked through in time: the rod at rest with the lead hanging
on a drop, the butt turned through an arc, the lead let go when its flight has
come down to the launch angle, and the tip's swing after that. A fly rod has the
first 30 ft of its line instead of the lead. Several rods stand side by side.
Angles count upwards from the horizontal in front, so 180 deg is laid back level
and 90 deg upright.`,
		Example: `  rodlore cast skerry-10
  rodlore cast skerry-10@2021 skerry-10@2026 --lead 30g
  rodlore cast groyne-13 --time 0.9s --drop 1m --json`,
		Args:              wants(1, 4, "one to four models or specs"),
		ValidArgsFunction: p.completeRods,
		RunE: func(cmd *cobra.Command, args []string) error {
			c, err := o.castCase()
			if err != nil {
				return err
			}
			return p.cast(cmd.Context(), args, c)
		},
	}
	deg := units.Size("deg")
	cmd.Flags().StringVar(&o.lead, "lead", "", "`mass` of the lead (default the middle of what the model casts)")
	cmd.Flags().IntVar(&o.class, "class", 0, "`class` of the fly line (default that of the model)")
	cmd.Flags().StringVar(&o.drop, "drop", fmt.Sprintf("%gm", usual.Drop), "`length` of line between tip and lead")
	cmd.Flags().StringVar(&o.time, "time", fmt.Sprintf("%gs", usual.Time), "`time` of the turn of the butt")
	cmd.Flags().StringVar(&o.from, "from", fmt.Sprintf("%gdeg", math.Round(usual.From/deg)), "`angle` of the butt before")
	cmd.Flags().StringVar(&o.to, "to", fmt.Sprintf("%gdeg", math.Round(usual.To/deg)), "`angle` of the butt after")
	cmd.Flags().StringVar(&o.launch, "launch", fmt.Sprintf("%gdeg", math.Round(usual.Launch/deg)), "`angle` of the lead's flight at the release")
	return cmd
}

// castOptions are the options of cast as typed.
type castOptions struct {
	lead, drop, time, from, to, launch string
	class                              int
}

// castCase reads the options.
func (o castOptions) castCase() (c evaluate.CastCase, err error) {
	if o.lead != "" {
		if c.Lead, err = quantity[units.Mass]("lead", o.lead); err == nil && c.Lead <= 0 {
			err = misuseOf("lead", "%q is nothing to cast", o.lead)
		}
		if err != nil {
			return c, err
		}
	}
	if o.class != 0 {
		if o.class < 1 || o.class > models.HeaviestClass || o.lead != "" {
			return c, misuseOf("class", "expected a class from 1 to %d, and no --lead beside it", models.HeaviestClass)
		}
		c.Lead = models.ClassMass(o.class)
	}
	err = cmp.Or(
		readInto[units.Length]("drop", o.drop, &c.Drop), readInto[units.Duration]("time", o.time, &c.Time),
		readInto[units.Angle]("from", o.from, &c.From), readInto[units.Angle]("to", o.to, &c.To), readInto[units.Angle]("launch", o.launch, &c.Launch),
	)
	return c, err
}

// cast works the cast through with every rod and prints them side by side.
func (p *program) cast(ctx context.Context, args []string, c evaluate.CastCase) error {
	var subjects []subject
	var casts []*evaluate.Cast
	for _, arg := range args {
		s, err := p.find(ctx, arg)
		if err != nil {
			return err
		}
		done, err := evaluate.New(s.Spec(), s.set).Cast(c)
		if err != nil {
			return err
		}
		subjects, casts = append(subjects, s), append(casts, done)
	}
	return p.show(func() object { return castsOf(subjects, casts, c) }, func() { p.showCasts(subjects, casts, c) })
}

// castRows are what is told of a cast, in order; %s is what is cast.
var castRows = []struct {
	name, unit string
	value      func(*evaluate.Cast) float64
}{
	{"%s", "kg", func(c *evaluate.Cast) float64 { return c.Lead }},
	{"%s's speed", "m/s", func(c *evaluate.Cast) float64 { return c.Flight.Release.Speed }},
	{"share of the work in it", "1", func(c *evaluate.Cast) float64 { return c.LeadPart }},
	{"let go after", "s", func(c *evaluate.Cast) float64 { return c.Flight.Release.Time }},
	{"with the butt at", "rad", func(c *evaluate.Cast) float64 { return c.Flight.Release.Butt }},
	{"tip turned at most", "rad", func(c *evaluate.Cast) float64 { return math.Abs(c.Flight.Turn.Value) }},
	{"most bent, from tip", "m", func(c *evaluate.Cast) float64 { return c.Free - c.Flight.Curvature.S }},
	{"moment at most", "N·m", func(c *evaluate.Cast) float64 { return math.Abs(c.Flight.Moment.Value) }},
	{"then the tip swings by", "m", func(c *evaluate.Cast) float64 { return c.Flight.Swing.Amplitude }},
	{"at", "Hz", func(c *evaluate.Cast) float64 { return c.Flight.Swing.Frequency }},
	{"and is still after", "s", func(c *evaluate.Cast) float64 { return c.Flight.Swing.Settle }},
}

func (p *printer) showCasts(subjects []subject, casts []*evaluate.Cast, c evaluate.CastCase) {
	d := subjects[0].display()
	plain := d.Single("")
	what, how := "lead", "the lead on a drop of %s"
	fly := allFly(subjects)
	if fly {
		what, how = "line", "the line as a weight %s from the tip"
	}
	p.wrapped("", fmt.Sprintf("The butt turned from %s to %s in %s, "+how+", let go at %s.",
		plain.Value("", "rad", c.From), plain.Value("", "rad", c.To), plain.Value("", "s", c.Time),
		plain.Value("", "m", c.Drop), plain.Value("", "rad", c.Launch)))
	p.println()
	t := newTable(words("cast"))
	for _, s := range subjects {
		t.columns = append(t.columns, numbers(s.Model+" "+heading(s.Revision)))
	}
	for _, row := range castRows {
		cells := []string{strings.ReplaceAll(row.name, "%s", what)}
		for _, done := range casts {
			cells = append(cells, plain.Value("", row.unit, row.value(done)))
		}
		t.add(cells...)
	}
	p.print("", t)
	p.println()
	for i, s := range subjects {
		if most := s.Spec().Casts.Max; most.Set() && casts[i].Lead > float64(most.Value) {
			p.wrapped("", fmt.Sprintf("Caution: %s is made for leads of up to %s. A heavier one may break it in the cast.", s.Spec().Name, most.Text))
		}
	}
	for _, text := range castNotes(fly) {
		p.wrapped("", text)
	}
}

// castNotes stand under a cast of rods that are all fly rods, or not.
func castNotes(fly bool) []string {
	if fly {
		return []string{flyWords, strings.Replace(castWords, "cast share", "line share", 1)}
	}
	return []string{castWords}
}

// allFly reports whether all rods are fly rods.
func allFly(subjects []subject) bool {
	return !slices.ContainsFunc(subjects, func(s subject) bool { return !s.Spec().ForFly() })
}

// castsOf is what cast prints, SI.
func castsOf(subjects []subject, casts []*evaluate.Cast, c evaluate.CastCase) object {
	var list []object
	for i, s := range subjects {
		f := &casts[i].Flight
		list = append(list, object{
			{"model", s.Model}, {"revision", revisionOf(s.Revision)}, {"lead", casts[i].Lead},
			{"speed", f.Release.Speed}, {"direction", f.Release.Direction}, {"lead-share", casts[i].LeadPart},
			{"release", f.Release.Time}, // s since the start
			{"butt", f.Release.Butt}, {"tip-speed", f.Release.TipSpeed},
			{"moment", f.Moment}, {"curvature", f.Curvature}, {"turn", f.Turn}, {"amplitude", f.Swing.Amplitude}, {"frequency", f.Swing.Frequency},
			{"settle", f.Swing.Settle},    // null where the swing does not die down
			{"energy", f.Release.Account}, // where the work of the hand has gone by the release, J
			{"track", f.Track},
		})
	}
	return object{{"case", c}, {"casts", list}, {"notes", castNotes(allFly(subjects))}}
}
