package beam_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/beam"
)

// shot is a line on the outside of a rod of even thickness, worked out from the
// differential equations instead of the energy: integrated from the tip to the
// clamp by the classical Runge–Kutta rule, with every unknown direction and
// both ends of the contact found by Newton's method on the conditions that they
// meet. It shares no code or formulation with the solver.
type shot struct {
	ei      func(s float64) float64
	radius  float64
	tension float64
	pull    float64       // rad
	reel    beam.LineRing // behind the clamp
	ring    beam.LineRing
	tip     beam.LineRing
}

// section is what is known of the rod at one s.
type section struct{ x, y, turn, moment float64 }

func (p section) off(by float64) (x, y float64) {
	sin, cos := math.Sincos(p.turn)
	return p.x - by*sin, p.y + by*cos
}

// along is how much of a unit of force in that direction runs along the rod.
func (p section) along(angle float64) float64 { return math.Cos(angle - p.turn) }

// back integrates from s to another nearer the clamp. The line pulls the rod
// beyond at s back along the angle; math.NaN() where it lies on the blank, along
// the rod.
func (c shot) back(p section, from, to, line float64) section {
	const steps = 400
	h := (to - from) / steps
	px, py := c.tension*math.Cos(c.pull), c.tension*math.Sin(c.pull)
	rate := func(s float64, p section) section {
		sin, cos := math.Sincos(p.turn)
		fx, fy := px-c.tension*cos, py-c.tension*sin
		if !math.IsNaN(line) {
			fx, fy = px-c.tension*math.Cos(line), py-c.tension*math.Sin(line)
		}
		return section{cos, sin, p.moment / c.ei(s), sin*fx - cos*fy}
	}
	add := func(p, d section, k float64) section {
		return section{p.x + k*d.x, p.y + k*d.y, p.turn + k*d.turn, p.moment + k*d.moment}
	}
	for i := range steps {
		s := from + h*float64(i)
		k1 := rate(s, p)
		k2 := rate(s+h/2, add(p, k1, h/2))
		k3 := rate(s+h/2, add(p, k2, h/2))
		k4 := rate(s+h, add(p, k3, h))
		p = add(add(add(add(p, k1, h/6), k2, h/3), k3, h/3), k4, h/6)
	}
	return p
}

// unknowns of a shot: the turn of the tip, the directions of the line from the
// contact to the tip ring, from the ring to the contact and from the reel to
// the ring, and where the contact begins and ends.
type unknowns struct{ turn, last, middle, first, from, to float64 }

// misses is by how much the conditions fail, and the rod at the clamp: both
// ends of the contact are tangent and on the line, the line passes the ring and
// the reel, and the clamp does not turn.
func (c shot) misses(u unknowns) (miss [6]float64, clamp section) {
	p := section{turn: u.turn}
	p.moment = -c.tip.Offset * c.tension * (p.along(c.pull) - p.along(u.last))
	tipX, tipY := p.off(c.tip.Offset)
	p = c.back(p, c.tip.S, u.to, u.last)
	surface := math.Copysign(c.radius, c.tip.Offset)
	leftX, leftY := p.off(surface)
	miss[0] = p.turn - u.last
	miss[1] = beside(leftX, leftY, tipX, tipY, u.last)
	p = c.back(p, u.to, u.from, math.NaN())
	miss[2] = p.turn - u.middle
	metX, metY := p.off(surface)
	p = c.back(p, u.from, c.ring.S, u.middle)
	ringX, ringY := p.off(c.ring.Offset)
	miss[3] = beside(ringX, ringY, metX, metY, u.middle)
	p.moment -= c.ring.Offset * c.tension * (p.along(u.middle) - p.along(u.first))
	p = c.back(p, c.ring.S, 0, u.first)
	miss[4] = p.turn
	miss[5] = beside(p.x+c.reel.S, p.y+c.reel.Offset, ringX, ringY, u.first)
	return miss, p
}

// beside is how far the second place lies from the line through the first.
func beside(x0, y0, x1, y1, angle float64) float64 {
	return math.Cos(angle)*(y1-y0) - math.Sin(angle)*(x1-x0)
}

func (u *unknowns) each() [6]*float64 {
	return [6]*float64{&u.turn, &u.last, &u.middle, &u.first, &u.from, &u.to}
}

// solve improves the unknowns until all conditions hold to 1e-11.
func (c shot) solve(t *testing.T, u unknowns) (unknowns, section) {
	t.Helper()
	const step = 1e-6
	for range 30 {
		miss, clamp := c.misses(u)
		b := mat.NewVecDense(6, miss[:])
		if mat.Norm(b, math.Inf(1)) < 1e-11 {
			return u, clamp
		}
		jacobian := mat.NewDense(6, 6, nil)
		for j := range 6 {
			up, down := u, u
			*up.each()[j] += step
			*down.each()[j] -= step
			more, _ := c.misses(up)
			less, _ := c.misses(down)
			for i := range 6 {
				jacobian.Set(i, j, (more[i]-less[i])/(2*step))
			}
		}
		var change mat.VecDense
		if err := change.SolveVec(jacobian, b); err != nil {
			t.Fatal(err)
		}
		for j, v := range u.each() {
			*v -= change.AtVec(j)
		}
	}
	t.Fatal("the differential equations did not come to a solution")
	return u, section{}
}

func TestLineOnTheBlankAgainstShooting(t *testing.T) {
	c := shot{
		ei: func(s float64) float64 { return math.Pow(1.15-s, 2) }, radius: 0.004, tension: 2, pull: 1.5,
		reel: beam.LineRing{S: -0.1, Offset: -0.05}, ring: beam.LineRing{S: 0.2, Offset: -0.03}, tip: beam.LineRing{S: 1, Offset: -0.015},
	}
	l := beam.Line{
		Tension: c.tension, Direction: c.pull, Reel: c.reel, Rings: []beam.LineRing{c.ring, c.tip}, Radius: constant(c.radius),
	}
	pieces := []beam.Piece{{To: 1, EI: c.ei, Mu: constant(0)}}
	u, clamp := c.solve(t, unknowns{turn: 1.3, last: 1, middle: 0.6, first: 0.1, from: 0.4, to: 0.8})
	for _, elements := range []int{20, 40, 80, 160, 320} {
		t.Run(fmt.Sprintf("%d elements", elements), func(t *testing.T) {
			ls := bentLine(t)(beam.NewSolver(lineRod(t, pieces, l, elements)).BendLine(l))
			// The line sees the blank as a polygon, so errors fall with the
			// square of the parts; the shooting is good for 1e-10.
			part := 1 / float64(elements*elements)
			within(t, "x of the tip", ls.Tip().X, -clamp.x, 0.006*part)
			within(t, "y of the tip", ls.Tip().Y, -clamp.y, 0.006*part)
			within(t, "turn of the tip", ls.Tip().Turn, u.turn, 0.03*part)
			within(t, "moment at the clamp", ls.MomentAt(0), clamp.moment, 0.01*part)
			within(t, "touch", ls.Touch, u.to-u.from, 0.2*part)
			within(t, "load of the ring", ls.Rings[0].Force, 2*c.tension*math.Sin((u.middle-u.first)/2), 0.2*part)
			within(t, "load of the tip ring", ls.Rings[1].Force, 2*c.tension*math.Sin((c.pull-u.last)/2), 0.2*part)
		})
	}
}
