package pages

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
)

// Bends draws rods laid over each other, bent by the same load, with equal
// scales both ways. The front of the hold is the same place for all. With a line
// through the rings the line is drawn too. The error says which rod has no
// equilibrium to be had under the load.
func (p Pen) Bends(ctx context.Context, rods []Labelled, c evaluate.BendCase) (*drawing.Picture, error) {
	bent, err := p.bendAll(ctx, rods, []evaluate.BendCase{c})
	if err != nil {
		return nil, err
	}
	v := p.newBending("", rods, bent)
	return v.picture(0), nil
}

// Ladder is rods bent by one load after the other. Its picture shows them under
// one of the loads; a script that shows another sets the data of the paths.
type Ladder struct {
	Picture *drawing.Picture `json:"-"`
	LabelID string           `json:"id"`    // of the label that says the load
	Shown   int              `json:"shown"` // the frame that the picture shows
	Moves   []string         `json:"moves"` // IDs of the paths
	Frames  []Frame          `json:"frames"`
}

// Frame is what of a picture moves, under one load.
type Frame struct {
	Load string   `json:"load"` // in words, "200 g"
	Said string   `json:"said"` // what the picture says of itself
	X    float64  `json:"x"`    // where the label of the load stands
	Y    float64  `json:"y"`
	Data []string `json:"data"` // of the paths of Moves
}

// BendLadder bends rods by loads in steps from none to those of most. id begins the
// IDs of what moves, so that a page may have several ladders.
func (p Pen) BendLadder(ctx context.Context, id string, rods []Labelled, most evaluate.BendCase, steps int) (*Ladder, error) {
	cases := make([]evaluate.BendCase, steps+1)
	for i := range cases {
		cases[i] = most
		cases[i].Force *= float64(i) / float64(steps)
	}
	return p.BendCases(ctx, id, rods, cases, steps/2)
}

// BendCases bends rods in several cases, one of which the picture shows.
func (p Pen) BendCases(ctx context.Context, id string, rods []Labelled, cases []evaluate.BendCase, shown int) (*Ladder, error) {
	bent, err := p.bendAll(ctx, rods, cases)
	if err != nil {
		return nil, err
	}
	v := p.newBending(id, rods, bent)
	l := &Ladder{Shown: shown, LabelID: v.loadID()}
	l.Picture = v.picture(l.Shown)
	for i := range cases {
		at := v.labelAt(i)
		f := Frame{Load: v.load(i), Said: v.said(i), X: Hundredths(at.X), Y: Hundredths(at.Y)}
		l.Moves = nil // the same in every frame
		for _, path := range v.moves(i) {
			l.Moves, f.Data = append(l.Moves, path.ID), append(f.Data, drawing.Outline(path.Points))
		}
		l.Frames = append(l.Frames, f)
	}
	return l, nil
}

