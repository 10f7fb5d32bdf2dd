package models

import (
	"fmt"

	"rodlore/models/spelling"
)

// Spec is a model's spec with every shared part and material that it uses
// filled in. It is what figures are worked out from and what a revision is.
type Spec struct {
	*Model
	Parts     map[string]*Part     // the parts used, by name
	Materials map[string]*Material // the materials used, by name

	tops []*Spec // the rod with each of its other tops
	on   string  // the name of its top, where that is another than the main one
}

// Resolve looks up the parts and materials that m names and checks what can
// only be checked with them. The error, if any, is a Faults with every fault.
func Resolve(m *Model, parts *Parts, materials *Materials) (*Spec, error) {
	r := newResolver(m, parts, materials)
	seat := r.names()
	if seat != nil {
		r.checkSeat(m.Handle.Seat, seat)
	}
	if err := r.doc.faults.err(); err != nil {
		return nil, err
	}
	r.resolveTops()
	if m.Bare {
		return r.spec.Bared(), nil
	}
	return r.spec, nil
}

// ParseSpec reads a model's spec and resolves it. Of a spec with faults the
// names of parts and materials are looked up all the same, so that the Faults
// it returns are all of them.
func ParseSpec(file string, src []byte, parts *Parts, materials *Materials) (*Spec, error) {
	m, doc := readModel(file, src)
	if len(doc.faults) == 0 {
		return Resolve(m, parts, materials)
	}
	r := newResolver(m, parts, materials)
	r.names()
	return nil, append(doc.faults, r.doc.faults...).err()
}

func newResolver(m *Model, parts *Parts, materials *Materials) *resolver {
	return &resolver{
		spec:      &Spec{Model: m, Parts: map[string]*Part{}, Materials: map[string]*Material{}},
		parts:     parts,
		materials: materials,
	}
}

// names looks up every name in the spec and gives the reel seat.
func (r *resolver) names() (seat *Part) {
	r.sections()
	r.joints()
	r.rings()
	r.part("finish.thread", r.spec.Finish.Thread, ThreadPart)
	r.part("finish.varnish", r.spec.Finish.Varnish, VarnishPart)
	r.topNames()
	return r.handle()
}

// resolver fills in a spec and notes what it does not find.
type resolver struct {
	spec      *Spec
	parts     *Parts
	materials *Materials
	doc       document
}

func (r *resolver) sections() {
	for _, s := range r.spec.Sections {
		path := SectionPath(s)
		if s.OfOneMaterial() {
			r.material(path.To("material").String(), s.Material, tubeNeeds)
		}
		if s.Rolled != nil {
			for i, p := range s.Rolled.Plies {
				r.material(plyPath(path.To("rolled"), i).To("material").String(), p.Material, plyNeeds)
			}
		}
	}
}

func (r *resolver) joints() {
	for _, j := range r.spec.Joints {
		if j.Kind.HasPart() {
			r.material(JointPath(j).To("material").String(), j.Material, tubeNeeds)
		}
	}
}

func (r *resolver) rings() {
	if r.spec.Bare {
		return
	}
	for i, ring := range r.spec.Rings {
		path := RingPath(ring).To("part").String()
		part := r.part(path, ring.Part, RingPart)
		switch {
		case part == nil:
			continue
		case i == 0 && part.Feet != 0:
			r.doc.fault(ring.Part.Pos, path, "%q has feet; expected a tip ring, feet: 0, at 0 mm", ring.Part)
		case i > 0 && part.Feet == 0:
			r.doc.fault(ring.Part.Pos, path, "%q is a tip ring, feet: 0; expected a ring with 1 or 2 feet", ring.Part)
		}
		r.material(partPathInFile(part)+".frame", part.Frame, footNeeds)
	}
}

// partPathInFile is the path of p within parts.yaml.
func partPathInFile(p *Part) string { return fmt.Sprintf("%s[%s]", p.Kind, p.Name) }

