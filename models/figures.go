package models

import (
	"math"
	"strings"

	"gopkg.in/yaml.v3"

	"rodlore/evaluate/figures"
	"rodlore/models/spelling"
	"rodlore/models/units"
)

// wanting reads what is wanted of a rod.
func wanting[T any](of func(*T) *[]Want) reader[T] {
	return reader[T]{
		read: func(v value, t *T) { readWants(v, of(t)) },
		walk: func(w *walk, path Path, t *T) { walkWants(w, path, of(t)) },
	}
}

// readWants reads the map of figures and limits.
func readWants(v value, wants *[]Want) {
	if v.node.Kind != yaml.MappingNode {
		v.fault("is %s; expected figures and limits such as {weight: at most 205 g}", describe(v.node))
		return
	}
	v.byFigure(func(kind figures.Kind, entry value) {
		if w, ok := entry.want(kind.Key, units.BySI(kind.Unit)); ok {
			*wants = append(*wants, w)
		}
	})
}

// byFigure hands out the entries of a map of figures, whose keys may be spelt with
// spaces.
func (v value) byFigure(read func(kind figures.Kind, entry value)) {
	seen := map[string]bool{}
	for k, entry := range v.pairs(v.under) {
		key := strings.Join(strings.Fields(strings.ReplaceAll(k.Value, "-", " ")), "-")
		kind, ok := figures.Get(key)
		switch {
		case !ok:
			v.doc.fault(v.doc.pos(k), entry.path, "unknown figure %q%s", spelling.Shorten(k.Value), spelling.DidYouMean(key, figures.Keys(figures.Every)))
		case seen[key]:
			v.doc.fault(v.doc.pos(k), entry.path, "given twice under two spellings")
		default:
			seen[key] = true
			read(kind, entry)
		}
	}
}

// want reads the limits of one figure.
func (v value) want(key string, d *units.Dimension) (Want, bool) {
	text, ok := v.text("a limit such as at most " + d.Example)
	if !ok {
		return Want{}, false
	}
	low, high, ok := v.spanned(text, bounds{max: math.Inf(1)}, d)
	return Want{Figure: key, Pos: v.pos(), Text: text, Min: low, Max: high}, ok
}

// readNoticed reads the map of figures and of what an angler notices of them.
func readNoticed(v value, s *Settings) {
	if v.node.Kind != yaml.MappingNode {
		v.fault("is %s; expected figures and what is noticed of them such as {weight: 2 %%, balance: 15 mm}", describe(v.node))
		return
	}
	s.Noticed = map[string]figures.Noticed{}
	v.byFigure(func(kind figures.Kind, entry value) {
		if kind.Noticed == (figures.Noticed{}) {
			entry.fault("is counted, and every change of it is noticed; leave it out")
			return
		}
		if n, ok := entry.noticed(kind); ok {
			s.Noticed[kind.Key] = n
		}
	})
}

// noticed reads what is noticed of a figure: so much of it, or a share. Of a figure
// that is a share itself it is one or the other, as in the table of figures.
func (v value) noticed(kind figures.Kind) (n figures.Noticed, ok bool) {
	d := units.BySI(kind.Unit)
	text, ok := v.text(noticedOf(kind))
	if !ok {
		return n, false
	}
	share := kind.Noticed.Share > 0
	if kind.Unit != "1" {
		share = strings.HasSuffix(text, "%")
	}
	if share {
		n.Share, ok = v.measure(text, upTo("100 %").in(units.Of[units.Share]()), units.Of[units.Share](), "")
		return n, ok
	}
	n.Absolute, ok = v.measure(text, bounds{min: math.Inf(-1), max: math.Inf(1)}, d, "")
	if ok && n.Absolute <= 0 {
		v.fault("%q is not more than nothing", text)
		return n, false
	}
	return n, ok
}

// noticedOf says how it may be written.
func noticedOf(kind figures.Kind) string {
	if kind.Unit == "1" {
		return units.BySI(kind.Unit).Expected()
	}
	return "a share such as 3 %, or " + units.BySI(kind.Unit).Expected()
}
