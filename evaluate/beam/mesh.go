package beam

import (
	"math"
	"slices"
)

// joinTolerance is how far apart two places may lie, as a share of the length,
// and still be the same place: well above rounding, well below a hair.
const joinTolerance = 1e-9

// mesher places the nodes of a rod.
//
// Under a pull P the bend decays along the rod over the length √(EI/P), so a
// mesh that resolves it equally everywhere has a density in proportion to
// 1/√EI, whatever the load. Half the elements are placed so; the other half
// evenly, for the weight and for the picture.
type mesher struct {
	pieces   []Piece
	breaks   []float64 // where nodes must stand
	elements int       // wanted in all
}

// breakpoints are the ends of the pieces and the places of the masses, in
// order and without doubles.
func breakpoints(pieces []Piece, masses []PointMass) []float64 {
	ends := make([]float64, 0, 1+len(pieces)+len(masses))
	ends = append(ends, 0)
	for _, p := range pieces {
		ends = append(ends, p.To)
	}
	length := ends[len(ends)-1]
	all := slices.Clone(ends)
	for _, m := range masses {
		if at := ends[nearest(ends, m.S)]; math.Abs(at-m.S) > joinTolerance*length {
			all = append(all, m.S)
		}
	}
	slices.Sort(all)
	return slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(a-b) <= joinTolerance*length })
}

// nearest is the index of the value closest to s in ascending values.
func nearest(values []float64, s float64) int {
	i, _ := slices.BinarySearch(values, s)
	if i == len(values) || i > 0 && s-values[i-1] < values[i]-s {
		i--
	}
	return i
}

// nodes divides every stretch between two breakpoints.
func (m *mesher) nodes() ([]float64, error) {
	length := m.breaks[len(m.breaks)-1]
	stretches := make([]stretch, len(m.breaks)-1)
	soft, piece := 0.0, 0
	for i := range stretches {
		from, to := m.breaks[i], m.breaks[i+1]
		if (from+to)/2 > m.pieces[piece].To {
			piece++
		}
		st, err := sampleStretch(m.pieces[piece], piece, from, to, length)
		if err != nil {
			return nil, err
		}
		stretches[i] = st
		soft += st.soft[len(st.soft)-1]
	}
	nodes := make([]float64, 1, m.elements+len(m.breaks))
	for _, st := range stretches {
		nodes = st.divide(nodes, m.elements, length, soft)
	}
	return nodes, nil
}

// stretch is what lies between two breakpoints, with ∫ds/√EI from its start
// to evenly spaced samples.
type stretch struct {
	from, to float64
	soft     []float64
}

// samplesPerLength is how many samples a stretch as long as the rod gets.
const samplesPerLength = 24

func sampleStretch(p Piece, index int, from, to, length float64) (stretch, error) {
	n := 1 + int(samplesPerLength*(to-from)/length)
	st := stretch{from: from, to: to, soft: make([]float64, n+1)}
	for k := range n {
		s := from + (to-from)*(float64(k)+0.5)/float64(n)
		ei, err := p.stiffness(index, s)
		if err != nil {
			return st, err
		}
		st.soft[k+1] = st.soft[k] + (to-from)/float64(n)/math.Sqrt(ei)
	}
	return st, nil
}

// divide appends the nodes after the stretch's start, its end included.
func (st *stretch) divide(nodes []float64, elements int, length, soft float64) []float64 {
	density := make([]float64, len(st.soft)) // its integral, as a share of the whole rod
	samples := len(st.soft) - 1
	for k := range density {
		even := (st.to - st.from) * float64(k) / float64(samples) / length
		density[k] = (even + st.soft[k]/soft) / 2
	}
	whole := density[samples]
	n := max(1, int(math.Round(whole*float64(elements))))
	k := 1
	for i := 1; i < n; i++ {
		want := whole * float64(i) / float64(n)
		for density[k] < want {
			k++
		}
		u := float64(k-1) + (want-density[k-1])/(density[k]-density[k-1])
		nodes = append(nodes, st.from+(st.to-st.from)*u/float64(samples))
	}
	return append(nodes, st.to)
}
