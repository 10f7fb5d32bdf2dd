package evaluate

import (
	"math"
	"slices"
	"sort"

	"rodlore/evaluate/laminate"
	"rodlore/models"
)

// rod is a spec laid out along the assembled blank.
type rod struct {
	spec   *models.Spec
	build  *build       // how it came out against the spec
	blank  *boughtBlank // nil where no section was bought
	fitted *models.Fitted
	length float64 // of the assembled blank, m
	held   float64 // the hold runs from the butt to here, m
	seat   float64 // where the hand is: the middle of the reel seat, m

	members []member // sections, plugs, sleeves
	joints  []joint
	feet    []foot
	wraps   []wrap
	grips   []grip
	bought  []lump
	rings   []ring   // butt side first, the tip ring last
	pieces  []*piece // each may be another rod's as well
}

// span is a stretch of the rod, m from the butt.
type span struct{ from, to float64 }

func (s span) has(z float64) bool    { return s.from < z && z < s.to }
func (s span) length() float64       { return s.to - s.from }
func (s span) middle() float64       { return (s.from + s.to) / 2 }
func (s span) all() span             { return s }
func (s span) within(l float64) span { return span{max(0, s.from), min(l, s.to)} }

// around is a span of that length about its middle.
func around(middle, length float64) span {
	return span{middle - length/2, middle + length/2}
}

// member is a tube that carries bending: a section, the plug of a spigot or the
// sleeve of a ferrule.
type member struct {
	span
	section int       // that it is, or comes off the rod with
	breaks  []float64 // where its cross-section has a corner
	// on gives the cross-section over the piece around mid, on which it varies
	// smoothly.
	on func(mid float64) func(z float64) tube
}

// joint is where two members take part in the bending; bonding is the share of
// the weaker ones.
type joint struct {
	span
	bonding float64
	reach   span // with its whippings
}

// foot is a strip of metal lying on the blank under its whipping.
type foot struct {
	span
	width, thickness, modulus, bonding float64
	fill                               float64 // kg/m³ of what fills the hollows beside it
}

// wrap is a thin layer of thread and varnish round the blank.
type wrap struct {
	span
	under                       float64 // thickness of what lies between it and the blank, m
	thickness, modulus, density float64
}

// grip is a turned grip bored to the blank. Cork and foam add no stiffness to
// speak of.
type grip struct {
	span
	diameter line
	density  float64
}

// lump is a bought part of the handle, its mass spread evenly over its span.
type lump struct {
	span
	mass float64
}

// ring is a ring's mass at its height above the centreline.
type ring struct {
	z, mass, offset float64
}

// piece is a stretch of the rod on which everything varies smoothly. It does not
// change once surveyed.
type piece struct {
	span
	members []func(z float64) tube
	bonding float64
	wraps   []wrap
	feet    []foot
	grips   []grip
	bought  float64 // kg/m
	radius  line    // of the blank's surface, m

	stations    [len(gauss3)]station
	first, last cross // at its ends
}

// station is the cross-section at one place of a piece and how much of the
// piece it counts for in an integral along it, m.
type station struct {
	z, weight float64
	cross
}

// cross is all there is of the rod at one place.
type cross struct {
	EI, Plain            float64        // N·m²: as built; of the blank alone, one tube in a joint
	Blank, Wraps, Handle float64        // kg/m
	Outside              float64        // diameter of the blank, m
	Allow                float64        // strain at the outside at which the material of a tube fails; 0 means unknown
	Shell                laminate.Shell // the wall of the stiffest tube
	Wall                 float64        // outer-fibre strain at which it buckles, 0 where it is not known, or solid
	WallBy               Failure        // and how
}

// Mu is the whole mass per length, kg/m.
func (c cross) Mu() float64 { return c.Blank + c.Wraps + c.Handle }

// at gives the rod's cross-section at z, which must lie on the piece, without the
// limit of its wall.
//
// Concentric tubes that fit share their neutral axis, so their stiffnesses add;
// a joint's bonding says how much of the weaker ones takes part.
func (p *piece) at(z float64) cross {
	var host, all tube
	var sum, bears float64 // bears is half the curvature that the material of each bears, 1/m
	for _, on := range p.members {
		t := on(z)
		sum += t.EI
		all.EA += t.EA
		all.Mu += t.Mu
		if t.EI > host.EI {
			host.EI, host.Shell = t.EI, t.Shell
		}
		host.Outside = max(host.Outside, t.Outside)
		if most := t.Allow / t.Outside; t.Allow > 0 && (bears == 0 || most < bears) {
			bears = most
		}
	}
	c := cross{Plain: host.EI, Blank: all.Mu, Handle: p.bought, Outside: host.Outside, Allow: bears * host.Outside, Shell: host.Shell}
	c.EI = host.EI + p.bonding*(sum-host.EI)
	var round float64 // kg/m²
	for _, w := range p.wraps {
		layer := newTube(c.Outside+2*(w.under+w.thickness), w.thickness, stuff{modulus: w.modulus, density: w.density})
		c.EI += layer.EI
		c.Wraps += layer.Mu
		round += w.thickness * w.density
	}
	for _, f := range p.feet {
		c.EI += f.stiffness(c.Outside, all.EA)
		if len(p.wraps) > 0 {
			area, longer := hollows(c.Outside, f.width, f.thickness)
			c.Wraps += area*f.fill + longer*round
		}
	}
	for _, g := range p.grips {
		d := max(g.diameter.at(z), c.Outside)
		c.Handle += newTube(d, (d-c.Outside)/2, stuff{density: g.density}).Mu
	}
	return c
}

