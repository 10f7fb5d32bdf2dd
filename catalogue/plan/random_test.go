package plan

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestRandomGoals plans to goals made by random edits. A goal that takes more
// releases than asked for is planned in as many as were told.
func TestRandomGoals(t *testing.T) {
	s := demoRange(t)
	base := sold(t, "skerry-10", "2021")
	rapid.Check(t, func(rt *rapid.T) {
		goal := randomGoal(rt, base)
		task := s.task(t, base, goal, ownSteps, rapid.IntRange(1, 4).Draw(rt, "releases"))
		p, err := Make(t.Context(), task)
		var u *Unreachable
		switch {
		case errors.As(err, &u):
			if u.Least == 0 {
				rt.Fatalf("never: %v", err)
			}
			task.Releases = u.Least
			if p, err = Make(t.Context(), task); err != nil {
				rt.Fatalf("with %d releases: %v", u.Least, err)
			}
		case err != nil:
			if strings.Contains(err.Error(), "at the most") || strings.Contains(err.Error(), "very rod") {
				return
			}
			rt.Fatal(err)
		}
		checkPlan(rt, task, p)
		s.checkWritten(rt, base, goal, p)
	})
}

// randomGoal edits the rod of 2021 at random, each edit within what stays a rod.
func randomGoal(t *rapid.T, text string) string {
	swap := func(old, now string) {
		if strings.Count(text, old) != 1 {
			t.Fatalf("%q does not stand once", old)
		}
		text = strings.Replace(text, old, now, 1)
	}
	for _, ring := range []string{
		"  - {at: 100 mm, part: SL-8}\n", "  - {at: 365 mm, part: DL-8}\n", "  - {at: 750 mm, part: DL-10}\n", "  - {at: 1290 mm, part: DL-16, whipping: 22 mm}\n",
	} {
		if rapid.IntRange(0, 2).Draw(t, "off "+ring) == 0 {
			swap(ring, "")
		}
	}
	butt := rapid.SampledFrom([]string{"DL-30", "DL-25", "DL-20", "DT-20", "DL-16"}).Draw(t, "butt ring")
	swap("{at: 2020 mm, part: DL-30", fmt.Sprintf("{at: %d mm, part: %s", 2020-rapid.IntRange(-60, 280).Draw(t, "butt ring up"), butt))
	swap("to: 620 mm", fmt.Sprintf("to: %d mm", 620-rapid.IntRange(-10, 70).Draw(t, "handle shorter")))
	if rapid.Bool().Draw(t, "thinner") {
		swap("{at: 1100 mm, outside: 10.6 mm,  wall: 1.0 mm}", "{at: 1100 mm, outside: 10.4 mm,  wall: 0.95 mm}")
	}
	if rapid.Bool().Draw(t, "colour") {
		swap("trim: rust", "trim: slate")
	}
	return text
}

func TestMain(m *testing.M) {
	flag.Parse()
	// A plan works out dozens of rods; a hundred of them would take minutes.
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue {
		if err := f.Value.Set("15"); err != nil {
			panic(err)
		}
	}
	os.Exit(m.Run())
}
