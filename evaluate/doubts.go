package evaluate

import (
	"cmp"
	"math"
	"slices"

	"rodlore/models"
)

// What a careful maker would look at twice, m. A push-over joint is ground to
// fit within a few tenths of a millimetre (common practice, no source).
const (
	fitDoubt  = 0.5e-3 // between the upper section's bore and what it is pushed on
	footDoubt = 0.5e-3 // that the feet of two rings lie on each other
	gripDoubt = 2e-3   // that a grip reaches over the seat
)

// doubts are notes on what the spec allows and no workshop would build: each
// may be a slip of the pen.
func (r *rod) doubts() []Note {
	return slices.Concat(r.misfits(), r.looseFeet(), r.crowdedFeet(), r.crowdedSeat(), r.thinGrips(), r.oddModuli(), r.oddTubes(), r.oddWalls(), r.shortJoints())
}

// misfits are the push-over joints whose sections do not fit.
func (r *rod) misfits() (notes []Note) {
	for i, j := range r.spec.Joints {
		bore, ok := mouth(r.spec.Sections[i+1])
		z := r.joints[i].from // of an overlap, where the upper section ends
		lower := r.members[i].on(max(z, r.members[i].from) + nearby)(z).Outside
		if j.Kind.GoesIn() {
			notes = append(notes, r.loosely(i)...)
		}
		switch outside := float64(j.Outside.Value); {
		case !ok:
		case j.Kind == models.Spigot && outside > bore+fitDoubt:
			notes = append(notes, onJoint(j, "doubts.plug", "plug", Thickness(outside), "bore", Thickness(bore)))
		case j.Kind == models.Overlap && math.Abs(lower-bore) > fitDoubt:
			notes = append(notes, onJoint(j, "doubts.overlap", "outside", Thickness(lower), "bore", Thickness(bore)))
		}
	}
	return notes
}

// loosely is a note where what goes into the lower section at joint i does not fit its
// bore at either end.
func (r *rod) loosely(i int) (notes []Note) {
	on := r.joints[i].span
	for _, z := range []float64{on.from + nearby, on.to - nearby} {
		lower, upper := r.members[i].on(z)(z), r.members[i+1].on(z)(z)
		bore := lower.Outside - 2*lower.Shell.Thickness
		if lower.Shell.Radius > 0 && math.Abs(upper.Outside-bore) > fitDoubt {
			return []Note{onJoint(r.spec.Joints[i], "doubts.goes in", "outside", Thickness(upper.Outside), "bore", Thickness(bore), "place", quantity("m", on.to-z))}
		}
	}
	return nil
}

// onJoint is a note on a joint.
func onJoint(j models.Joint, key string, pairs ...any) Note {
	return NewNote(key, append(pairs, "lower", j.Between[0].Text, "upper", j.Between[1].Text, "path", models.JointPath(j).String())...)
}

// mouth is the bore of a section at its thick end, m; ok is false where only
// its stiffness is known.
func mouth(s models.Section) (bore float64, ok bool) {
	st := s.Stations()
	last := len(st.At) - 1
	switch {
	case st.Mandrel != nil:
		return st.Mandrel[last], true
	case st.Hollow != nil:
		return st.Hollow[last], true
	case st.Wall != nil:
		return st.Outside[last] - 2*st.Wall[last], true
	}
	return 0, false
}

// looseFeet are the rings whose feet reach over the tip.
func (r *rod) looseFeet() (notes []Note) {
	for _, g := range r.spec.Rings {
		part := r.spec.Parts[g.Part.Text]
		for _, foot := range footSpans(r.length-float64(g.At.Value), float64(part.Foot.Length.Value), part) {
			if over := foot.to - r.length; part.Feet > 0 && over > footDoubt {
				notes = append(notes, NewNote("doubts.loose foot", "place", quantity("m", g.At.Value), "over", Thickness(over)))
			}
		}
	}
	return notes
}

// softest is the modulus along the rod, Pa, below which a material is softer than any
// that blanks are made of: glass cloth with much resin has twice as much, the softest
// wood too. stiffest is more than the fibres of carbon have in any blank (common
// practice, no source).
const (
	softest  = 5e9
	stiffest = 600e9
)

// oddModuli are the materials whose modulus looks like one in the wrong unit.
func (r *rod) oddModuli() (notes []Note) {
	for _, s := range r.spec.Sections {
		m := r.spec.Materials[s.Material.Text]
		if !s.OfOneMaterial() || m == nil {
			continue
		}
		key := ""
		switch modulus := float64(m.Modulus.Value); {
		case modulus < softest:
			key = "doubts.soft"
		case modulus > stiffest:
			key = "doubts.stiff"
		default:
			continue
		}
		notes = append(notes, NewNote(key, "section", s.Name.Text, "material", s.Material.Text, "modulus", m.Modulus.Text, "path", models.ModulusPath(m.Name).String()))
	}
	return notes
}

