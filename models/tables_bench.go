package models

import (
	"math"
	"strings"
	"time"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

var benchTable = table[Bench]{
	example: "keys such as model, rod, date and measured",
	keys: []key[Bench]{
		{"model", required, word(func(b *Bench) *Word { return &b.Model })},
		{"rod", required, word(func(b *Bench) *Word { return &b.Rod })},
		{"date", required, date(func(b *Bench) *Date { return &b.Date })},
		{"of", optional, word(func(b *Bench) *Word { return &b.Of })},
		{"measured", required, list(func(b *Bench) *[]Measured { return &b.Measured }, &measuredTable)},
	},
}

var measuredTable = table[Measured]{
	example: "{weight: 165.8 g ± 0.5 g}",
	pos:     func(m *Measured) *Pos { return &m.Pos },
	keys: []key[Measured]{
		{string(WeightMeasure), optional, reading(WeightMeasure, upTo(heaviest))},
		{string(BalanceMeasure), optional, reading(BalanceMeasure, upTo(longest))},
		{string(PendulumMeasure), optional, reading(PendulumMeasure, upTo("1 h"))},
		{string(DropMeasure), optional, reading(DropMeasure, fromZero(longest))},
		{string(ThirdLoadMeasure), optional, reading(ThirdLoadMeasure, upTo("100 kg"))},
		{string(TestCurveMeasure), optional, reading(TestCurveMeasure, upTo("100 kg"))},
		{string(CountMeasure), optional, reading(CountMeasure, upTo("10000"))},
		{string(SettleMeasure), optional, reading(SettleMeasure, upTo("1 h"))},
		{string(TraceMeasure), optional, trace()},
		{"section", optional, word(func(m *Measured) *Word { return &m.Section })},
		{"at", optional, position(func(m *Measured) *Given[units.Length] { return &m.At }, fromZero(longest), "tip")},
		{"load", optional, quantity(func(m *Measured) *Given[units.Force] { return &m.Load }, fromZero("100 kg"))},
		{"pivot", optional, position(func(m *Measured) *Given[units.Length] { return &m.Pivot }, fromZero(longest), "butt")},
		{"swings", optional, count(func(m *Measured) *int { return &m.Swings }, 1, 1000)},
		{"in", optional, quantity(func(m *Measured) *Given[units.Duration] { return &m.During }, upTo("1 h"))},
		{"within", optional, traceDeviation()},
	},
	check: checkMeasured,
}

// measuredKinds are the keys that hold a reading, and measuredConditions those
// that say how it was made.
var (
	measuredKinds = []Measure{
		WeightMeasure, BalanceMeasure, PendulumMeasure, DropMeasure, ThirdLoadMeasure,
		TestCurveMeasure, CountMeasure, SettleMeasure, TraceMeasure,
	}
	measuredConditions = map[string]bool{
		"section": true, "at": true, "load": true, "pivot": true, "swings": true, "in": true, "within": true,
	}
)

var measuredExamples = map[Measure]string{
	WeightMeasure:    "{weight: 165.8 g ± 0.5 g}",
	BalanceMeasure:   "{balance: 842 mm}",
	PendulumMeasure:  "{pendulum: 41.3 s, swings: 20, pivot: 10 mm, section: tip}",
	DropMeasure:      "{drop: 472 mm, load: 100 g}",
	ThirdLoadMeasure: "{third load: 228 g ± 1 g}",
	TestCurveMeasure: "{test curve: 640 g}",
	CountMeasure:     "{oscillations: 31, in: 10 s}",
	SettleMeasure:    "{settle: 7 s}",
	TraceMeasure:     "{trace: [{x: 1200 mm, y: 160 mm}], load: 200 g}",
}

// usualDeviations are the standard deviations of readings that come without:
// what a small balance, a tape, a hand on a stopwatch and a photograph can do
// (common practice, no source). That of oscillations is half of one.
var usualDeviations = map[Measure]string{
	WeightMeasure:    "0.1 g",
	BalanceMeasure:   "1 mm",
	PendulumMeasure:  "0.2 s",
	DropMeasure:      "1 mm",
	ThirdLoadMeasure: "1 %",
	TestCurveMeasure: "1 %",
	CountMeasure:     "0.5",
	SettleMeasure:    "10 %",
	TraceMeasure:     "3 mm",
}

// UsualDeviation is the standard deviation of a reading that comes without, and
// the unit of both.
func UsualDeviation(what Measure, value float64) (deviation float64, unit string) {
	d, text := measureDimensions[what], usualDeviations[what]
	if strings.HasSuffix(text, "%") {
		return units.MustParse(text, units.Of[units.Share]()) * math.Abs(value), d.Unit
	}
	return units.MustParse(text, d), d.Unit
}

var measureDimensions = map[Measure]*units.Dimension{
	WeightMeasure: units.Of[units.Mass](), BalanceMeasure: units.Of[units.Length](), PendulumMeasure: units.Of[units.Duration](), DropMeasure: units.Of[units.Length](),
	ThirdLoadMeasure: units.Of[units.Force](), TestCurveMeasure: units.Of[units.Force](), CountMeasure: units.Ratio, SettleMeasure: units.Of[units.Duration](), TraceMeasure: units.Of[units.Length](),
}

// pointTable is one point of a trace.
var pointTable = table[TracedPoint]{
	example: "{x: 1200 mm, y: 160 mm}",
	keys: []key[TracedPoint]{
		{"x", required, quantity(func(p *TracedPoint) *Given[units.Length] { return &p.X }, between("-30 m", longest))},
		{"y", required, quantity(func(p *TracedPoint) *Given[units.Length] { return &p.Y }, between("-30 m", longest))},
	},
}

// reading reads a value with its standard deviation, "165.8 g ± 0.5 g", or one
// that has the usual deviation.
func reading(what Measure, l limits) reader[Measured] {
	d := measureDimensions[what]
	b := l.in(d)
	expect := d.Expected() + ", with its standard deviation where it is not " + usualDeviations[what] + ", as in " + measuredExamples[what]
	return reader[Measured]{
		expect: expect,
		read: func(v value, m *Measured) {
			text, ok := v.text(expect)
			if !ok {
				return
			}
			plain, deviation, both := cutDeviation(text)
			if !both {
				deviation = usualDeviations[what]
			}
			read, ok := v.measure(plain, b, d, "")
			if !ok {
				return
			}
			dev, ok := v.deviation(deviation, read, d)
			if !ok {
				return
			}
			m.What, m.Value, m.Deviation, m.Unit, m.Text = what, read, dev, d.Unit, text
		},
	}
}

// cutDeviation parts a reading from its deviation.
func cutDeviation(text string) (value, deviation string, both bool) {
	for _, sign := range []string{"±", "+/-", "+-"} {
		if value, deviation, both = strings.Cut(text, sign); both {
			return strings.TrimSpace(value), strings.TrimSpace(deviation), true
		}
	}
	return text, "", false
}

// deviation reads a standard deviation, which may be a share of the value.
func (v value) deviation(text string, of float64, d *units.Dimension) (float64, bool) {
	if strings.HasSuffix(text, "%") && d != units.Ratio {
		part, ok := v.measure(text, upTo("100 %").in(units.Of[units.Share]()), units.Of[units.Share](), "")
		return part * of, ok && v.certain(part*of)
	}
	return v.measure(text, bounds{limits: limits{most: "what was read", positive: true}, max: math.Inf(1)}, d, "")
}

// certain notes a deviation of nothing, which no reading has.
func (v value) certain(deviation float64) bool {
	if deviation == 0 {
		v.fault("a share of nothing is no deviation; write it as a quantity")
	}
	return deviation > 0
}

// traceDeviation reads the deviation of a trace, over the usual one.
func traceDeviation() reader[Measured] {
	b := upTo("1 m").in(units.Of[units.Length]())
	return reader[Measured]{
		expect: units.Of[units.Length]().Expected(),
		read: func(v value, m *Measured) {
			if text, ok := v.text(units.Of[units.Length]().Expected()); ok {
				if si, ok := v.measure(text, b, units.Of[units.Length](), ""); ok {
					m.Deviation = si
				}
			}
		},
	}
}

// trace reads the points of a photograph.
func trace() reader[Measured] {
	points := list(func(m *Measured) *[]TracedPoint { return &m.Points }, &pointTable)
	read := points.read
	points.read = func(v value, m *Measured) {
		read(v, m)
		m.What, m.Unit = TraceMeasure, units.Of[units.Length]().Unit
		m.Deviation = units.MustParse(usualDeviations[TraceMeasure], units.Of[units.Length]())
	}
	return points
}

// date reads a day.
func date[T any](get func(*T) *Date) reader[T] {
	const expect = "a day such as 2026-11-07"
	return reader[T]{
		expect: expect,
		read: func(v value, into *T) {
			text, ok := v.text(expect)
			if !ok {
				return
			}
			day, err := time.Parse(time.DateOnly, text)
			if err != nil {
				v.fault("%q is not %s", spelling.Shorten(text), expect)
				return
			}
			*get(into) = Date{day, text, v.pos()}
		},
		walk: func(w *walk, path Path, from *T) { w.text(path, get(from).Text, get(from).Pos) },
	}
}
