package drawing

import "math"

// Box is an upright rectangle on the paper. The zero Box is a point; one without
// anything in it has its Min beyond its Max.
type Box struct{ Min, Max Point }

func nothing() Box {
	return Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
}

// Around is the box round points.
func Around(points ...Point) Box {
	b := nothing()
	for _, p := range points {
		b = b.With(Box{p, p})
	}
	return b
}

// With is the box round two.
func (b Box) With(c Box) Box {
	return Box{
		Point{math.Min(b.Min.X, c.Min.X), math.Min(b.Min.Y, c.Min.Y)},
		Point{math.Max(b.Max.X, c.Max.X), math.Max(b.Max.Y, c.Max.Y)},
	}
}

// Within reports whether the box lies in another.
func (b Box) Within(c Box) bool {
	return b.Min.X >= c.Min.X && b.Min.Y >= c.Min.Y && b.Max.X <= c.Max.X && b.Max.Y <= c.Max.Y
}

// Overlaps reports whether two boxes have more than an edge in common.
func (b Box) Overlaps(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

func (p *Path) Bounds() Box { return Around(p.Points...) }

func (c *Circle) Bounds() Box {
	r := Point{c.Radius, c.Radius}
	return Box{Point{c.Centre.X - r.X, c.Centre.Y - r.Y}, Point{c.Centre.X + r.X, c.Centre.Y + r.Y}}
}

// Bounds is the box of the letters as TextWidth measures them, from the top of
// capitals to what hangs below the baseline.
func (l *Label) Bounds() Box {
	const above, below = 0.74, 0.21 // of the size, in the Go fonts
	width := TextWidth(l.Text, l.Size, l.Bold)
	left := map[Anchor]float64{Start: 0, Middle: -width / 2, End: -width}[l.Anchor]
	sin, cos := math.Sincos(l.Turn * math.Pi / 180)
	b := nothing()
	for _, x := range []float64{left, left + width} {
		for _, y := range []float64{-above * l.Size, below * l.Size} {
			b = b.With(Around(Point{l.At.X + x*cos - y*sin, l.At.Y + x*sin + y*cos}))
		}
	}
	return b
}

func (g *Group) Bounds() Box {
	b := nothing()
	for _, m := range g.Marks {
		b = b.With(m.Bounds())
	}
	return b
}

// Bounds is the box that all marks lie in.
func (p *Picture) Bounds() Box { return (&Group{Marks: p.Marks}).Bounds() }
