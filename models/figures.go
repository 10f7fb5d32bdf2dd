package models

import (
	"math"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"rodlore/evaluate/figures"
	"rodlore/models/spelling"
	"rodlore/models/units"
)

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
		kind, ok := figures.Get(key)
		switch {
		case !ok:
			v.doc.fault(v.doc.pos(k), entry.path, "unknown figure %q%s", spelling.Shorten(k.Value), spelling.DidYouMean(key, figures.Keys(figures.Every)))
			continue
		case slices.ContainsFunc(m.Wants, func(w Want) bool { return w.Figure == key }):
			v.doc.fault(v.doc.pos(k), entry.path, "given twice under two spellings")
			continue
		}
		if w, ok := entry.want(key, units.BySI(kind.Unit)); ok {
			m.Wants = append(m.Wants, w)
		}
	}
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
