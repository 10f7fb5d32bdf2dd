package models

import (
	"cmp"
	"slices"

	"rodlore/models/units"
)

// Two stations or rings nearer than this are the same one: paths tell places
// apart to 1 µm.
const distinct = 2e-6 // m

// fit is how far the stations may miss the ends of their section.
const fit = 0.5e-3 // m

// checkSection checks that s is made in exactly one way and that its stations
// run over its length.
func checkSection(v value, s *Section) {
	ways := 0
	for _, k := range sectionKinds {
		if k.given(s) {
			ways++
			v.checkStations(k, s)
			if k.check != nil {
				k.check(v, s)
			}
		}
	}
	switch {
	case ways == 0:
		v.fault("says not how it is made; expected one of tube, hexagon, solid, rolled, bought or stiffness")
	case ways > 1:
		v.fault("is made in %d ways; expected one of tube, hexagon, solid, rolled, bought or stiffness", ways)
	case s.OfOneMaterial() && s.Material.Text == "":
		v.at(s.Pos, "material", "is missing; %s", s.kind().needs)
	case !s.OfOneMaterial() && s.Material.Text != "":
		v.at(s.Material.Pos, "material", "belongs to a tube; expected it in the plies or not at all")
	}
}

func checkPlies(v value, s *Section) {
	for i, p := range s.Rolled.Plies {
		path := plyPath(Path{{Key: "rolled"}}, i).String()
		if p.To.Set() && s.Length.Set() && p.To.Value > s.Length.Value+fit {
			v.at(p.To.Pos, path+".to", "%q is beyond the section, which is %q long", p.To.Text, s.Length.Text)
		}
		if p.To.Set() && p.To.Value <= p.From.Value {
			v.at(p.To.Pos, path+".to", "%q is not beyond from, %q", p.To.Text, p.From.Text)
		}
	}
}

// Gaps are the stretches of rolled sections, of the rod and of tops, on which no ply
// lies: a Faults, or nil. There is no rod of such a spec, but it can be read, since
// some were saved before anybody looked for gaps.
func (m *Model) Gaps(tops ...Top) error {
	var doc document
	for i := range m.Sections {
		m.Sections[i].gaps(&doc, nil)
	}
	for i := range tops {
		for k := range tops[i].Sections {
			tops[i].Sections[k].gaps(&doc, topPath(&tops[i]))
		}
	}
	return doc.faults.err()
}

func (s *Section) gaps(doc *document, under Path) {
	if s.Rolled == nil {
		return
	}
	const meet = 1e-6 // m; places nearer than this are one to those who lay out the rod
	plies := make([]int, len(s.Rolled.Plies))
	for i := range plies {
		plies[i] = i
	}
	slices.SortStableFunc(plies, func(a, b int) int {
		return cmp.Compare(s.Rolled.Plies[a].From.Value, s.Rolled.Plies[b].From.Value)
	})
	gap := func(at Pos, ply int, key, from, to string) {
		path := plyPath(slices.Concat(under, SectionPath(*s)).To("rolled"), ply).To(key)
		doc.fault(at, path.String(), "no ply lies between %q and %q from the thin end; let plies meet or overlap there", from, to)
	}
	last, reached := 0, Given[units.Length]{Text: "0 mm"}
	for _, i := range plies {
		from, to := s.Rolled.Plies[i].From, s.Rolled.Plies[i].To
		if !to.Set() {
			to = s.Length
		}
		if from.Value > reached.Value+meet {
			gap(from.Pos, i, "from", reached.Text, from.Text)
		}
		if to.Value > reached.Value {
			last, reached = i, to
		}
	}
	if reached.Value < s.Length.Value-meet {
		gap(reached.Pos, last, "to", reached.Text, s.Length.Text)
	}
}

// checkStations checks that the stations ascend from 0 to the end of the section. A
// single one of a bought section is a fault of another kind.
func (v value) checkStations(k sectionKind, s *Section) {
	var at []Given[units.Length]
	for _, station := range k.stations(s) {
		at = append(at, station.At)
	}
	if len(at) == 0 || !allSet(at) || s.Bought != nil && len(at) == 1 {
		return
	}
	path := func(g Given[units.Length]) string { return k.path.String() + "[" + atLabel(g.Value) + "].at" }
	for i, g := range at[1:] {
		if !v.checkOrder(path(g), at[i], g) {
			return
		}
	}
	if first := at[0]; first.Value > fit {
		v.at(first.Pos, path(first), "the first station is at %q; expected 0 mm, the thin end", first.Text)
	}
	last := at[len(at)-1]
	if miss := last.Value - s.Length.Value; s.Length.Set() && (miss < -fit || miss > fit && !k.beyond) {
		v.at(last.Pos, path(last), "the last station is at %q; expected the length of the section, %q", last.Text, s.Length.Text)
	}
}

