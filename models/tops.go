package models

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"rodlore/models/units"
)

// Top is another top that goes on the same butt, with rings of its own: a heavy one,
// or a fine one for watching bites.
type Top struct {
	Name     Word
	Pos      Pos
	For      Word              // what it is for
	Casts    Range[units.Mass] // unset means as with the main top
	Sections []Section         // butt side first
	Joints   []Joint           // that to the butt may be left out: it is that of the main top
	Rings    []Ring            // from the tip, as far as the top goes
	Wants    []Want            // of the rod with it
}

const maxTops = 12

var topTable = table[Top]{
	example: "{name: fine, for: watching bites, sections: [...], rings: [...]}",
	label:   "name",
	pos:     func(t *Top) *Pos { return &t.Pos },
	entry:   func(t *Top) Segment { return entryNamed(t.Name.Text) },
	keys: []key[Top]{
		{"name", required, name(func(t *Top) *Word { return &t.Name })},
		{"for", optional, word(func(t *Top) *Word { return &t.For })},
		{"casts", optional, span(func(t *Top) *Range[units.Mass] { return &t.Casts }, upTo("5 kg"))},
		{"sections", required, listUpTo(maxSections, func(t *Top) *[]Section { return &t.Sections }, &sectionTable)},
		{"joints", optional, list(func(t *Top) *[]Joint { return &t.Joints }, &jointTable)},
		{"rings", required, listUpTo(maxRings, func(t *Top) *[]Ring { return &t.Rings }, &ringTable)},
		{"wants", optional, wanting(func(t *Top) *[]Want { return &t.Wants })},
	},
	check: func(v value, t *Top) {
		if strings.Contains(t.Name.Text, "@") {
			v.at(t.Name.Pos, "name", `%q has a "@", which parts a rod from its revision`, t.Name)
		}
		// The rings stand on the top alone, where there is no handle.
		checkRings(v, &Model{Rings: t.Rings})
	},
}

func topPath(t *Top) Path { return Path{}.In("tops", entryNamed(t.Name.Text)) }

// Top is the rod with another of its tops, as if its spec were written out; false
// where it has no top of that name.
func (s *Spec) Top(name string) (*Spec, bool) {
	i := slices.IndexFunc(s.tops, func(t *Spec) bool { return t.on == name })
	if i < 0 {
		return nil, false
	}
	return s.tops[i], true
}

// TopNames are the names of the tops that Top gives, in the order of the spec.
func (s *Spec) TopNames() []string {
	var names []string
	for _, t := range s.tops {
		names = append(names, t.on)
	}
	return names
}

// resolveTops looks up what the rods with the other tops are made of.
func (r *resolver) resolveTops() {
	for i := range r.spec.Tops {
		t := &r.spec.Tops[i]
		m, misfit := r.spec.with(t)
		if misfit != nil {
			continue // only in a spec made by a program, whose tops were not checked
		}
		top := newResolver(m, r.parts, r.materials)
		top.names()
		top.spec.on = t.Name.Text
		r.spec.tops = append(r.spec.tops, top.spec)
	}
}

// topNames looks up the names in the tops alone.
func (r *resolver) topNames() {
	for i := range r.spec.Tops {
		t := &r.spec.Tops[i]
		own := newResolver(&Model{Sections: t.Sections, Joints: t.Joints, Rings: t.Rings}, r.parts, r.materials)
		own.sections()
		own.joints()
		own.rings()
		for _, f := range own.doc.faults {
			if f.Pos.File == r.spec.File {
				f.Path = topPath(t).String() + "." + f.Path
			}
			r.doc.faults = append(r.doc.faults, f)
		}
	}
}

