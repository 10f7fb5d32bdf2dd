package evaluate

import (
	"fmt"
	"math"

	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Evaluate works out every figure of a spec by the range's settings. A figure
// that has no answer is left out and a note says why; an error means that the
// spec gives no rod at all.
func Evaluate(s *models.Spec, set *models.Settings) (*Figures, error) {
	return New(s, set).Figures()
}

// worked are the figures of a rod with what they were worked out from.
type worked struct {
	figures *Figures
	rod     *rod
	solved  *cases // on the coarse mesh
	say     asides

	pass   *pass // on the fine mesh
	fine   *cases
	values values
}

func workOut(s *models.Spec, set *models.Settings) (*worked, error) { return New(s, set).workOut() }

func (on *Rod) workOut() (*worked, error) {
	m, err := on.mesh()
	if err != nil {
		return nil, err
	}
	s, set, r := on.spec, on.set, m.rod
	first := newPass(r, set, m.coarse)
	coarsely, _ := first.solve(nil)
	rough, _, err := first.read(coarsely)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	second := newPass(r, set, m.fine)
	solved, notes := second.solve(coarsely)
	fine, say, err := second.read(solved)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	exact := r.count()
	exact["bench-time"] = r.benchTime(&set.BenchTimes)
	for k, v := range exact {
		fine[k], rough[k] = v, v
	}
	say["flat-worst"] = r.tellFlatWorst
	figures := &Figures{
		Method: Method,
		List:   list(fine, rough, say, set.Display()),
		Notes:  append(notes, r.notes(set.Display())...),
	}
	return &worked{figures, r, coarsely, say, second, solved, fine}, nil
}

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

// cost adds up the prices of the bought parts on the rod; ok is false while one
// of them has none.
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
	add(r.spec.Handle.Seat.Part.Text)
	add(r.spec.Handle.Cap.Part.Text)
	return sum, ok
}

// list puts the figures in order and words. What halving the mesh changed
// bounds the error of what remains, with a floor for rounding.
func list(fine, rough values, say asides, d figures.Display) []Figure {
	const rounding = 1e-9
	var out []Figure
	for _, kind := range figures.All() {
		v, ok := fine[kind.Key]
		if !ok {
			continue
		}
		bound := math.Abs(v - rough[kind.Key])
		if _, both := rough[kind.Key]; !both {
			bound = math.Abs(v)
		}
		if bound > 0 || kind.Summed {
			bound += rounding * math.Abs(v)
		}
		fig := Figure{Key: kind.Key, Value: v, Unit: kind.Unit, Error: bound}
		fig.Text = sentence(&fig, say[kind.Key], d)
		out = append(out, fig)
	}
	return out
}

// sentence tells a figure in plain words.
func sentence(f *Figure, aside func(figures.Display) string, d figures.Display) string {
	text := fmt.Sprintf(figures.Of(f.Key).Sentence, d.Supported(f.Key, f.Unit, f.Value, f.Tolerance))
	if aside != nil {
		text += " " + aside(d)
	}
	return text
}

// notes are what must be shown with the figures.
func (r *rod) notes(d figures.Display) []Note {
	var notes []Note
	if kind := r.spec.Reel.Kind; !r.spec.Reel.Height.Set() && !r.ringless() {
		notes = append(notes, Note{"line-gap", fmt.Sprintf("the reel's height is not given and taken as %g mm; write it as reel: {kind: %s, height: …}",
			usualReelHeight[kind]/units.Size("mm"), kind)})
	}
	if note := fittedNote(r.spec.Fitted); note != "" {
		notes = append(notes, Note{Text: note})
	}
	for _, doubt := range r.doubts(d) {
		notes = append(notes, Note{Text: doubt})
	}
	return notes
}