// oddWalls are the rolled sections whose wall, at either end, looks like a slip.
func (r *rod) oddWalls() (notes []Note) {
	for i, s := range r.spec.Sections {
		if s.Rolled == nil {
			continue
		}
		m, path := r.members[i], models.SectionPath(s).To("rolled").To("plies").String()
		for _, at := range []float64{m.from + nearby, m.to - nearby} {
			shell := m.on(at)(at).Shell
			switch wall := shell.Thickness; {
			case wall > 0 && wall < thinDoubt:
				notes = append(notes, NewNote("doubts.thin plies", "section", s.Name.Text, "place", quantity("m", m.to-at), "wall", Thickness(wall), "usual", Thickness(usualThin), "path", path))
			case wall > thickDoubt:
				notes = append(notes, NewNote("doubts.thick plies", "section", s.Name.Text, "place", quantity("m", m.to-at), "wall", Thickness(wall), "usual", Thickness(usualThick), "path", path))
			}
		}
	}
	return notes
}

// What is usual of blanks (common practice, no source): walls of 0.2 mm and more,
// tapers up to 15 mm in a metre, joints of six to eight diameters.
const (
	thinDoubt  = 0.15e-3 // a wall, m, of which usualThin is usual
	usualThin  = 0.2e-3
	thickDoubt = 4e-3 // a wall that plies make, m, of which usualThick is usual
	usualThick = 2.5e-3
	taperDoubt = 0.05 // growth of the outside over the length
	jointDoubt = 3    // diameters that a joint is long
)

// oddTubes are the sections whose wall or taper looks like a slip.
func (r *rod) oddTubes() (notes []Note) {
	for _, s := range r.spec.Sections {
		for _, t := range s.Tube {
			if wall := float64(t.Wall.Value); wall < thinDoubt {
				notes = append(notes, NewNote("doubts.thin wall", "section", s.Name.Text, "place", t.At.Text, "wall", Thickness(wall), "usual", Thickness(usualThin), "path", models.WallPath(s, float64(t.At.Value)).String()))
			}
		}
		st := s.Stations()
		for i := 1; i < len(st.Outside); i++ {
			grows, over := st.Outside[i]-st.Outside[i-1], st.At[i]-st.At[i-1]
			place, path := quantity("m", st.At[i]), models.OutsidePath(s, st.At[i]).String()
			switch {
			case grows < -fitDoubt:
				notes = append(notes, NewNote("doubts.thins", "section", s.Name.Text, "place", place, "by", Thickness(-grows), "path", path))
			case grows > fitDoubt && grows > taperDoubt*over:
				notes = append(notes, NewNote("doubts.jumps", "section", s.Name.Text, "place", place, "by", Thickness(grows), "over", quantity("m", over), "path", path))
			}
		}
	}
	return notes
}

// shortJoints are those that hold a section over less than is usual.
func (r *rod) shortJoints() (notes []Note) {
	for i, j := range r.spec.Joints {
		length, outside := r.joints[i].length(), r.outsideAt(r.joints[i].from)
		if j.Kind.HasPart() {
			length /= 2
		}
		if length < jointDoubt*outside {
			notes = append(notes, onJoint(j, "doubts.short joint", "length", quantity("m", length), "outside", Thickness(outside)))
		}
	}
	return notes
}

// thinGrips are the grips that are no thicker than the blank they stand on.
func (r *rod) thinGrips() (notes []Note) {
	for _, g := range r.grips {
		if g.diameter.at(g.from) <= r.outsideAt(g.from) || g.diameter.at(g.to) <= r.outsideAt(g.to) {
			notes = append(notes, NewNote("doubts.thin grip", "from", quantity("m", g.from), "to", quantity("m", g.to)))
		}
	}
	return notes
}

// crowdedFeet are the rings whose feet lie on each other.
func (r *rod) crowdedFeet() (notes []Note) {
	feet := slices.Clone(r.feet)
	slices.SortFunc(feet, func(a, b foot) int { return cmp.Compare(b.from, a.from) })
	for i := 1; i < len(feet); i++ {
		tipward, buttward := feet[i-1], feet[i]
		if over := buttward.to - tipward.from; over > footDoubt {
			notes = append(notes, NewNote("doubts.crowded feet", "place", quantity("m", r.length-tipward.from)))
		}
	}
	return notes
}

// crowdedSeat are the grips that reach over the reel seat.
func (r *rod) crowdedSeat() (notes []Note) {
	seat := r.spec.Parts[r.spec.Handle.Seat.Part.Text]
	if seat == nil {
		return nil
	}
	on := around(r.seat, float64(seat.Length.Value))
	for _, g := range r.spec.Handle.Grips {
		from, to := float64(g.From.Value), float64(g.To.Value)
		if min(to, on.to)-max(from, on.from) > gripDoubt {
			notes = append(notes, NewNote("doubts.crowded seat", "from", quantity("m", from), "to", quantity("m", to),
				"seat from", quantity("m", on.from), "seat to", quantity("m", on.to)))
		}
	}
	return notes
}
