package pages

import (
	"math"
	"slices"
	"strconv"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// Swinging is two or more rods that swing side by side after their tips were let go
// from the same place, with the way of every tip over time below. The picture is a
// still of all of it; a script that plays it sets the data of the paths Rod and the
// centres of the circles Dot.
type Swinging struct {
	Picture *drawing.Picture `json:"-"`
	Seconds float64          `json:"seconds"` // that the ways of the tips last
	Rods    []SwingingRod    `json:"rods"`
}

// SwingingRod is one of the rods of a Swinging, in mm on paper but for the modes.
type SwingingRod struct {
	Rod    string          `json:"rod"` // IDs of what moves
	Dot    string          `json:"dot"`
	Reach  float64         `json:"reach"` // of the tip to the right as it is let go
	Places []drawing.Point `json:"rest"`  // of the rod at rest, tip first
	Start  drawing.Point   `json:"start"` // of the way of the tip at no time and no reach
	PerS   float64         `json:"perS"`  // mm of the way in a second
	High   float64         `json:"high"`  // of the way for Reach, up
	Modes  []SwingingMode  `json:"modes"` // of Swing

	Swing *evaluate.Swing `json:"-"`
	kept  []int           // which of its places are drawn
}

// SwingingMode is one mode of a rod as a script needs it.
type SwingingMode struct {
	Turn  float64   `json:"turn"`  // rad/s, of the damped swing
	Fade  float64   `json:"fade"`  // 1/s
	Share []float64 `json:"share"` // of the tip's way, by place
}

// swings is how many swings of the slowest rod are shown: as many as it takes to see
// one rod get ahead of another.
const swings = 10

// Swinging draws rods that swing. id begins the IDs of what moves. The error means
// that a spec gives no rod.
func (p Pen) Swinging(id string, rods []Labelled) (*Swinging, error) {
	v := &Swinging{}
	high := 0.42 * p.width // of the longest free length
	long, slowest := 0.0, math.Inf(1)
	for _, r := range rods {
		swing, err := p.rods.Of(r.Spec).Swing()
		if err != nil {
			return nil, err
		}
		long, slowest = max(long, swing.S[len(swing.S)-1]), min(slowest, swing.Modes[0].Frequency)
		v.Rods = append(v.Rods, SwingingRod{Swing: swing})
	}
	lasts := swings / slowest
	v.Seconds = Hundredths(lasts)
	v.Picture = p.picture(p.words.Count("pictures.swing.title", len(rods)), p.words.Count("pictures.swing.description", len(rods), "time", p.display.Value("settle", "s", lasts), "rods", v.told(p, rods)))
	across := p.width / float64(len(rods))
	foot := high + 1.5*p.letters
	top := foot + 2*p.letters
	for i := range v.Rods {
		r := &v.Rods[i]
		r.lay(drawing.Point{X: across * (float64(i) + 0.4), Y: foot}, high/long, 0.3*across)
		r.Rod, r.Dot = name(id, "rod", i), name(id, "dot", i)
		r.High = 1.3 * p.letters
		r.Start = drawing.Point{X: margin, Y: top + 1.4*p.letters + r.High}
		r.PerS = Hundredths((p.width - 2*margin) / lasts)
		v.Picture.Add(v.rod(p, i, rods[i].Label)...)
		v.Picture.Add(v.way(p, i, rods[i].Label, lasts)...)
		top = r.Start.Y + r.High + 0.6*p.letters
	}
	v.Picture.Add(v.seconds(p, top, lasts)...)
	p.close(v.Picture)
	return v, nil
}

// name is the ID of what moves of a rod; "" where nothing does.
func name(id, what string, i int) string {
	if id == "" {
		return ""
	}
	return id + "-" + what + "-" + strconv.Itoa(i)
}

// told says how fast every rod swings.
func (v *Swinging) told(p Pen, rods []Labelled) string {
	var list []string
	for i, r := range v.Rods {
		list = append(list, p.say("swing.rod", "label", rods[i].Label, "recovery", p.display.Value("recovery", "Hz", r.Swing.Modes[0].Frequency)))
	}
	return p.words.List(list)
}

// lay lays the rod out upright on its foot, thinned to as many places as a path
// needs.
func (r *SwingingRod) lay(foot drawing.Point, perM, reach float64) {
	const parts = 16
	long := r.Swing.S[len(r.Swing.S)-1]
	for i, s := range r.Swing.S {
		if s >= long*float64(len(r.kept))/parts || i == len(r.Swing.S)-1 {
			r.kept = append(r.kept, i)
			r.Places = append(r.Places, drawing.Point{X: foot.X, Y: foot.Y - (long-s)*perM})
		}
	}
	for _, m := range r.Swing.Modes {
		w := 2 * math.Pi * m.Frequency
		r.Modes = append(r.Modes, SwingingMode{w * math.Sqrt(1-m.Damping*m.Damping), w * m.Damping,
			say.Each(r.kept, func(i int) float64 { return math.Round(1e4*m.Share*m.Shape[i]) / 1e4 })})
	}
	r.Reach = reach
}

// At is the rod so many seconds after it was let go.
func (r SwingingRod) At(seconds float64) []drawing.Point {
	path, way := slices.Clone(r.Places), r.Swing.At(seconds)
	for i, k := range r.kept {
		path[i].X += r.Reach * way[k]
	}
	return path
}

// rod is a rod as it is let go, with where it is at some moments after, the same for
// all of them, and its label.
func (v *Swinging) rod(p Pen, i int, label string) []drawing.Mark {
	const moments, apart = 5, 1. / 40 // s
	r := v.Rods[i]
	var marks []drawing.Mark
	for k := 1; k <= moments; k++ {
		marks = append(marks, &drawing.Path{Points: r.At(float64(k) * apart), Style: drawing.Style{Stroke: drawing.Hair, Width: thinLine}})
	}
	foot := r.Places[len(r.Places)-1]
	return append(marks, p.bold(foot.X, foot.Y+1.3*p.letters, drawing.Middle, p.shortened(label, p.width/float64(len(v.Rods)))),
		line(foot.X-2, foot.Y, foot.X+2, foot.Y, drawing.Strong, usualLine),
		&drawing.Path{ID: r.Rod, Points: r.At(0), Style: drawing.Style{Stroke: drawing.Series(i), Width: thickLine}})
}

// way is the way of a tip over the time that it lasts, with a dot where the tip is.
func (v *Swinging) way(p Pen, i int, label string, lasts float64) []drawing.Mark {
	const points = 400
	r, perS := v.Rods[i], (p.width-2*margin)/lasts
	path := make([]drawing.Point, points+1)
	for k := range path {
		t := lasts * float64(k) / points
		path[k] = drawing.Point{X: r.Start.X + perS*t, Y: r.Start.Y - r.High*r.Swing.Tip(t)}
	}
	const unseen = 0.05 // mm
	return []drawing.Mark{
		p.label(r.Start.X, r.Start.Y-r.High-0.5*p.letters, drawing.Start, p.say("swing.way", "label", label)),
		line(r.Start.X, r.Start.Y, p.width-margin, r.Start.Y, drawing.Grid, thinLine),
		&drawing.Path{Points: drawing.Simplified(path, unseen), Style: drawing.Style{Stroke: drawing.Series(i), Width: usualLine}},
		&drawing.Circle{ID: r.Dot, Centre: path[0], Radius: 0.9, Style: drawing.Style{Fill: drawing.Strong}},
	}
}

// seconds is the axis of time.
func (v *Swinging) seconds(p Pen, y, lasts float64) []drawing.Mark {
	marks := []drawing.Mark{line(margin, y, p.width-margin, y, drawing.Hair, thinLine)}
	for s := 0.0; s <= lasts-0.3; s++ {
		x := margin + (p.width-2*margin)/lasts*s
		marks = append(marks, line(x, y, x, y+0.8, drawing.Hair, thinLine),
			p.label(x, y+0.8+p.letters, drawing.Start, p.display.Value("", "s", s)))
	}
	return marks
}

// Hundredths rounds mm to what is drawn.
func Hundredths(mm float64) float64 { return math.Round(100*mm) / 100 }
