package evaluate

import (
	"math"

	"rodlore/models"
	"rodlore/models/units"
)

// What is usual of whippings where the spec says nothing (common practice, no
// source).
const (
	whippingMargin = 4e-3   // m that one is longer than the foot under it
	socketShare    = 2      // how long one at a joint is, in diameters of the socket
	varnishBeyond  = 1.5e-3 // m that varnish reaches beyond either end of the thread, to seal it
)

// whippingOn is the length of the whipping over each foot of a ring; 0 where it
// has none.
func whippingOn(g models.Ring, part *models.Part) float64 {
	usual := part.Foot.Length.Value
	if usual > 0 {
		usual += whippingMargin
	}
	return float64(g.Whipping.Or(usual))
}

// footSpans gives where the feet of a ring at z lie, or the whippings over them, of
// that length. A single foot points to the tip, and is whipped up to the ring
// (common practice, no source). A tip ring has no foot but a tube over the end of
// the blank, which may be whipped.
func footSpans(z, length float64, part *models.Part) []span {
	switch part.Feet {
	case 0:
		return []span{around(z, length)}
	case 1:
		return []span{{z, z + length}}
	}
	// Where the part gives no spread the feet reach out from under the ring.
	spread := float64(part.Foot.Spread.Or(part.Foot.Length.Value + part.Size.Value))
	return []span{around(z-spread/2, length), around(z+spread/2, length)}
}

// whippingAt is the length of a whipping at joint i, which keeps a socket from
// splitting; 0 where there is none.
func (r *rod) whippingAt(i int) float64 {
	socket := r.outsideAt(r.joints[i].from)
	return float64(r.spec.Joints[i].Whipping.Or(units.Length(socketShare * socket)))
}

// socketSpans gives where the whippings at joint i lie, of that length: at the mouth
// of a section that another goes into, at both mouths that a plug goes into, and over both ends of a
// sleeve (common practice, no source).
func (r *rod) socketSpans(i int, length float64) []span {
	on := r.joints[i].span
	switch r.spec.Joints[i].Kind {
	case models.PutIn, models.Splice:
		return []span{{on.to - length, on.to}}
	case models.Overlap:
		return []span{{on.from, on.from + length}}
	case models.Spigot:
		upper, lower := r.members[i+1].from, r.members[i].to
		return []span{{lower - length, lower}, {upper, upper + length}}
	}
	return []span{around(on.from, length), around(on.to, length)}
}

// whipJoint adds the whippings at joint i, of that length.
func (r *rod) whipJoint(i int, length float64) {
	for _, at := range r.socketSpans(i, length) {
		r.addWrap(at.within(r.length))
		reach := &r.joints[i].reach
		*reach = span{min(reach.from, at.from), max(reach.to, at.to)}
	}
}

// cameOut is how long a whipping of that length came out; one of no length is none.
func cameOut(length, beyond float64) float64 {
	if length <= 0 {
		return 0
	}
	return max(length+beyond, 0)
}

// addWrap adds a whipping, if it has a length: thread, and varnish over it. What
// varnish lies beyond the thread runs out to nothing there: it weighs, which is
// reckoned in with the rest, and stiffens nothing.
func (r *rod) addWrap(at span) {
	if at.length() <= 0 {
		return
	}
	under := 0.0
	add := func(p *models.Part, share float64) {
		if p != nil {
			r.wraps = append(r.wraps, wrap{at, under, float64(p.Thickness.Value), float64(p.Modulus.Value), share * float64(p.Density.Value)})
			under += float64(p.Thickness.Value)
		}
	}
	add(r.spec.Parts[r.spec.Finish.Thread.Text], 1)
	add(r.spec.Parts[r.spec.Finish.Varnish.Text], 1+2*varnishBeyond/at.length())
}

// hollows are what thread leaves open beside a foot under it, which varnish fills:
// their area, m², and how much longer a turn is than one round the bare blank, m.
// Thread drawn tight is the convex hull of blank and foot: flat over the foot, and
// from its edges along tangents to the blank.
func hollows(outside, width, thickness float64) (area, longer float64) {
	radius := outside / 2
	top := radius + thickness
	edge := math.Hypot(width/2, top)
	tangent := math.Sqrt(edge*edge - radius*radius)
	bare := math.Atan2(width/2, top) + math.Acos(radius/edge) // of the blank that a side of it stands off, rad
	area = width*top/2 + radius*tangent - radius*radius*bare - width*thickness
	return math.Max(area, 0), width + 2*tangent - 2*radius*bare
}
