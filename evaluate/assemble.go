package evaluate

import (
	"fmt"

	"rodlore/models"
)

// assemble lays the spec out along the blank and cuts it into pieces. The error is a
// models.Faults where plies leave gaps.
func assemble(s *models.Spec, set *models.Settings) (*rod, error) {
	if err := s.Gaps(); err != nil {
		return nil, err
	}
	return assembleLike(nil, s, set, newBuild(s))
}

// assembleLike lays out a rod that came out otherwise than its spec says, with what it
// has in common with a rod of the same spec, which may be nil.
func assembleLike(like *rod, s *models.Spec, set *models.Settings, b *build) (*rod, error) {
	r := &rod{spec: s, build: b, length: s.TotalLength(), held: s.HeldTo(), seat: hand(s)}
	if r.held >= r.length {
		return nil, fmt.Errorf("%s: held up to %.0f mm of a rod of %.0f mm: nothing is free to bend",
			s.Name, 1e3*r.held, 1e3*r.length)
	}
	r.fitted = s.Fitted.Off(b.known[hiddenPerSection*len(s.Sections):])
	if err := r.findBlank(like, set); err != nil {
		return nil, err
	}
	for i, at := range s.SectionSpans() {
		if r.sectionLike(like, i) {
			r.members = append(r.members, like.members[i])
			continue
		}
		m, err := r.newSection(i, r.turned(at))
		if err != nil {
			return nil, err
		}
		r.members = append(r.members, m)
	}
	for i, at := range s.JointSpans() {
		r.addJoint(i, r.turned(at))
	}
	if like != nil {
		r.feet, r.wraps = make([]foot, 0, len(like.feet)), make([]wrap, 0, len(like.wraps))
	}
	r.rings = make([]ring, len(s.Rings))
	for i := range s.Rings {
		r.addRing(i, set)
	}
	for i := range s.Joints {
		r.whipJoint(i, cameOut(r.whippingAt(i), b.joints[i]))
	}
	r.addHandle()
	r.cut(like)
	return r, nil
}

// findBlank finds what does not show of a bought blank, or takes it from a rod of
// the same spec.
func (r *rod) findBlank(like *rod, set *models.Settings) (err error) {
	switch {
	case r.build.raw:
	case like != nil:
		r.blank = like.blank
	default:
		r.blank, err = boughtOf(r.spec, set)
	}
	return err
}

// turned is a span that is given from the tip, from the butt.
func (r *rod) turned(s models.Span) span { return span{r.length - s.To, r.length - s.From} }

// addJoint adds the joint between sections i and i+1, with its plug or sleeve.
func (r *rod) addJoint(i int, at span) {
	j := r.spec.Joints[i]
	if j.Kind.HasPart() || j.Mass.Set() {
		r.members = append(r.members, r.connector(i, at))
	}
	r.joints = append(r.joints, joint{at, float64(j.Bonding.Or(1)), at})
}

// connector is the plug of a spigot or the sleeve of a ferrule, or the glue of a
// splice, which weighs, of joint i. A plug without a wall is solid.
func (r *rod) connector(i int, at span) member {
	j, t := r.spec.Joints[i], tube{}
	if j.Kind.HasPart() {
		outside := j.Outside.Value
		t = newTube(float64(outside), float64(j.Wall.Or(outside/2)), stuffOf(r.spec.Materials[j.Material.Text]))
	}
	if j.Mass.Set() {
		t.Mu = float64(j.Mass.Value) / at.length()
	}
	return member{span: at, section: i, on: func(float64) func(float64) tube {
		return func(float64) tube { return t }
	}}
}

func stuffOf(m *models.Material) stuff {
	return stuff{
		modulus: float64(m.Modulus.Value),
		density: float64(m.Density.Value),
		allow:   float64(m.StrainCompression.Value),
		hoop:    float64(m.Hoop.Or(usualHoop * m.Modulus.Value)),
	}
}

