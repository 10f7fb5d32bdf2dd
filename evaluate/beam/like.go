package beam

// Like meshes another rod as this one is meshed: between any two neighbouring
// ends of pieces and point masses its nodes stand in the same proportions. What
// the mesh leaves of the figures then changes as little as the rods differ, and
// their difference is right to far more digits than either. A rod with another
// number of such places is meshed anew. It fails where NewRod does.
func (r *Rod) Like(pieces []Piece, masses []PointMass) (*Rod, error) {
	if err := checkRod(pieces, masses, r.wanted); err != nil {
		return nil, err
	}
	breaks := breakpoints(pieces, masses)
	if len(breaks) != len(r.breaks) {
		return NewRod(pieces, masses, r.wanted)
	}
	nodes := make([]float64, len(r.nodes))
	k := 0
	for i, s := range r.nodes {
		if k+1 < len(r.breaks) && s >= r.breaks[k+1] {
			k++
			nodes[i] = breaks[k]
			continue
		}
		nodes[i] = s
		if from, to := breaks[k], breaks[k+1]; from != r.breaks[k] || to != r.breaks[k+1] {
			nodes[i] = from + (s-r.breaks[k])/(r.breaks[k+1]-r.breaks[k])*(to-from)
		}
	}
	return meshed(pieces, masses, nodes, breaks, r.wanted, r)
}
