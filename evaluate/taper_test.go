package evaluate

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"

	"rodlore/models"
	"rodlore/models/units"
)

// cutSection cuts a section as with a saw, at its thin end and at its thick one:
// what is left runs as before.
func cutSection(s *models.Spec, i int, thin, thick float64) {
	of := &s.Sections[i]
	length := float64(of.Length.Value) - thin - thick
	// left are the places of stations between the cuts and at them, as before. Two
	// that are one but for rounding would hide one of them.
	left := func(at []float64) []float64 {
		inside := slices.DeleteFunc(slices.Clone(at), func(a float64) bool { return a <= thin+nearby || a >= thin+length-nearby })
		return slices.Concat([]float64{thin}, inside, []float64{thin + length})
	}
	on := func(at, value []float64) func(float64) float64 {
		var line interp.PiecewiseLinear
		if err := line.Fit(at, value); err != nil {
			panic(err)
		}
		return line.Predict
	}
	if t := of.Tube; len(t) > 0 {
		var at, outside, wall []float64
		for _, st := range t {
			at, outside, wall = append(at, float64(st.At.Value)), append(outside, float64(st.Outside.Value)), append(wall, float64(st.Wall.Value))
		}
		of.Tube = nil
		for _, a := range left(at) {
			st := t[0]
			st.At.Value, st.Outside.Value, st.Wall.Value = units.Length(a-thin), units.Length(on(at, outside)(a)), units.Length(on(at, wall)(a))
			of.Tube = append(of.Tube, st)
		}
	}
	if t := of.Stiffness; len(t) > 0 {
		var at, ei, mass, outside []float64
		for _, st := range t {
			at, ei = append(at, float64(st.At.Value)), append(ei, float64(st.EI.Value))
			mass, outside = append(mass, float64(st.Mass.Value)), append(outside, float64(st.Outside.Value))
		}
		of.Stiffness = nil
		for _, a := range left(at) {
			st := t[0]
			st.At.Value, st.EI.Value = units.Length(a-thin), units.Rigidity(on(at, ei)(a))
			st.Mass.Value, st.Outside.Value = units.LineDensity(on(at, mass)(a)), units.Length(on(at, outside)(a))
			of.Stiffness = append(of.Stiffness, st)
		}
	}
	if r := of.Rolled; r != nil {
		own := models.Rolled{Plies: slices.Clone(r.Plies)}
		var at, diameter []float64
		for _, m := range r.Mandrel {
			at, diameter = append(at, float64(m.At.Value)), append(diameter, float64(m.Mandrel.Value))
		}
		for _, a := range left(at) {
			m := r.Mandrel[0]
			m.At.Value, m.Mandrel.Value = units.Length(a-thin), units.Length(on(at, diameter)(a))
			own.Mandrel = append(own.Mandrel, m)
		}
		for k := range own.Plies {
			p := &own.Plies[k]
			from, to := float64(p.From.Value), float64(p.To.Or(of.Length.Value))
			wraps := on([]float64{from, to}, []float64{p.TipWraps, p.ButtWraps})
			from, to = math.Max(from, thin), math.Min(to, thin+length)
			p.From.Value, p.To.Value, p.To.Text = units.Length(from-thin), units.Length(to-thin), "its end"
			p.TipWraps, p.ButtWraps = wraps(from), wraps(to)
		}
		of.Rolled = &own
	}
	of.Length.Value = units.Length(length)
}

// sectionErrors are the inputs that only the new of two specs has of its sections.
func sectionErrors(old, now *models.Spec) []string {
	set := models.DefaultSettings()
	had := map[InputID]bool{}
	for _, in := range inputsOf(old, set) {
		had[in.ID] = true
	}
	var own []string
	for _, in := range ofOldTapers(exported(inputsOf(now, set)), tapersOf(old, set), tapersOf(now, set)) {
		switch in.ID.Kind {
		case OutsideInput, WallInput, ModulusInput, DensityInput, KnownInput:
			if !had[in.ID] {
				own = append(own, string(in.ID.Kind)+" of "+in.ID.Of)
			}
		}
	}
	return own
}

// TestCutBlanksShareErrors cuts random rods: a blank that was cut is the same blank,
// whichever of the two is the older, and one of another wall, outside or modulus is not.
func TestCutBlanksShareErrors(t *testing.T) {
	rods := []*models.Spec{goodSpecOf(t, "skerry-10"), goodSpecOf(t, "long-drift")}
	for _, name := range demoModels {
		rods = append(rods, demoSpec(t, name))
	}
	for seed := range uint64(8) {
		rods = append(rods, randomRod(t, seed))
	}
	rapid.Check(t, func(r *rapid.T) {
		old := rods[rapid.IntRange(0, len(rods)-1).Draw(r, "rod")]
		now := copyOf(old)
		cuts := make([]Cut, len(old.Sections))
		for i, s := range old.Sections {
			most := float64(s.Length.Value) / 4
			by := func(name string) float64 { // nothing, or more than two stations could share a place for
				if v := rapid.Float64Range(-most, most).Draw(r, name); v > 1e-3 {
					return v
				}
				return 0
			}
			cuts[i] = Cut{by("thin"), by("thick")}
			cutSection(now, i, cuts[i].Thin, cuts[i].Thick)
		}
		for i := range now.Joints {
			j := &now.Joints[i]
			j.Kind = rapid.SampledFrom([]models.JointKind{models.Overlap, models.Spigot, models.Ferrule}).Draw(r, "joint")
			j.Length.Value *= units.Length(rapid.Float64Range(0.8, 1.2).Draw(r, "length"))
		}
		if own := append(sectionErrors(old, now), sectionErrors(now, old)...); own != nil {
			r.Fatalf("%s, cut by %v: not shared are %q", old.Name, cuts, own)
		}
		for i, want := range cuts {
			cut, _ := TaperOf(now, i).CutFrom(TaperOf(old, i))
			if math.Abs(cut.Thin-want.Thin) > 1e-6 || math.Abs(cut.Thick-want.Thick) > 1e-6 {
				r.Fatalf("%s: section %d was cut by %v, which is told as %v", old.Name, i, want, cut)
			}
			if want == (Cut{}) || len(now.Sections[i].Tube) == 0 {
				continue
			}
			station := rapid.IntRange(0, len(now.Sections[i].Tube)-1).Draw(r, "station")
			other := copyOf(now)
			st := &other.Sections[i].Tube[station]
			rapid.SampledFrom([]func(){
				func() { st.Wall.Value += 0.03e-3 }, func() { st.Outside.Value -= 0.12e-3 },
				func() { other.Sections[i].Material.Text = "cork" },
			}).Draw(r, "edit")()
			if other.Sections[i].Material.Text == "cork" {
				other.Materials["cork"] = &models.Material{Name: "cork"}
			}
			if _, ok := TaperOf(other, i).CutFrom(TaperOf(old, i)); ok {
				r.Fatalf("%s: section %d of another make is told as cut from the old one", old.Name, i)
			}
		}
	})
}

// copyOf is a spec whose sections, joints and materials may be altered.
func copyOf(s *models.Spec) *models.Spec {
	m := *s.Model
	m.Sections, m.Joints = slices.Clone(m.Sections), slices.Clone(m.Joints)
	for i := range m.Sections {
		m.Sections[i].Tube = slices.Clone(m.Sections[i].Tube)
	}
	materials := map[string]*models.Material{}
	for name, material := range s.Materials {
		materials[name] = material
	}
	return &models.Spec{Model: &m, Parts: s.Parts, Materials: materials}
}