// checkOrder reports whether next lies beyond prev.
func (v value) checkOrder(path string, prev, next Given[units.Length]) bool {
	gap := next.Value - prev.Value
	switch {
	case gap < -distinct:
		v.at(next.Pos, path, "%q comes after %q; list them in ascending order", next.Text, prev.Text)
	case gap < distinct:
		v.at(next.Pos, path, "%q is given twice", next.Text)
	}
	return gap >= distinct
}

func allSet[U ~float64](gs []Given[U]) bool {
	return !slices.ContainsFunc(gs, func(g Given[U]) bool { return !g.Set() })
}

// checkJoint checks that j has what its kind needs and nothing else.
func checkJoint(v value, j *Joint) {
	if j.Outside.Set() && j.Wall.Set() && j.Wall.Value > j.Outside.Value/2 {
		v.at(j.Wall.Pos, "wall", "%q is thicker than half the outside of %q", j.Wall.Text, j.Outside.Text)
	}
	if j.Gap.Set() && j.Kind != Spigot && j.Kind != "" {
		v.at(j.Gap.Pos, "gap", "a gap is left at a spigot only; this joint is of kind %s", j.Kind)
	}
	if j.Gap.Set() && j.Length.Set() && j.Gap.Value >= j.Length.Value {
		v.at(j.Gap.Pos, "gap", "%q is as long as the spigot, %q", j.Gap.Text, j.Length.Text)
	}
	switch j.Kind {
	case Overlap, PutIn, Splice:
		for _, g := range []struct {
			name string
			pos  Pos
			set  bool
		}{
			{"outside", j.Outside.Pos, j.Outside.Set()},
			{"wall", j.Wall.Pos, j.Wall.Set()},
			{"material", j.Material.Pos, j.Material.Text != ""},
			{"mass", j.Mass.Pos, j.Mass.Set() && j.Kind != Splice},
		} {
			if g.set {
				v.at(g.pos, g.name, "belongs to a spigot or ferrule; a joint of kind %s has no plug or sleeve", j.Kind)
			}
		}
	case Spigot, Ferrule:
		if !j.Outside.Set() {
			v.at(j.Pos, "outside", "is missing; a %s needs its diameter", j.Kind)
		}
		if j.Material.Text == "" {
			v.at(j.Pos, "material", "is missing; a %s needs one", j.Kind)
		}
	}
	if j.Kind == Ferrule && !j.Wall.Set() {
		v.at(j.Pos, "wall", "is missing; a ferrule is a sleeve and needs one")
	}
}

func checkGrip(v value, g *Grip) {
	bought, turned := g.Part.Text != "", g.Material.Text != "" || g.Diameter.Set()
	switch {
	case bought && turned:
		v.at(g.Part.Pos, "part", "a bought grip has its own diameter and material; give part or those two")
	case !bought && (g.Material.Text == "" || !g.Diameter.Set()):
		v.fault("needs either part or both material and diameter")
	case bought && g.Ends.Set():
		v.at(g.Ends.Pos, "ends", "belongs to a turned grip; a bought one has its own shape")
	}
	if g.From.Set() && g.To.Set() && g.To.Value < g.From.Value+distinct {
		v.at(g.To.Pos, "to", "%q is not beyond from, %q", g.To.Text, g.From.Text)
	}
}

// checkRingPart checks that a ring has the feet it says it has.
func checkRingPart(v value, p *Part) {
	given := p.Foot.Pos != Pos{}
	switch {
	case p.Feet == feetUnknown:
		return
	case p.Feet == 0 && given:
		v.at(p.Foot.Pos, "foot", "a tip ring, feet 0, sits in a tube and has no foot")
	case p.Feet > 0 && !given:
		v.at(v.pos(), "foot", "is missing; a ring on feet needs their length, width and thickness")
	case p.Feet == 1 && p.Foot.Spread.Set():
		v.at(p.Foot.Spread.Pos, "foot.spread", "is the distance between two feet; this ring has one")
	case p.Feet == 2 && given && !p.Foot.Spread.Set():
		v.at(p.Foot.Pos, "foot.spread", "is missing; a ring on two feet needs the distance between their middles")
	}
	if p.Feet > 0 && p.Frame.Text == "" {
		v.at(v.pos(), "frame", "is missing; expected the material of frame and feet, such as steel")
	}
}

// checkPartNames notes names that two kinds of part share.
func checkPartNames(v value, p *Parts) {
	first := make(map[string]*Part, len(p.All))
	for _, part := range p.All {
		if other := first[part.Name]; other != nil {
			v.at(part.Pos, string(part.Kind)+"["+part.Name+"]", "the name is taken by one of the %s in line %d; give every part its own",
				other.Kind, other.Pos.Line)
			continue
		}
		first[part.Name] = part
	}
}
