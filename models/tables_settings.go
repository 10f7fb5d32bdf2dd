package models

import (
	"math"

	"rodlore/models/units"
)

var settingsTable = table[Settings]{
	example: "settings such as {maker: Saltmarsh Rods, units: metric}",
	keys: []key[Settings]{
		{"maker", optional, unwalked(nested(func(s *Settings) *Maker { return &s.Maker }, &makerTable))},
		{"signers", optional, words(func(s *Settings) *[]Word { return &s.Signers }, "a list of who signs releases such as [maren@saltmarsh.example]")},
		{"units", optional, choice(func(s *Settings) *string { return &s.Units }, "metric", "imperial", "both")},
		{"currency", optional, word(func(s *Settings) *Word { return &s.Currency })},
		{"test curve", optional, nested(func(s *Settings) *TestCurve { return &s.TestCurve }, &testCurveTable)},
		{"bench load", optional, quantity(func(s *Settings) *Given[units.Force] { return &s.BenchLoad }, upTo("100 kg"))},
		{"strain factor", optional, number(func(s *Settings) *float64 { return &s.StrainFactor }, between("1", "20"))},
		{"damping", optional, quantity(func(s *Settings) *Given[units.Share] { return &s.Damping }, upTo("50 %"))},
		{"foot bonding", optional, quantity(func(s *Settings) *Given[units.Share] { return &s.FootBonding }, fromZero("100 %"))},
		{"tolerances", optional, nested(func(s *Settings) *Tolerances { return &s.Tolerances }, &toleranceTable)},
		{"steps", optional, nested(func(s *Settings) *StepLimits { return &s.Steps }, &stepTable)},
		{"noticed", optional, reader[Settings]{read: readNoticed}},
		{"bench times", optional, nested(func(s *Settings) *BenchTimes { return &s.BenchTimes }, &benchTimeTable)},
		{"by hand", optional, handChecks()},
	},
}

var testCurveTable = table[TestCurve]{
	example: "{pull: 90 deg, turn: 85 deg, line: through rings}",
	pos:     func(t *TestCurve) *Pos { return &t.Pos },
	keys: []key[TestCurve]{
		{"pull", optional, quantity(func(t *TestCurve) *Given[units.Angle] { return &t.Pull }, between("30 deg", "150 deg"))},
		{"turn", optional, quantity(func(t *TestCurve) *Given[units.Angle] { return &t.Turn }, between("10 deg", "120 deg"))},
		{"line", optional, choice(func(t *TestCurve) *string { return &t.Line }, "through rings", "from tip ring")},
	},
	check: checkTestCurve,
}

// eyeRoom is how far short of the pull the turn that counts as square must stay,
// in degrees: three times what an eye is off by. The tip only nears the direction
// of the pull, so the load for the last degrees has no bound.
const eyeRoom = 3

// checkTestCurve checks that there is a load that makes the turn, and one for
// every eye.
func checkTestCurve(v value, t *TestCurve) {
	degree := units.Size("deg")
	if float64(t.Turn.Value) <= float64(t.Pull.Value)-(eyeRoom-1e-9)*degree {
		return
	}
	what, pos := "turn", t.Turn.Pos
	if pos == (Pos{}) {
		what, pos = "pull", t.Pull.Pos
	}
	most := math.Floor(float64(t.Pull.Value)/degree) - eyeRoom
	v.at(pos, what, "a turn of %s is too near the pull at %s: the tip only nears the direction of the pull, and an eye is off by a degree; take a turn of %g deg or less",
		t.Turn.Text, t.Pull.Text, most)
}

var stepTable = table[StepLimits]{
	example: "{rings: 1, butt ring moves: 100 mm}",
	pos:     func(s *StepLimits) *Pos { return &s.Pos },
	keys: []key[StepLimits]{
		{"rings", optional, stepCount(func(s *StepLimits) *Count { return &s.Rings })},
		{"butt rings", optional, stepCount(func(s *StepLimits) *Count { return &s.ButtRings })},
		{"butt ring sizes", optional, stepCount(func(s *StepLimits) *Count { return &s.ButtRingSizes })},
		{"butt ring moves", optional, quantity(func(s *StepLimits) *Given[units.Length] { return &s.ButtRingMoves }, fromZero("5 m"))},
		{"length", optional, quantity(func(s *StepLimits) *Given[units.Length] { return &s.Length }, fromZero("5 m"))},
		{"sections", optional, stepCount(func(s *StepLimits) *Count { return &s.Sections })},
		{"handle", optional, quantity(func(s *StepLimits) *Given[units.Length] { return &s.Handle }, fromZero("2 m"))},
		{"joint kind", optional, leave(func(s *StepLimits) *Leave { return &s.JointKind })},
		{"handle shape", optional, leave(func(s *StepLimits) *Leave { return &s.HandleShape })},
		{"reel seat", optional, leave(func(s *StepLimits) *Leave { return &s.ReelSeat })},
		{"blank colour", optional, leave(func(s *StepLimits) *Leave { return &s.BlankColour })},
		{"whipping colour", optional, leave(func(s *StepLimits) *Leave { return &s.WhippingColour })},
	},
}

func stepCount(get func(*StepLimits) *Count) reader[StepLimits] {
	return placed(
		count(func(s *StepLimits) *int { return &get(s).Value }, 0, 50),
		func(s *StepLimits) *Pos { return &get(s).Pos })
}

func leave(get func(*StepLimits) *Leave) reader[StepLimits] {
	return placed(
		choice(func(s *StepLimits) *string { return &get(s).Word }, MayChange, Stays),
		func(s *StepLimits) *Pos { return &get(s).Pos })
}

var benchTimeTable = table[BenchTimes]{
	example: "{ring: 3 min, foot: 9 min, joint: 15 min}",
	pos:     func(b *BenchTimes) *Pos { return &b.Pos },
	keys: []key[BenchTimes]{
		{"ring", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Ring })},
		{"foot", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Foot })},
		{"tip ring", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.TipRing })},
		{"joint", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Joint })},
		{"grip", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Grip })},
		{"seat", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Seat })},
		{"butt cap", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Cap })},
		{"varnish", optional, benchTime(func(b *BenchTimes) *Given[units.Duration] { return &b.Varnish })},
	},
}

func benchTime(get func(*BenchTimes) *Given[units.Duration]) reader[BenchTimes] {
	return quantity(get, fromZero("100 h"))
}