func (r *resolver) handle() (seat *Part) {
	h := r.spec.Handle
	seat = r.part("handle.seat.part", h.Seat.Part, SeatPart)
	r.part("handle.butt cap.part", h.Cap.Part, CapPart)
	for _, g := range h.Grips {
		r.part(gripPath(g).To("part").String(), g.Part, GripPart)
		r.material(gripPath(g).To("material").String(), g.Material, gripNeeds)
	}
	return seat
}

// checkSeat checks that the seat ends before the butt and before the lowest
// ring.
func (r *resolver) checkSeat(placed HandlePart, seat *Part) {
	half := seat.Length.Value / 2
	lowest := r.spec.Rings[len(r.spec.Rings)-1].At
	switch {
	case placed.At.Value < half-distinct:
		r.doc.fault(placed.At.Pos, "handle.seat.at", "%q puts the end of %s, %q long, beyond the butt", placed.At.Text, seat.Name, seat.Length.Text)
	case placed.At.Value+half > r.spec.Length.Value-lowest.Value+distinct:
		r.doc.fault(placed.At.Pos, "handle.seat.at", "%q puts the front of %s, %q long, beyond the ring at %q", placed.At.Text, seat.Name, seat.Length.Text, lowest.Text)
	}
}

// part looks up the part that w names; no name is no part and no fault.
func (r *resolver) part(path string, w Word, kind PartKind) *Part {
	if w.Text == "" {
		return nil
	}
	p := r.parts.Get(w.Text)
	switch {
	case p == nil:
		r.doc.fault(w.Pos, path, "no %s of parts.yaml is named %q%s", singular[kind], spelling.Shorten(w.Text), spelling.Offer(w.Text, r.partNames(kind)))
		return nil
	case p.Kind != kind:
		r.doc.fault(w.Pos, path, "%q is a %s; expected a %s", w.Text, singular[p.Kind], singular[kind])
		return nil
	}
	r.spec.Parts[p.Name] = p
	return p
}

var singular = map[PartKind]string{
	RingPart: "ring", SeatPart: "seat", GripPart: "grip", CapPart: "cap", ThreadPart: "thread", VarnishPart: "varnish",
}

func (r *resolver) partNames(kind PartKind) []string {
	var names []string
	for _, p := range r.parts.All {
		if p.Kind == kind {
			names = append(names, p.Name)
		}
	}
	return names
}

// material looks up the material that w names and checks that it has what its
// use needs; no name is no material and no fault.
func (r *resolver) material(path string, w Word, needs use) {
	if w.Text == "" {
		return
	}
	m := r.materials.Get(w.Text)
	if m == nil {
		r.doc.fault(w.Pos, path, "no material is named %q%s", spelling.Shorten(w.Text), spelling.Offer(w.Text, r.materialNames()))
		return
	}
	r.spec.Materials[m.Name] = m
	if missing := needs.missing(m); len(missing) > 0 {
		r.doc.fault(w.Pos, path, "%q has no %s, which %s needs; give it in materials.yaml", w.Text, spelling.List(missing, "and"), needs.what)
	}
}

func (r *resolver) materialNames() []string {
	names := make([]string, len(r.materials.All))
	for i, m := range r.materials.All {
		names[i] = m.Name
	}
	return names
}

// use is what a material is used for and the properties this takes.
type use struct {
	what       string
	properties []string
}

var (
	tubeNeeds = use{"a tube", []string{"modulus", "density"}}
	plyNeeds  = use{"a ply", []string{"along", "across", "shear", "poisson", "thickness", "density"}}
	footNeeds = use{"the foot of a ring", []string{"modulus"}}
	gripNeeds = use{"a grip", []string{"density"}}
)

// missing lists the properties that m lacks.
func (u use) missing(m *Material) []string {
	has := map[string]bool{}
	for f := range m.Fields() {
		has[f.Path.Last()] = true
	}
	var missing []string
	for _, p := range u.properties {
		if !has[p] {
			missing = append(missing, p)
		}
	}
	return missing
}