// stiffness is what the foot adds to a blank of axial stiffness ea. Blank and
// foot are a composite beam whose neutral axis moves towards the foot, so the
// parallel-axis term is the product over the sum of the axial stiffnesses
// (transformed sections; Gere and Timoshenko 1997, Mechanics of Materials,
// section 6.3, from memory). The bonding share scales the foot's part in it.
func (f foot) stiffness(outside, ea float64) float64 {
	area := f.width * f.thickness
	own := f.modulus * area * f.thickness * f.thickness / 12
	bonded := f.bonding * f.modulus * area
	arm := (outside + f.thickness) / 2
	return own + bonded*ea/(bonded+ea)*arm*arm
}

// cut divides the rod into pieces at every place where something begins, ends
// or has a corner. Pieces on which nothing differs from a like rod, of the same
// spec, are taken from that; like may be nil.
func (r *rod) cut(like *rod) {
	places := r.places()
	r.pieces = make([]*piece, len(places)-1)
	changed := r.differing(like)
	bare := make([]*piece, 0, len(r.pieces))
	for i := range r.pieces {
		s := span{places[i], places[i+1]}
		p := like.pieceOver(s)
		if p == nil || slices.ContainsFunc(changed, func(c span) bool { return c.has(s.middle()) }) {
			p = &piece{span: s, bonding: 1}
			bare = append(bare, p)
		}
		r.pieces[i] = p
	}
	r.furnish(bare)
}

// footless is the rod without the feet of its rings and the whippings over them.
func (r *rod) footless() *rod {
	bare := *r
	bare.feet, bare.wraps = nil, nil
	bare.cut(nil)
	return &bare
}

// places are those that pieces begin or end at, in order.
func (r *rod) places() []float64 {
	places := slices.Concat([]float64{0, r.length, r.held},
		endsOf(r.members), endsOf(r.joints), endsOf(r.feet), endsOf(r.wraps), endsOf(r.grips), endsOf(r.bought))
	for _, m := range r.members {
		places = append(places, m.breaks...)
	}
	for _, j := range r.joints {
		places = append(places, r.evenAt(j.span)...)
	}
	for _, g := range r.rings {
		places = append(places, g.z)
	}
	for i, z := range places {
		places[i] = min(max(z, 0), r.length)
	}
	slices.Sort(places)
	return slices.CompactFunc(places, func(a, b float64) bool { return math.Abs(a-b) < nearby })
}

// evenAt are the places in a joint where two of its tubes are equally stiff. What
// the bare blank and the bonding make of the stiffer one has a corner there.
func (r *rod) evenAt(joint span) []float64 {
	var in []func(z float64) tube
	for _, m := range r.members {
		if m.has(joint.middle()) {
			in = append(in, m.on(joint.middle()))
		}
	}
	var places []float64
	for i := range in {
		for k := range i {
			stiffer := func(z float64) bool { return in[i](z).EI > in[k](z).EI }
			if from := stiffer(joint.from); from != stiffer(joint.to) {
				at, _ := bisected(joint.from, joint.to, nearby, func(z float64) bool { return stiffer(z) == from })
				places = append(places, at)
			}
		}
	}
	return places
}

// bisected narrows the stretch between two places on which something stops to hold
// down to that width.
func bisected(low, high, width float64, holds func(float64) bool) (float64, float64) {
	for high-low > width {
		if mid := (low + high) / 2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return low, high
}

// pieceAt is the piece that z lies on, the lower one where two meet.
func (r *rod) pieceAt(z float64) *piece { return r.pieces[r.indexAt(z)] }

func (r *rod) indexAt(z float64) int {
	i := sort.Search(len(r.pieces), func(i int) bool { return r.pieces[i].to >= z })
	return min(i, len(r.pieces)-1)
}

// furnish gives bare pieces, in their order, what stands on them.
func (r *rod) furnish(bare []*piece) {
	put(r.members, bare, func(p *piece, m member) { p.members = append(p.members, m.on(p.middle())) })
	put(r.joints, bare, func(p *piece, j joint) { p.bonding = j.bonding })
	put(r.wraps, bare, func(p *piece, w wrap) { p.wraps = append(p.wraps, w) })
	put(r.feet, bare, func(p *piece, f foot) { p.feet = append(p.feet, f) })
	put(r.grips, bare, func(p *piece, g grip) { p.grips = append(p.grips, g) })
	put(r.bought, bare, func(p *piece, l lump) { p.bought += l.mass / l.length() })
	for _, p := range bare {
		p.survey()
	}
}

// spanned is something that stands on a span of the rod.
type spanned interface{ all() span }

// put puts each of a list on the pieces whose middle it stands on.
func put[T spanned](list []T, pieces []*piece, on func(*piece, T)) {
	for _, t := range list {
		s := t.all()
		first := sort.Search(len(pieces), func(i int) bool { return pieces[i].middle() > s.from })
		for i := first; i < len(pieces) && pieces[i].middle() < s.to; i++ {
			on(pieces[i], t)
		}
	}
}

// endsOf are the places at which each of a list begins and ends.
func endsOf[T spanned](list []T) []float64 {
	var ends []float64
	for _, t := range list {
		ends = append(ends, t.all().from, t.all().to)
	}
	return ends
}

// survey works out the cross-sections that are asked for again and again.
func (p *piece) survey() {
	p.first, p.last = p.walledAt(p.from), p.walledAt(p.to)
	p.radius = lineThrough(p.from, p.first.Outside/2, p.to, p.last.Outside/2)
	for i, g := range gauss3 {
		z := p.middle() + g.x*p.length()/2
		p.stations[i] = station{z, g.w * p.length() / 2, p.walledAt(z)}
	}
}