// with is the model with another top, as if it were written out: the sections above the
// joint of the top, and the rings on them, are replaced by the top's own. What was measured
// of the bare blank as a whole is about the main top and left out. If the top does not fit
// on, misfit says why.
func (m *Model) with(t *Top) (*Model, *Fault) {
	on, joint, misfit := m.seatOf(t)
	if misfit != nil {
		return nil, misfit
	}
	w := *m
	w.Name.Text += " + " + t.Name.Text
	w.Was, w.Wants, w.Tops = Word{}, t.Wants, nil
	if t.For.Text != "" {
		w.Job = t.For
	}
	if t.Casts.Text != "" {
		w.Casts = t.Casts
	}
	kept := m.Sections[:on+1]
	w.Sections = slices.Concat(kept, t.Sections)
	w.Joints = slices.Concat(m.Joints[:on], []Joint{joint}, slices.DeleteFunc(slices.Clone(t.Joints), func(j Joint) bool { return j.Between == joint.Between }))
	longer := units.Length(w.TotalLength() - m.TotalLength())
	w.Length = Millimetres(units.Length(w.TotalLength()))
	w.Length.Pos = t.Pos
	w.Rings = slices.Clone(t.Rings)
	for _, r := range m.Rings {
		if m.SectionAt(float64(r.At.Value)) <= on {
			pos := r.At.Pos
			r.At = Millimetres(r.At.Value + longer)
			r.At.Pos = pos
			w.Rings = append(w.Rings, r)
		}
	}
	stays := func(section Word) bool {
		return slices.ContainsFunc(kept, func(s Section) bool { return s.Name.Text == section.Text })
	}
	w.Blank = BareBlank{Held: m.Blank.Held}
	for _, read := range m.Blank.Measured {
		if stays(read.Section) {
			w.Blank.Measured = append(w.Blank.Measured, read)
		}
	}
	if m.Fitted != nil {
		fitted := *m.Fitted
		fitted.Modulus, fitted.Wall = ofKept(fitted.Modulus, stays), ofKept(fitted.Wall, stays)
		w.Fitted = &fitted
	}
	return &w, nil
}

func ofKept[U ~float64](list []OfSection[U], stays func(Word) bool) []OfSection[U] {
	return slices.DeleteFunc(slices.Clone(list), func(o OfSection[U]) bool { return !stays(o.Section) })
}

// seatOf is the index of the section that a top goes on, and the joint by which it
// does.
func (m *Model) seatOf(t *Top) (on int, joint Joint, misfit *Fault) {
	on = m.PieceOf(len(m.Sections)-1) - 1 // below what is glued together
	first := t.Sections[0].Name
	at := slices.IndexFunc(t.Joints, func(j Joint) bool {
		return j.Between[1].Text == first.Text && !slices.ContainsFunc(t.Sections, func(s Section) bool { return s.Name.Text == j.Between[0].Text })
	})
	if at >= 0 {
		below, between := t.Joints[at].Between[0], topPath(t).In("joints", jointSegment(&t.Joints[at])).To("between").String()
		on = m.SectionIndex(below.Text)
		if on < 0 || on == len(m.Sections)-1 {
			return 0, Joint{}, &Fault{below.Pos, between,
				fmt.Sprintf("no section that carries a top is named %q; the sections are %s", below, strings.Join(m.SectionNames(), ", "))}
		}
		if m.Joints[on].Kind == Splice {
			return 0, Joint{}, &Fault{below.Pos, between,
				fmt.Sprintf("what is above %s is glued into it for good; no other top goes there", below)}
		}
		return on, t.Joints[at], nil
	}
	if on < 0 {
		return 0, Joint{}, &Fault{t.Pos, topPath(t).String(), "the rod is of one section, which has no joint for another top"}
	}
	joint = m.Joints[on]
	joint.Between[1] = first
	return on, joint, nil
}

// checkTops checks every top on its butt, of a model that is sound without them.
func checkTops(v value, m *Model) {
	if m.Bare {
		if len(m.Tops) > 0 && m.Tops[0].Pos.Line > 0 { // else it is told as no top already
			v.at(m.Tops[0].Pos, "tops", "are of a rod; a bare blank has one top")
		}
		return
	}
	if len(m.Joints) < len(m.Sections)-1 {
		return // the butt was not read, which is a fault already
	}
	taken := map[string]Pos{}
	for i := range m.Tops {
		t := &m.Tops[i]
		if pos, twice := taken[t.Name.Text]; twice && t.Name.Text != "" {
			v.at(t.Name.Pos, topPath(t).To("name").String(), "%q is the name of two tops; the first is in line %d", t.Name, pos.Line)
		}
		taken[t.Name.Text] = t.Name.Pos
		if t.whole() {
			checkTop(value{v.doc, &yaml.Node{Kind: yaml.MappingNode, Line: t.Pos.Line, Column: t.Pos.Col}, topPath(t).String()}, m, t)
		}
	}
}