// bendAll bends every rod in every case, by case and rod.
func (p Pen) bendAll(ctx context.Context, rods []Labelled, cases []evaluate.BendCase) ([]bendFrame, error) {
	frames := make([]bendFrame, len(cases))
	for i, c := range cases {
		frames[i] = bendFrame{c, make([]*evaluate.Bent, len(rods))}
	}
	errs := make([]error, len(cases)*len(rods))
	err := evaluate.InParallel(ctx, len(errs), func(n int) {
		i, j := n/len(rods), n%len(rods)
		frames[i].bent[j], errs[n] = p.rods.Of(rods[j].Spec).Bend(cases[i])
	})
	if err != nil {
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return frames, nil
}

// bendFrame is rods bent in one case.
type bendFrame struct {
	evaluate.BendCase
	bent []*evaluate.Bent // by rod
}

// bending is pictures of bent rods in the making.
type bending struct {
	pen    Pen
	id     string // that IDs begin with; "" where nothing moves
	rods   []Labelled
	frames []bendFrame
	along  scale
	hold   drawing.Point // the front of the hold
	low    float64       // the lowest that anything comes, mm
}

const (
	arrowLength = 6 // mm
	arrowHead   = 1.6
)

func (p Pen) newBending(id string, rods []Labelled, frames []bendFrame) *bending {
	v := &bending{pen: p, id: id, rods: rods, frames: frames}
	held, free := 0.0, 0.0
	for _, r := range rods {
		held, free = max(held, r.HeldTo()), max(free, r.TotalLength()-r.HeldTo())
	}
	v.along = p.fitting(held+free, p.width-2*margin)
	left := (p.width - v.along.mm(held+free)) / 2
	v.hold = drawing.Point{X: left + v.along.mm(held), Y: v.highest() + margin}
	for _, f := range frames {
		for _, b := range f.bent {
			for _, pt := range b.Points {
				v.low = max(v.low, v.at(pt.X, pt.Y).Y)
			}
		}
	}
	return v
}

// highest is how far anything stands above the butt, mm: handles, rings on top,
// tips that come up again.
func (v *bending) highest() float64 {
	up := 2.0
	for i, f := range v.frames {
		for j, b := range f.bent {
			for _, pt := range b.Points {
				up = max(up, -v.along.mm(pt.Y))
			}
			for _, at := range v.way(i, j) {
				up = max(up, v.hold.Y-at.Y)
			}
		}
	}
	return up
}

// at is a place of a bent rod on paper.
func (v *bending) at(x, y float64) drawing.Point {
	return drawing.Point{X: v.hold.X + v.along.mm(x), Y: v.hold.Y + v.along.mm(y)}
}

// picture shows one frame.
func (v *bending) picture(i int) *drawing.Picture {
	p := v.pen
	pic := p.picture(p.words.Count("pictures.bends.title", len(v.rods)), v.said(i))
	pic.Add(v.butts()...)
	for j := range v.rods {
		pic.Add(v.rod(i, j))
	}
	at := v.labelAt(i)
	label := p.label(at.X, at.Y, drawing.Middle, v.load(i))
	legend := v.loadWords(i)
	if v.id != "" {
		label.ID, legend = v.loadID(), p.say("bends.any")
		if v.frames[i].ThroughRings {
			legend = p.say("bends.any pull")
		}
	}
	pic.Add(label)
	bottom := max(v.low+arrowLength+2.4*p.letters, v.hold.Y+4+1.6*p.letters)
	pic.Add(p.scaleLine(v.along, bottom, p.say("bends.scale", "scale", v.along.text(p)))...)
	pic.Key, pic.Notes = v.key(), p.say("bends.legend", "load", legend)
	return p.close(pic)
}

// said is what the picture of a frame says of itself.
func (v *bending) said(i int) string {
	return v.pen.say("bends.description", "load", v.loadWords(i), "tips", v.tips(i))
}

// load is the load of a frame, and loadWords how it pulls.
func (v *bending) load(i int) string { return v.pen.display.Value("", "N", v.frames[i].Force) }

func (v *bending) loadWords(i int) string {
	path := "bends.hung"
	if v.frames[i].ThroughRings {
		path = "bends.pulled"
	}
	return v.pen.say(path, "load", v.load(i), "angle", v.pen.display.Value("", "rad", v.frames[i].Direction))
}

func (v *bending) loadID() string { return v.id + "-load" }

// tips says where every tip comes to.
func (v *bending) tips(i int) string {
	var list []string
	for j, b := range v.frames[i].bent {
		list = append(list, v.pen.say("bends.tip", "label", v.rods[j].Label,
			"drop", v.pen.length(b.Tip.Y), "turn", v.pen.display.Value("", "rad", b.Tip.Turn)))
	}
	return strings.Join(list, " ")
}

// butts are what is held, and a mark where the hold ends.
func (v *bending) butts() []drawing.Mark {
	long := 0.0
	for _, r := range v.rods {
		long = max(long, v.along.mm(r.HeldTo()))
	}
	const half, tick = 1.4, 1.2 // mm
	handle := drawing.Box{Min: drawing.Point{X: v.hold.X - long, Y: v.hold.Y - half}, Max: drawing.Point{X: v.hold.X, Y: v.hold.Y + half}}
	marks := []drawing.Mark{tinted(handle)}
	level := line(v.hold.X, v.hold.Y, v.pen.width-margin, v.hold.Y, drawing.Hair, thinLine)
	level.Dash = []float64{0.8, 1.2}
	return append(marks, level, line(v.hold.X, v.hold.Y-half-tick, v.hold.X, v.hold.Y+half+tick, drawing.Strong, usualLine))
}

// rod is one rod of a frame with its line and load.
func (v *bending) rod(i, j int) *drawing.Group {
	g := &drawing.Group{Title: v.rods[j].Label}
	for _, path := range v.paths(i, j) {
		g.Add(path)
	}
	return g
}

// paths are those of a rod, all of which move.
func (v *bending) paths(i, j int) []*drawing.Path {
	thin := drawing.Style{Stroke: drawing.Series(j), Width: thinLine}
	path := func(what string, points []drawing.Point, style drawing.Style) *drawing.Path {
		return &drawing.Path{ID: name(v.id, what, j), Points: points, Style: style}
	}
	list := []*drawing.Path{path("rod", v.curve(i, j), drawing.Style{Stroke: drawing.Series(j), Width: thickLine, Dash: drawing.Dash(j)})}
	for k, leg := range v.legs(i, j) {
		list = append(list, path("leg-"+strconv.Itoa(k), leg[:], thin))
	}
	if way := v.way(i, j); way != nil {
		list = append(list, path("way", way, thin))
	}
	return append(list, path("arrow", v.arrow(i, j), drawing.Style{Stroke: drawing.Strong, Width: usualLine}))
}

// curve is a bent blank, hold first.
func (v *bending) curve(i, j int) []drawing.Point {
	points := v.frames[i].bent[j].Points
	path := make([]drawing.Point, len(points))
	for k, pt := range points {
		path[len(path)-1-k] = v.at(pt.X, pt.Y)
	}
	const unseen = 0.03 // mm
	return drawing.Simplified(path, unseen)
}

// way is the line from the reel through the rings; none without one.
func (v *bending) way(i, j int) []drawing.Point {
	b := v.frames[i].bent[j]
	if b.Line == nil {
		return nil
	}
	return say.Each(b.Line.Way, func(at evaluate.Place) drawing.Point { return v.at(at.X, at.Y) })
}

// legs join the rings with the blank where a line runs through them.
func (v *bending) legs(i, j int) [][2]drawing.Point {
	way := v.way(i, j)
	var legs [][2]drawing.Point
	rings := v.rods[j].Rings
	for k, at := range way[min(1, len(way)):] {
		s := float64(rings[len(rings)-1-k].At.Value)
		legs = append(legs, [2]drawing.Point{v.on(v.frames[i].bent[j], s, v.rods[j]), at})
	}
	return legs
}

// on is where s metres from the tip lie on a bent rod, which is straight where
// it is held.
func (v *bending) on(b *evaluate.Bent, s float64, r Labelled) drawing.Point {
	points := b.Points
	for k := 1; k < len(points); k++ {
		if p, q := points[k-1], points[k]; s <= q.S {
			u := (s - p.S) / (q.S - p.S)
			return v.at(p.X+u*(q.X-p.X), p.Y+u*(q.Y-p.Y))
		}
	}
	return v.at(r.TotalLength()-r.HeldTo()-s, 0)
}

// arrow is the pull at the tip, or at the tip ring where a line runs through it.
func (v *bending) arrow(i, j int) []drawing.Point {
	f := v.frames[i]
	from := v.at(f.bent[j].Tip.X, f.bent[j].Tip.Y)
	if way := v.way(i, j); way != nil {
		from = way[len(way)-1]
	}
	if f.Force == 0 {
		return []drawing.Point{from, from}
	}
	sin, cos := math.Sincos(f.Direction)
	along := func(far, aside float64) drawing.Point {
		return drawing.Point{X: from.X + far*cos - aside*sin, Y: from.Y + far*sin + aside*cos}
	}
	tip := along(arrowLength, 0)
	return []drawing.Point{from, tip, along(arrowLength-arrowHead, arrowHead/2), tip, along(arrowLength-arrowHead, -arrowHead/2)}
}

// labelAt is where the label of a frame's load stands: below the arrows.
func (v *bending) labelAt(i int) drawing.Point {
	box := drawing.Around(v.arrow(i, 0)...)
	for j := range v.rods {
		box = box.With(drawing.Around(v.arrow(i, j)...))
	}
	half := v.pen.wide(v.load(i)) / 2
	x := min((box.Min.X+box.Max.X)/2, v.pen.width-margin-half)
	return drawing.Point{X: x, Y: box.Max.Y + 1.1*v.pen.letters}
}

// key says which line is which rod.
func (v *bending) key() []drawing.Entry {
	var list []drawing.Entry
	for j, r := range v.rods {
		list = append(list, seriesEntry(j, r.Label))
	}
	return list
}

// seriesEntry says what one of several lines is.
func seriesEntry(j int, text string) drawing.Entry {
	sample := line(0, 1.5, drawing.SampleWidth, 1.5, drawing.Series(j), thickLine)
	sample.Dash = drawing.Dash(j)
	return drawing.Entry{Sample: []drawing.Mark{sample}, Text: text}
}

// moves are the paths of all rods in a frame, by ID.
func (v *bending) moves(i int) []*drawing.Path {
	var list []*drawing.Path
	for j := range v.rods {
		list = append(list, v.paths(i, j)...)
	}
	slices.SortFunc(list, func(a, b *drawing.Path) int { return strings.Compare(a.ID, b.ID) })
	return list
}
