package models

import (
	"math"
	"slices"
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

// ReadingKind is what holds of one kind of reading.
type ReadingKind struct {
	What   Measure
	of     *units.Dimension
	limits interval // of a reading
	// usual is the standard deviation of a reading that comes without: what a small
	// balance, a tape, a hand on a stopwatch and a photograph can do (common
	// practice, no source). That of oscillations is half of one.
	usual   string
	Example string
	// Wants are the keys that it must have beside its reading, May those that it may.
	Wants, May []string
}

// ReadingKinds are all kinds of readings there are.
var ReadingKinds = []ReadingKind{
	{WeightMeasure, units.Of[units.Mass](), upTo(heaviest), "0.1 g", "{weight: 165.8 g ± 0.5 g}", nil, []string{"section"}},
	{BalanceMeasure, units.Of[units.Length](), upTo(longest), "1 mm", "{balance: 842 mm}", nil, []string{"section"}},
	{PendulumMeasure, units.Of[units.Duration](), upTo("1 h"), "0.2 s", "{pendulum: 41.3 s, swings: 20, pivot: 10 mm, section: tip}", []string{"swings", "pivot"}, []string{"section"}},
	{DropMeasure, units.Of[units.Length](), fromZero(longest), "1 mm", "{drop: 472 mm, load: 100 g}", []string{"load"}, []string{"at"}},
	{ThirdLoadMeasure, units.Of[units.Force](), upTo("100 kg"), "1 %", "{third load: 228 g ± 1 g}", nil, nil},
	{TestCurveMeasure, units.Of[units.Force](), upTo("100 kg"), "1 %", "{test curve: 640 g}", nil, nil},
	{CountMeasure, units.Ratio, upTo("10000"), "0.5", "{oscillations: 31, in: 10 s}", []string{"in"}, nil},
	{SettleMeasure, units.Of[units.Duration](), upTo("1 h"), "10 %", "{settle: 7 s}", nil, nil},
	{TraceMeasure, units.Of[units.Length](), interval{}, "3 mm", "{trace: [{x: 1200 mm, y: 160 mm}], load: 200 g}", []string{"load"}, []string{"within"}},
}

// kindOf is the kind of a measure.
func kindOf(what Measure) ReadingKind {
	return ReadingKinds[slices.IndexFunc(ReadingKinds, func(k ReadingKind) bool { return k.What == what })]
}

// UsualDeviation is the standard deviation of a reading that comes without, and
// the unit of both.
func UsualDeviation(what Measure, value float64) (deviation float64, unit string) {
	k := kindOf(what)
	if strings.HasSuffix(k.usual, "%") {
		return units.MustParse(k.usual, units.Of[units.Share]()) * math.Abs(value), k.of.Unit
	}
	return units.MustParse(k.usual, k.of), k.of.Unit
}

var measuredTable = table[Measured]{
	example: ReadingKinds[0].Example,
	pos:     func(m *Measured) *Pos { return &m.Pos },
	keys: append(readings(), []key[Measured]{
		{"section", optional, word(func(m *Measured) *Word { return &m.Section })},
		{"at", optional, position(func(m *Measured) *Given[units.Length] { return &m.At }, fromZero(longest), "tip")},
		{"load", optional, quantity(func(m *Measured) *Given[units.Force] { return &m.Load }, fromZero("100 kg"))},
		{"pivot", optional, position(func(m *Measured) *Given[units.Length] { return &m.Pivot }, fromZero(longest), "butt")},
		{"swings", optional, count(func(m *Measured) *int { return &m.Swings }, 1, 1000)},
		{"in", optional, quantity(func(m *Measured) *Given[units.Duration] { return &m.During }, upTo("1 h"))},
		{"within", optional, unwalked(amount(func(m *Measured) *float64 { return &m.Deviation }, upTo("1 m"), units.Of[units.Length]()))},
	}...),
	check: checkMeasured,
}

// readings are the keys that hold a reading.
func readings() []key[Measured] {
	keys := make([]key[Measured], len(ReadingKinds))
	for i, k := range ReadingKinds {
		keys[i] = key[Measured]{string(k.What), optional, reading(k)}
		if k.What == TraceMeasure {
			keys[i].reader = trace(k)
		}
	}
	return keys
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
func reading(k ReadingKind) reader[Measured] {
	expect := k.of.Expected() + ", with its standard deviation where it is not " + k.usual + ", as in " + k.Example
	return scalar(expect, func(v value, text string, m *Measured) {
		plain, deviation, both := cutDeviation(text)
		if !both {
			deviation = k.usual
		}
		read, ok := v.measure(plain, k.limits.in(k.of), k.of, "")
		if !ok {
			return
		}
		if dev, ok := v.deviation(deviation, read, k.of); ok {
			m.What, m.Value, m.Deviation, m.Unit, m.Text = k.What, read, dev, k.of.Unit, text
		}
	})
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
	return v.measure(text, bounds{interval: interval{most: "what was read", positive: true}, max: math.Inf(1)}, d, "")
}

// certain notes a deviation of nothing, which no reading has.
func (v value) certain(deviation float64) bool {
	if deviation == 0 {
		v.fault("a share of nothing is no deviation; write it as a quantity")
	}
	return deviation > 0
}

// trace reads the points of a photograph.
func trace(k ReadingKind) reader[Measured] {
	return list(func(m *Measured) *[]TracedPoint { return &m.Points }, &pointTable).then(func(_ value, m *Measured) {
		m.What, m.Unit, m.Deviation = k.What, k.of.Unit, units.MustParse(k.usual, k.of)
	})
}

// date reads a day.
func date[T any](get func(*T) *Date) reader[T] {
	const expect = "a day such as 2026-11-07"
	return scalar(expect, func(v value, text string, into *T) {
		day, err := time.Parse(time.DateOnly, text)
		if err != nil {
			v.fault("%q is not %s", spelling.Shorten(text), expect)
			return
		}
		*get(into) = Date{day, text, v.pos()}
	}).walked(func(w *walk, path Path, from *T) { w.text(path, get(from).Text, get(from).Pos) })
}
