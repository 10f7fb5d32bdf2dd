package evaluate_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

func throw(t *testing.T, s *models.Spec, c evaluate.CastCase) *evaluate.Cast {
	t.Helper()
	done, err := evaluate.New(s, models.DefaultSettings()).Cast(c)
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// TestCastAccounts holds the cast's account of energy, the swing after it
// against the figures of the same rod, and the lead against what the rod casts.
func TestCastAccounts(t *testing.T) {
	s := plainRod(t, 100, eight...)
	c := throw(t, s, evaluate.UsualCast())
	if c.Lead != 0.025 {
		t.Errorf("the lead is %g kg, want the middle of 10 g to 40 g", c.Lead)
	}
	a := c.Flight.Release.Account
	if open := a.Work - a.Rod - a.Lead - a.Bent - a.Line - a.Raised - a.Lost; math.Abs(open) > 1e-3*a.Work {
		t.Errorf("%.3g J of %.3g J are not accounted for", open, a.Work)
	}
	if want := 0.5 * c.Lead * c.Flight.Release.Speed * c.Flight.Release.Speed; math.Abs(a.Lead-want) > 1e-9*want {
		t.Errorf("the lead flies with %g J, ½mv² is %g J", a.Lead, want)
	}
	// The swing is large and the kernel counts ring masses on the centreline.
	f := evaluated(t, s)
	within(t, f, "recovery", c.Flight.Swing.Frequency, 0.01)
	within(t, f, "settle", c.Flight.Swing.Settle, 0.1)
}

// TestCastCompares holds what the trade says: a lighter tip puts more of the
// work into the lead, a heavier lead flies slower but takes more of the work
// along (common practice, no source).
func TestCastCompares(t *testing.T) {
	many, few := throw(t, plainRod(t, 100, eight...), evaluate.UsualCast()), throw(t, plainRod(t, 100, five...), evaluate.UsualCast())
	if few.LeadPart <= many.LeadPart {
		t.Errorf("with fewer rings the lead takes %.4f of the work, with more %.4f", few.LeadPart, many.LeadPart)
	}
	heavy := evaluate.UsualCast()
	heavy.Lead = 0.04
	slow := throw(t, plainRod(t, 100, eight...), heavy)
	if slow.Flight.Release.Speed >= many.Flight.Release.Speed || slow.LeadPart <= many.LeadPart {
		t.Errorf("40 g fly at %.1f m/s with %.3f of the work, 25 g at %.1f m/s with %.3f",
			slow.Flight.Release.Speed, slow.LeadPart, many.Flight.Release.Speed, many.LeadPart)
	}
}

func TestCastRefuses(t *testing.T) {
	s, set := plainRod(t, 100, eight...), models.DefaultSettings()
	for _, row := range []struct {
		name, want string
		change     func(*evaluate.CastCase)
	}{
		{"backwards", "forwards", func(c *evaluate.CastCase) { c.From, c.To = c.To, c.From }},
		{"no drop", "drop", func(c *evaluate.CastCase) { c.Drop = 0 }},
		{"no time", "time", func(c *evaluate.CastCase) { c.Time = 0 }},
	} {
		c := evaluate.UsualCast()
		row.change(&c)
		if _, err := evaluate.New(s, set).Cast(c); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: got %v, want a word of %q", row.name, err, row.want)
		}
	}
	s.Casts = models.Range[units.Mass]{}
	if _, err := evaluate.New(s, set).Cast(evaluate.UsualCast()); err == nil || !strings.Contains(err.Error(), "casts:") {
		t.Errorf("a rod that does not say what it casts: got %v", err)
	}
}