// whole reports whether a top was read well enough to be put on a butt.
func (t *Top) whole() bool {
	return len(t.Sections) > 0 && len(t.Rings) > 0 &&
		!slices.ContainsFunc(t.Sections, func(s Section) bool { return !s.Length.Set() }) &&
		!slices.ContainsFunc(t.Joints, func(j Joint) bool { return !j.Length.Set() || j.Kind == "" || j.Between[0].Text == "" })
}

func checkTop(v value, m *Model, t *Top) {
	w, misfit := m.with(t)
	if misfit != nil {
		v.doc.faults = append(v.doc.faults, misfit)
		return
	}
	if !checkSectionNames(v, w) || !checkJoints(v, w) {
		return
	}
	checkLength(v, w)
	on, joint, _ := m.seatOf(t)
	end := w.SectionSpans()[on+1].To
	for _, r := range t.Rings {
		if float64(r.At.Value) > end {
			v.at(r.At.Pos, RingPath(r).To("at").String(), "%q is beyond the top, which ends %s from its tip; the rings of the butt are those of the main top",
				r.At.Text, millimetres(units.Length(end)))
		}
	}
	m.checkFit(v, t, on, joint)
}

// jointMiss is how far the end of a top may be other than the joint of its butt
// takes it: what sanding or a layer of varnish makes good (common practice, no
// source).
const jointMiss = 0.1e-3 // m

// checkFit checks that the end of a top fits the joint of the butt, into or over
// which the main top fits.
func (m *Model) checkFit(v value, t *Top, on int, joint Joint) {
	usual, butt := m.Joints[on], m.Sections[on]
	main, top := m.Sections[on+1], t.Sections[0]
	path, pos := SectionPath(top), top.Name.Pos
	if joint.Pos != usual.Pos {
		path, pos = JointPath(joint), joint.Pos
	}
	misses := func(what string, have, takes float64) {
		if miss := have - takes; miss > jointMiss || miss < -jointMiss {
			word := "wide"
			if miss < 0 {
				word, miss = "narrow", -miss
			}
			v.at(pos, path.String(), "does not fit the butt: its %s is %s where that takes %s, %s too %s",
				what, millimetres(units.Length(have)), millimetres(units.Length(takes)), millimetres(units.Length(miss)), word)
		}
	}
	if joint.Kind != usual.Kind {
		v.at(pos, path.String(), "does not fit the butt: it is of kind %s, and the joint of that is of kind %s", joint.Kind, usual.Kind)
		return
	}
	// From the end of the top: its mouth, and as far as the joint reaches into it.
	depth, usualDepth := joint.Length.Value, usual.Length.Value
	across, inside := (*Section).bore, "bore"
	if joint.Kind.HasPart() {
		if joint.Outside.Set() {
			misses("joint's outside", float64(joint.Outside.Value), float64(usual.Outside.Value))
		}
		depth, usualDepth = depth/2, usualDepth/2
	}
	if joint.Kind == Ferrule || joint.Kind.GoesIn() {
		across, inside = (*Section).outside, "outside"
	}
	for _, end := range []struct {
		where               string
		have, usual, fromOn units.Length
	}{
		{" at its end", 0, 0, depth - usualDepth},
		{" " + millimetres(depth) + " from its end", depth, usualDepth, 0},
	} {
		have, ok := across(&top, top.Length.Value-end.have)
		takes, known := across(&main, main.Length.Value-end.usual)
		if joint.Kind == Overlap && end.fromOn != 0 {
			thin, both := butt.surface(usualDepth)
			thick, too := butt.surface(depth)
			takes, known = takes+thick-thin, known && both && too
		}
		if ok && known {
			misses(inside+end.where, have, takes)
		}
	}
}

// bore is the inner diameter at a place; false where the spec does not say it.
func (s *Section) bore(at units.Length) (float64, bool) {
	st := s.Stations()
	if st.Mandrel != nil {
		return st.between(st.Mandrel, at)
	}
	for i := range st.Wall {
		st.Wall[i] = st.Outside[i] - 2*st.Wall[i]
	}
	return st.between(st.Wall, at)
}

// outside is the outer diameter at a place; false where the spec does not say it.
func (s *Section) outside(at units.Length) (float64, bool) {
	st := s.Stations()
	return st.between(st.Outside, at)
}

// surface is the outside but for something that is the same all along a joint: of a
// rolled section the thickness of its plies.
func (s *Section) surface(at units.Length) (float64, bool) {
	if s.Rolled != nil {
		return s.bore(at)
	}
	return s.outside(at)
}