// addRing adds a ring's mass, its feet and the whippings over them. The ring
// stands on the inside of the bend, or outside it where the reel is on top.
func (r *rod) addRing(i int, set *models.Settings) {
	g, came := r.spec.Rings[i], r.build.rings[i]
	part := r.spec.Parts[g.Part.Text]
	z := min(r.length-float64(g.At.Value)-came.at, r.length)
	offset := r.outsideAt(z)/2 + float64(part.Height.Value)
	if r.spec.Reel.Kind.OnTop() {
		offset = -offset
	}
	r.rings[len(r.rings)-1-i] = ring{z, float64(part.Mass.Value) * (1 + came.mass), offset}

	length := float64(part.Foot.Length.Value)
	whipping := cameOut(whippingOn(g, part), came.whipping)
	fill := 0.0
	if varnish := r.spec.Parts[r.spec.Finish.Varnish.Text]; varnish != nil {
		fill = float64(varnish.Density.Value)
	}
	for _, at := range footSpans(z, length, part) {
		if length > 0 {
			r.feet = append(r.feet, foot{
				span:      at.within(r.length),
				width:     float64(part.Foot.Width.Value),
				thickness: float64(part.Foot.Thickness.Value),
				modulus:   float64(r.spec.Materials[part.Frame.Text].Modulus.Value),
				fill:      fill,
				bonding:   min(max(float64(part.Foot.Bonding.Or(set.FootBonding.Value))+r.fitted.Bonding()+r.build.bonding, 0), 1),
			})
		}
	}
	for _, at := range footSpans(z, whipping, part) {
		r.addWrap(at.within(r.length))
	}
}

// hand is where the hand is: at the seat or, on a rod without one, at the reel;
// that of a pole is in the middle of the stretch it is held by.
func hand(s *models.Spec) float64 {
	if s.Reel.Kind == models.NoReel && s.Handle.Seat.Part.Text == "" {
		return s.HeldTo() / 2
	}
	if s.Handle.Seat.Part.Text == "" {
		return s.ReelAt()
	}
	return float64(s.Handle.Seat.At.Value)
}

// addHandle adds seat, grips and butt cap.
func (r *rod) addHandle() {
	h := r.spec.Handle
	if p := r.spec.Parts[h.Seat.Part.Text]; p != nil {
		r.bought = append(r.bought, lump{around(r.seat, float64(p.Length.Value)), float64(p.Mass.Value) * (1 + r.build.seat)})
	}
	if p := r.spec.Parts[h.Cap.Part.Text]; p != nil {
		r.bought = append(r.bought, lump{span{0, float64(p.Length.Value)}, float64(p.Mass.Value) * (1 + r.build.cap)})
	}
	for i, g := range h.Grips {
		at := span{float64(g.From.Value), float64(g.To.Value)}
		if p := r.spec.Parts[g.Part.Text]; p != nil {
			r.bought = append(r.bought, lump{at, float64(p.Mass.Value) * (1 + r.build.grips[i])})
			continue
		}
		back := float64(g.Diameter.Value)
		r.grips = append(r.grips, grip{
			span:     at,
			diameter: lineThrough(at.from, back, at.to, float64(g.Ends.Or(g.Diameter.Value))),
			density:  float64(r.spec.Materials[g.Material.Text].Density.Value) * (1 + r.build.grips[i]),
		})
	}
}

// nearby is the distance at which two places are one, m: a thousandth of a
// millimetre, as of a place written in two ways.
const nearby = 1e-6

// outsideAt is the diameter of the blank at z.
func (r *rod) outsideAt(z float64) float64 {
	outside := 0.0
	for _, m := range r.members {
		if m.from <= z && z <= m.to {
			// At an end or a corner the stretch towards the butt counts.
			mid := max(m.from+nearby, min(z, m.to)-nearby)
			outside = max(outside, m.on(mid)(z).Outside)
		}
	}
	return outside
}
