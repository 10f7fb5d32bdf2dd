package models

import (
	"math"
	"slices"
	"strings"

	"rodlore/models/spelling"
	"rodlore/models/units"

	"gopkg.in/yaml.v3"
)

// FigureName is a figure that a model's wants may name.
type FigureName struct {
	Key  string // "test-curve"
	Unit string // SI; "1" for counts and shares, "currency" for money
}

var figureDimensions = []struct {
	key string
	dim *units.Dimension
}{
	{"weight", units.BySI("kg")},
	{"blank-weight", units.BySI("kg")},
	{"ring-weight", units.BySI("kg")},
	{"handle-weight", units.BySI("kg")},
	{"whipping-weight", units.BySI("kg")},
	{"balance", units.BySI("m")},
	{"balance-with-reel", units.BySI("m")},
	{"swing", units.BySI("kg·m²")},
	{"rings", units.Ratio},
	{"butt-rings", units.Ratio},
	{"butt-ring-size", units.BySI("m")},
	{"butt-ring-to-reel", units.BySI("m")},
	{"test-curve", units.BySI("N")},
	{"third-load", units.BySI("N")},
	{"third-turn", units.BySI("rad")},
	{"half-turn", units.Ratio},
	{"tip-drop", units.BySI("m")},
	{"recovery", units.BySI("Hz")},
	{"second-mode", units.BySI("Hz")},
	{"settle", units.BySI("s")},
	{"cast-mass", units.BySI("kg")},
	{"tip-stiffness", units.BySI("N/m")},
	{"cast-share", units.Ratio},
	{"cast-lead", units.BySI("kg")},
	{"flat-turn", units.BySI("rad")},
	{"flat-worst", units.Ratio},
	{"line-gap", units.BySI("m")},
	{"line-touch", units.BySI("m")},
	{"ring-load-worst", units.BySI("N")},
	{"ring-turn-spread", units.Ratio},
	{"line-angle-sum", units.BySI("rad")},
	{"strain-worst", units.Ratio},
	{"load-limit", units.BySI("N")},
	{"parts-cost", units.BySI("currency")},
	{"bench-time", units.BySI("s")},
}

// Figures lists every figure that wants may name, in the order in which they
// are shown.
func Figures() []FigureName {
	names := make([]FigureName, len(figureDimensions))
	for i, f := range figureDimensions {
		names[i] = FigureName{f.key, f.dim.Unit}
	}
	return names
}

// figureDimension is the dimension of the figure key, nil where there is none.
func figureDimension(key string) *units.Dimension {
	for _, f := range figureDimensions {
		if f.key == key {
			return f.dim
		}
	}
	return nil
}

func wants() reader[Model] {
	return reader[Model]{read: readWants, schema: wantsSchema}
}

// readWants reads the map of figures and limits. A figure's key may be spelt
// with spaces.
func readWants(v value, m *Model) {
	if v.node.Kind != yaml.MappingNode {
		v.fault("is %s; expected figures and limits such as {weight: at most 205 g}", describe(v.node))
		return
	}
	for k, entry := range v.pairs(v.under) {
		key := strings.Join(strings.Fields(strings.ReplaceAll(k.Value, "-", " ")), "-")
		d := figureDimension(key)
		switch {
		case d == nil:
			v.doc.fault(v.doc.pos(k), entry.path, "unknown figure %q%s", spelling.Shorten(k.Value), suggestFigure(key))
			continue
		case slices.ContainsFunc(m.Wants, func(w Want) bool { return w.Figure == key }):
			v.doc.fault(v.doc.pos(k), entry.path, "given twice under two spellings")
			continue
		}
		if w, ok := entry.want(key, d); ok {
			m.Wants = append(m.Wants, w)
		}
	}
}

func suggestFigure(key string) string {
	var keys []string
	for _, f := range figureDimensions {
		keys = append(keys, f.key)
	}
	return spelling.DidYouMean(key, keys)
}

// want reads the limits of one figure.
func (v value) want(key string, d *units.Dimension) (Want, bool) {
	w := Want{Figure: key, Pos: v.pos(), Min: math.Inf(-1), Max: math.Inf(1)}
	text, ok := v.text("a limit such as at most " + d.Example)
	if !ok || !v.wellSpanned(text) {
		return w, false
	}
	w.Text = text
	low, high := splitRange(text)
	ok = v.limit(&w.Min, low, d) && v.limit(&w.Max, high, d)
	return w, ok && v.ascending(text, true, w.Min, w.Max)
}

func (v value) limit(into *float64, text string, d *units.Dimension) bool {
	if text == "" {
		return true
	}
	si, ok := v.measure(text, bounds{max: math.Inf(1)}, d, "")
	if ok {
		*into = si
	}
	return ok
}
