package beam

// quadratic is what a node's displacement (x, y) and turn t cost when all
// beyond the node follows at its best: ½·zᵀAz + b·z.
type quadratic struct {
	xx, xy, yy, xt, yt, tt float64
	x, y, t                float64
}

// push adds a force on the node.
func (q *quadratic) push(f vector) { q.x, q.y = q.x+f.x, q.y+f.y }

// resist is the force against a displacement v without a turn.
func (q *quadratic) resist(v vector) vector {
	return vector{q.xx*v.x + q.xy*v.y, q.xy*v.x + q.yy*v.y}
}

// The unknowns of an element.
const (
	startTurn = iota
	bubbleTurn
	endTurn
	unknowns
)

// shares are the shape functions of the unknowns at the Gauss points.
var shares = elementShares()

func elementShares() (s [points][unknowns]float64) {
	for k := range s {
		s[k] = [unknowns]float64{startTurn: shapeStart[k], bubbleTurn: shapeBubble[k], endTurn: shapeEnd[k]}
	}
	return s
}

// inertia is that of an element, in the displacement of its start and the
// turns at its Gauss points, whose directions are left to the posture.
type inertia struct {
	mass   float64                 // kg
	first  [points]float64         // kg·m
	second [points][points]float64 // kg·m²
}

func newInertia(el *element) (in inertia) {
	var reach [points][points]float64 // of the points, for the turn at each
	for k := range points {
		var turn [points]float64
		turn[k] = el.h
		reach[k], _ = integral(&turn)
	}
	for j := range points {
		mass := gaussWeight[j] * el.h * el.mu[j]
		in.mass += mass
		for k := range points {
			in.first[k] += mass * reach[k][j]
			for i := range points {
				in.second[i][k] += mass * reach[i][j] * reach[k][j]
			}
		}
	}
	return in
}

// turning is an element's quadratic in the displacement of its start and the
// turns at its Gauss points.
type turning struct {
	reach  [points]vector          // displacement of the element's end
	cross  [points]vector          // displacement and turns
	own    [points][points]float64 // the upper half
	linear [points]float64
}

// byUnknowns puts the shape functions in for the turns.
func (t *turning) byUnknowns() (c cost) {
	t.own[1][0], t.own[2][0], t.own[2][1] = t.own[0][1], t.own[0][2], t.own[1][2]
	for v := range unknowns {
		s := [points]float64{shares[0][v], shares[1][v], shares[2][v]}
		c.reach[v], c.cross[v] = combine(&s, &t.reach), combine(&s, &t.cross)
		c.linear[v] = s[0]*t.linear[0] + s[1]*t.linear[1] + s[2]*t.linear[2]
		var row [points]float64
		for k := range points {
			row[k] = t.own[k][0]*s[0] + t.own[k][1]*s[1] + t.own[k][2]*s[2]
		}
		for u := 0; u <= v; u++ {
			c.own[u][v] = shares[0][u]*row[0] + shares[1][u]*row[1] + shares[2][u]*row[2]
		}
	}
	return c
}

// addEnd adds what the turn of the element's end costs beyond it.
func (c *cost) addEnd(far *quadratic) {
	end := vector{far.xt, far.yt}
	c.cross[endTurn] = c.cross[endTurn].plus(end)
	for u := range unknowns {
		c.own[u][endTurn] += c.reach[u].dot(end)
	}
	c.own[endTurn][endTurn] += c.reach[endTurn].dot(end) + far.tt
	c.linear[endTurn] += far.t
}

// cost is an element's quadratic: in the displacement of its start and in its
// three unknowns.
type cost struct {
	quadratic                             // of the displacement; its turn is not used
	cross     [unknowns]vector            // displacement and unknowns
	own       [unknowns][unknowns]float64 // the upper half
	linear    [unknowns]float64
	reach     [unknowns]vector // displacement of the element's end
}

// follow is the minimum over an unknown, as a function of what comes before it.
type follow struct {
	move          vector
	start, bubble float64
	alone         float64
}

// at is the unknown's value.
func (f *follow) at(move vector, start, bubble float64) float64 {
	return f.move.dot(move) + f.start*start + f.bubble*bubble + f.alone
}

// link is what the sweep to the clamp leaves of an element for the way back.
type link struct {
	bubble, end follow
	reach       [unknowns]vector // of the element's end
}

// eliminate minimises over the end's turn and the bubble. The rest is that of
// the start's displacement and turn. It fails where there is no minimum.
func (c *cost) eliminate(l *link) (near quadratic, ok bool) {
	l.reach = c.reach
	ee := c.own[endTurn][endTurn]
	inverse := -1 / ee
	l.end = follow{
		c.cross[endTurn].times(inverse), c.own[startTurn][endTurn] * inverse,
		c.own[bubbleTurn][endTurn] * inverse, c.linear[endTurn] * inverse,
	}
	c.drop(endTurn, &l.end)
	bb := c.own[bubbleTurn][bubbleTurn]
	inverse = -1 / bb
	l.bubble = follow{
		c.cross[bubbleTurn].times(inverse), c.own[startTurn][bubbleTurn] * inverse, 0, c.linear[bubbleTurn] * inverse,
	}
	c.drop(bubbleTurn, &l.bubble)
	near = c.quadratic
	near.xt, near.yt = c.cross[startTurn].x, c.cross[startTurn].y
	near.tt, near.t = c.own[startTurn][startTurn], c.linear[startTurn]
	return near, ee > 0 && bb > 0
}

// drop takes out the unknown u, which follows the others.
func (c *cost) drop(u int, f *follow) {
	v := c.cross[u]
	c.xx += v.x * f.move.x
	c.xy += v.x * f.move.y
	c.yy += v.y * f.move.y
	c.x += v.x * f.alone
	c.y += v.y * f.alone
	s := c.own[startTurn][u]
	c.cross[startTurn] = c.cross[startTurn].plus(f.move.times(s))
	c.own[startTurn][startTurn] += s * f.start
	c.linear[startTurn] += s * f.alone
	if u == endTurn {
		b := c.own[bubbleTurn][u]
		c.cross[bubbleTurn] = c.cross[bubbleTurn].plus(f.move.times(b))
		c.own[startTurn][bubbleTurn] += s * f.bubble
		c.own[bubbleTurn][bubbleTurn] += b * f.bubble
		c.linear[bubbleTurn] += b * f.alone
	}
}
