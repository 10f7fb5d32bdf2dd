package evaluate

import (
	"fmt"
	"math"
	"slices"

	"rodlore/evaluate/figures"
)

// Figures works out every figure of the rod. A figure that has no answer is left
// out and a note says why; an error means that the spec gives no rod at all.
func (on *Rod) Figures() (*Figures, error) {
	w, err := on.workOut()
	if err != nil {
		return nil, err
	}
	return w.figures, nil
}

// worked are the figures of a rod with what they were worked out from.
type worked struct {
	figures *Figures
	rod     *rod
	solved  *cases // on the coarse mesh

	pass   *pass // on the fine mesh
	fine   *cases
	values values
}

func (on *Rod) workOut() (*worked, error) {
	m, err := on.mesh()
	if err != nil {
		return nil, err
	}
	s, set, r := on.spec, on.set, m.rod
	first := newPass(r, set, m.coarse)
	coarsely, _ := first.solve(nil)
	rough, err := first.read(coarsely)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	second := newPass(r, set, m.fine)
	solved, notes := second.solve(coarsely)
	fine, err := second.read(solved)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	exact := r.count()
	if !s.Bare {
		exact["bench-time"] = r.benchTime(&set.BenchTimes)
	}
	for k, v := range exact {
		fine[k], rough[k] = v, v
	}
	figures := &Figures{
		Method: Method,
		List:   list(fine, rough, r.floors(fine, solved, coarsely), second.asides(solved, fine)),
		Notes:  append(notes, r.notes()...),
	}
	if solved.limit != nil {
		i := slices.IndexFunc(figures.List, func(f Figure) bool { return f.Key == "load-limit" })
		figures.List[i].Weakest = second.weakest(solved.limit.Shape)
	}
	return &worked{figures, r, coarsely, second, solved, fine}, nil
}

// notOfBare are figures that a blank has not while it is bare: of hand, handle,
// rings and whippings.
var notOfBare = []string{"swing", "rings", "butt-rings", "ring-weight", "handle-weight", "whipping-weight"}

// count gives the figures that are counted, weighed or read off the spec.
func (r *rod) count() values {
	m := r.weigh()
	v := values{
		"weight": m.total(), "blank-weight": m.blank, "ring-weight": m.rings,
		"handle-weight": m.handle, "whipping-weight": m.whipping,
		"balance": m.balance(), "swing": m.swing,
		"rings": float64(len(r.rings) - 1),
	}
	if reel := r.spec.Reel; reel.Mass.Set() {
		mass, at := float64(reel.Mass.Value), r.spec.ReelAt()
		v["balance-with-reel"] = (m.moment + mass*at) / (m.total() + mass)
	}
	worst, _ := r.flatWorst()
	v["flat-worst"] = worst.share
	if !r.ringless() {
		v["line-angle-sum"] = r.lineAngleSum()
	}
	r.countButtRings(v)
	if cost, ok := r.cost(); ok {
		v["parts-cost"] = cost
	}
	if r.spec.Bare {
		for _, key := range notOfBare {
			delete(v, key)
		}
		if v["parts-cost"] == 0 {
			delete(v, "parts-cost")
		}
	}
	return v
}

// countButtRings reads the figures of the rings on the butt section, the
// lowest of all above all.
func (r *rod) countButtRings(v values) {
	top := r.members[0].to
	on := 0
	for _, g := range r.rings[:len(r.rings)-1] {
		if g.z < top {
			on++
		}
	}
	v["butt-rings"] = float64(on)
	if r.ringless() {
		return
	}
	lowest := r.spec.Rings[len(r.spec.Rings)-1]
	v["butt-ring-size"] = float64(r.spec.Parts[lowest.Part.Text].Size.Value)
	v["butt-ring-to-reel"] = r.rings[0].z - r.spec.ReelAt()
}

