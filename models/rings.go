package models

// WithRings is the spec with other rings, of parts that it uses already or of more.
// Parts
// and materials that no ring uses any more are left out, as if the model had
// been written so. The error, if any, is a Faults.
func (s *Spec) WithRings(rings []Ring, more ...*Part) (*Spec, error) {
	m := *s.Model
	m.Rings = rings
	parts, materials := &Parts{All: more}, &Materials{}
	for _, p := range s.Parts {
		parts.All = append(parts.All, p)
	}
	for _, material := range s.Materials {
		materials.All = append(materials.All, material)
	}
	return Resolve(&m, parts, materials)
}
