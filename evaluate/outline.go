package evaluate

import (
	"slices"
	"sort"

	"rodlore/models"
)

// Outline is how a rod looks from the side. Places are in metres from the tip.
type Outline struct {
	Blank     []Stretch  // tip first, each beginning where the one before ends
	Whippings []Whipping // by ring, tip first, and then by joint
}

// Stretch is a piece of the blank as it shows, whose diameter goes evenly from
// that at From to that at To, m.
type Stretch struct {
	models.Span
	Thin, Thick float64
}

// Whipping is the thread over one foot of the ring of that index, or at a joint.
type Whipping struct {
	models.Span
	Ring, Joint int // -1 where it is of none
}

// Outline gives how the rod looks. The error means that the spec gives no rod at
// all.
func (on *Rod) Outline() (*Outline, error) {
	r, err := on.lay()
	if err != nil {
		return nil, err
	}
	s := on.spec
	o := &Outline{}
	for _, p := range r.pieces {
		o.Blank = append(o.Blank, Stretch{r.fromTip(p.span), p.last.Outside, p.first.Outside})
	}
	slices.Reverse(o.Blank)
	for i, g := range s.Rings {
		o.Whippings = append(o.Whippings, r.whippingsOf(i, s.Parts[g.Part.Text])...)
	}
	for i := range s.Joints {
		o.Whippings = append(o.Whippings, r.whippingsAt(i)...)
	}
	return o, nil
}

// Outside is the diameter of the blank at s metres from the tip.
func (o *Outline) Outside(s float64) float64 {
	i := sort.Search(len(o.Blank)-1, func(i int) bool { return s <= o.Blank[i].To })
	return o.Blank[i].Outside(s)
}

// Outside is the diameter at s metres from the tip, which lies on the stretch.
func (p Stretch) Outside(s float64) float64 {
	return p.Thin + (p.Thick-p.Thin)*(s-p.From)/(p.To-p.From)
}

// whippingsOf are those of ring i of the spec.
func (r *rod) whippingsOf(i int, part *models.Part) []Whipping {
	length := whippingOn(r.spec.Rings[i], part)
	if length <= 0 {
		return nil
	}
	return r.whippingsOn(footSpans(r.length-float64(r.spec.Rings[i].At.Value), length, part), i, -1)
}

// whippingsAt are those at joint i of the spec, where thread or varnish are named.
func (r *rod) whippingsAt(i int) []Whipping {
	length := r.whippingAt(i)
	if length <= 0 || r.spec.Finish.Thread.Text+r.spec.Finish.Varnish.Text == "" {
		return nil
	}
	return r.whippingsOn(r.socketSpans(i, length), -1, i)
}

// whippingsOn are those on spans given from the butt, tip first.
func (r *rod) whippingsOn(spans []span, ring, joint int) (list []Whipping) {
	for _, on := range slices.Backward(spans) {
		list = append(list, Whipping{r.fromTip(on.within(r.length)), ring, joint})
	}
	return list
}

// fromTip is a span given from the butt, from the tip.
func (r *rod) fromTip(s span) models.Span {
	return models.Span{From: r.length - s.to, To: r.length - s.from}
}
