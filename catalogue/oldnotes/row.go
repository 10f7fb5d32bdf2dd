package oldnotes

import (
	"cmp"
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"rodlore/models"
	"rodlore/models/units"
)

// row reads one rod.
func (t *table) row(cells []cell) Entry {
	values := map[string]cell{}
	for i, c := range cells {
		switch {
		case i >= len(t.columns):
			if c.text != "" {
				t.fault(c.pos, "", "%q stands in no column: the first line names %d", c.text, len(t.columns))
			}
		case t.columns[i] != "" && c.text != "":
			values[t.columns[i]] = c
		}
	}
	e := Entry{Pos: models.Pos{File: t.file, Line: cells[0].pos.Line, Col: 1}, Tell: values["tell"].text}
	e.Label = models.Word{Text: values["release"].text, Pos: values["release"].pos}
	e.Why = cmp.Or(values["why"].text, fmt.Sprintf("from %s, line %d", path.Base(t.file), e.Pos.Line))
	t.day(&e, values)
	if spec, ok := values["spec"]; ok {
		t.copied(&e, spec)
	} else {
		e.Rings = t.rings(e.Pos, values)
	}
	return e
}

// day reads when it was; a release that is a year says it too.
func (t *table) day(e *Entry, values map[string]cell) {
	when, ok := values["date"]
	if !ok {
		if when, ok = values["release"]; !ok || !regexp.MustCompile(`^\d{4}$`).MatchString(when.text) {
			t.fault(e.Pos, "date", "it is not said when this was; give a day, a month or a year")
			return
		}
	}
	var err error
	if e.Day, e.Exact, err = readDay(when.text, t.options.Now); err != nil {
		t.fault(when.pos, "date", "%v", err)
	}
}

// copied reads a copy of the whole spec.
func (t *table) copied(e *Entry, spec cell) {
	src, err := t.options.Open(spec.text)
	if err != nil {
		t.fault(spec.pos, "spec", "%v", err)
		return
	}
	e.Spec, e.SpecFile = src, spec.text
}

// rings reads the places and parts of a row. An empty cell is no ring.
func (t *table) rings(row models.Pos, values map[string]cell) []models.Ring {
	var rings []models.Ring
	for _, n := range numbers(values) {
		place, ok := values[fmt.Sprintf("ring %d", n)]
		part := values[fmt.Sprintf("part %d", n)]
		if !ok {
			t.fault(part.pos, fmt.Sprintf("part %d", n), "there is a part and no place for it in ring %d", n)
			continue
		}
		r := t.ring(fmt.Sprintf("ring %d", n), place)
		r.Part = models.Word{Text: part.text, Pos: part.pos}
		rings = append(rings, r)
	}
	if list, ok := values["rings"]; ok {
		for _, text := range places(list.text) {
			rings = append(rings, t.ring("rings", cell{text, list.pos}))
		}
	}
	if len(rings) == 0 {
		t.fault(row, "rings", "no ring is noted; a rod without any is noted as a copy of its spec")
	}
	t.ordered(rings)
	return rings
}

// numbers are those of the rings that a row tells of.
func numbers(values map[string]cell) []int {
	found := map[int]bool{}
	for name := range values {
		if m := numbered.FindStringSubmatch(name); m != nil {
			found[number(m[2], 0)] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// ordered tells the first ring that is no further from the tip than the one
// before it.
func (t *table) ordered(rings []models.Ring) {
	for i := 1; i < len(rings); i++ {
		if a, b := rings[i-1].At, rings[i].At; a.Set() && b.Set() && b.Value <= a.Value {
			t.fault(b.Pos, "rings", "%s is no further from the tip than %s, the ring before; rings are noted from the tip", b.Text, a.Text)
			return
		}
	}
}

var (
	decimalComma = regexp.MustCompile(`^(\d+),(\d+)(\D*)$`)
	bare         = regexp.MustCompile(`^[\d./¼½¾⅓⅔⅛⅜⅝⅞ ]+$`)
)

// ring reads one place.
func (t *table) ring(path string, c cell) models.Ring {
	text := decimalComma.ReplaceAllString(c.text, "$1.$2$3")
	if bare.MatchString(text) {
		text += " " + t.options.Unit
	}
	r := models.Ring{Pos: c.pos}
	at, err := units.ParseAs[units.Length](text)
	if err != nil {
		t.fault(c.pos, path, "%v", err)
		return r
	}
	r.At = models.Given[units.Length]{Value: at, Text: text, Pos: c.pos}
	return r
}

// places parts a list of places. What is parted by slashes or semicolons may have
// spaces within, "3 3/4 in" not.
func places(text string) []string {
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' || r == '|' })
	if len(fields) == 1 {
		fields = strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '/' || r == '\t' || r == '\u00a0' })
	}
	var list []string
	for _, f := range fields {
		if f = strings.TrimSpace(f); f != "" {
			list = append(list, f)
		}
	}
	return list
}
