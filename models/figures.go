package models

import (
	"math"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// FigureName is a figure that a model's wants may name.
type FigureName struct {
	Key  string // "test-curve"
	Unit string // SI; "1" for counts and shares, "currency" for money
}

var figureDimensions = []struct {
	key string
	dim *dimension
}{
	{"weight", mass},
	{"blank-weight", mass},
	{"ring-weight", mass},
	{"handle-weight", mass},
	{"whipping-weight", mass},
	{"balance", length},
	{"balance-with-reel", length},
	{"swing", inertia},
	{"rings", ratio},
	{"butt-rings", ratio},
	{"butt-ring-size", length},
	{"butt-ring-to-reel", length},
	{"test-curve", force},
	{"third-load", force},
	{"third-turn", angle},
	{"half-turn", ratio},
	{"tip-drop", length},
	{"recovery", frequency},
	{"second-mode", frequency},
	{"settle", duration},
	{"cast-mass", mass},
	{"tip-stiffness", stiffness},
	{"cast-share", ratio},
	{"cast-lead", mass},
	{"flat-turn", angle},
	{"flat-worst", ratio},
	{"line-gap", length},
	{"line-touch", length},
	{"ring-load-worst", force},
	{"ring-turn-spread", ratio},
	{"line-angle-sum", angle},
	{"strain-worst", ratio},
	{"load-limit", force},
	{"parts-cost", money},
	{"bench-time", duration},
}

// Figures lists every figure that wants may name, in the order in which they
// are shown.
func Figures() []FigureName {
	names := make([]FigureName, len(figureDimensions))
	for i, f := range figureDimensions {
		names[i] = FigureName{f.key, f.dim.unit}
	}
	return names
}

// figureDimension is the dimension of the figure key, nil where there is none.
func figureDimension(key string) *dimension {
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
			v.doc.fault(v.doc.pos(k), entry.path, "unknown figure %q%s", shorten(k.Value), suggestFigure(key))
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
	return suggest(key, keys)
}

// want reads the limits of one figure.
func (v value) want(key string, d *dimension) (Want, bool) {
	w := Want{Figure: key, Pos: v.pos(), Min: math.Inf(-1), Max: math.Inf(1)}
	text, ok := v.text("a limit such as at most " + d.example)
	if !ok || !v.wellSpanned(text) {
		return w, false
	}
	w.Text = text
	low, high := splitRange(text)
	ok = v.limit(&w.Min, low, d) && v.limit(&w.Max, high, d)
	return w, ok && v.ascending(text, true, w.Min, w.Max)
}

func (v value) limit(into *float64, text string, d *dimension) bool {
	if text == "" {
		return true
	}
	si, ok := v.measure(text, bounds{max: math.Inf(1)}, d, "")
	if ok {
		*into = si
	}
	return ok
}