// cost adds up the prices of the bought parts on the rod, and of the blank where
// that was bought for a price; ok is false while a part has none.
func (r *rod) cost() (sum float64, ok bool) {
	ok = true
	add := func(name string) {
		p := r.spec.Parts[name]
		if name == "" {
			return
		}
		if p == nil || !p.Price.Set() {
			ok = false
			return
		}
		sum += float64(p.Price.Value)
	}
	for _, g := range r.spec.Rings {
		add(g.Part.Text)
	}
	for _, g := range r.spec.Handle.Grips {
		add(g.Part.Text)
	}
	for _, s := range r.spec.Sections {
		if s.Bought != nil {
			sum += float64(s.Bought.Price.Value)
		}
	}
	add(r.spec.Handle.Seat.Part.Text)
	add(r.spec.Handle.Cap.Part.Text)
	return sum, ok
}

// flatSearch and gapSearch are to what share the flattest spot is searched, whose
// place is known to a thousandth of a millimetre, and the largest gap.
const flatSearch, gapSearch = 1e-5, 1e-6

// floors are what the errors of some figures may be beside what halving the mesh
// changed of the figure itself. The worst of several numbers may hardly change
// where one of them takes over from another: there it is what changed of any.
func (r *rod) floors(v values, fine, rough *cases) values {
	worst, _ := r.flatWorst()
	f := values{"flat-worst": flatSearch * worst.share}
	if fine.limit != nil {
		f["load-limit"] = limitSearch * fine.limit.force
	}
	if r.side() < 0 {
		for _, key := range []string{"load-limit", "strain-worst", "test-curve", "flat-turn", "ring-load-worst"} {
			f[key] = limitTouching * v[key]
		}
	}
	if fine.line == nil || rough.line == nil {
		return f
	}
	f["line-touch"] = fine.line.TouchError
	f["line-gap"] = max(mostApart(gaps(fine.line), gaps(rough.line)), gapSearch*fine.line.Gap)
	f["ring-load-worst"] = max(f["ring-load-worst"], mostApart(ringLoads(fine.line), ringLoads(rough.line)))
	turns := wrapAngles(fine.line)
	mean := 0.0
	for _, turn := range turns {
		mean += turn / float64(len(turns))
	}
	if mean > 0 {
		// Where the line leaves the blank half a part off, it comes to the next
		// ring at an angle that is off by an eighth of what the blank bends there.
		bends := 0.0
		for _, k := range fine.line.Curvature {
			bends = max(bends, math.Abs(k.Before), math.Abs(k.After))
		}
		f["ring-turn-spread"] = (mostApart(turns, wrapAngles(rough.line)) + bends*fine.line.TouchError/8) / mean
	}
	return f
}

// mostApart is the largest difference between two lists of one length.
func mostApart(a, b []float64) float64 {
	most := 0.0
	for i := range a {
		most = max(most, math.Abs(a[i]-b[i]))
	}
	return most
}

// list puts the figures in order. What halving the mesh changed
// bounds the error of what remains, with a floor for rounding and those given.
func list(fine, rough, floors values, asides asides) []Figure {
	const rounding = 1e-8 // of the modes, on meshes as fine as ours
	var out []Figure
	for _, kind := range figures.All() {
		v, ok := fine[kind.Key]
		if !ok {
			continue
		}
		bound := max(math.Abs(v-rough[kind.Key]), floors[kind.Key])
		if _, both := rough[kind.Key]; !both {
			bound = math.Abs(v)
		}
		if bound > 0 || kind.Summed {
			bound += rounding * math.Abs(v)
		}
		out = append(out, Figure{Key: kind.Key, Value: v, Unit: kind.Unit, Error: bound, Aside: asides[kind.Key]})
	}
	return out
}

// notes are what must be shown with the figures.
func (r *rod) notes() []Note {
	var notes []Note
	if kind := r.spec.Reel.Kind; !r.spec.Reel.Height.Set() && !r.ringless() {
		notes = append(notes, NewNote("doubts.reel height", "height", Thickness(usualReelHeight[kind]), "reel", string(kind)).on("line-gap"))
	}
	if f := r.spec.Fitted; f != nil {
		notes = append(notes, NewNote("doubts.fitted", "rod", f.To.Text, "day", f.Date.Text))
	}
	return append(notes, r.doubts()...)
}
