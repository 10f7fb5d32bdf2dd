package pages

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/models"
)

// RingTrails draws where the rings stood on each of several releases, oldest
// first, with the way of every ring from one to the next.
func (p Pen) RingTrails(releases []Labelled) *drawing.Picture {
	v := p.newTrails(releases)
	said := say.Each(releases, func(r Labelled) string { return p.say("trails.release", "label", r.Label, "rings", p.ringList(r.Spec)) })
	pic := p.picture(p.say("trails.title", "name", v.newest().Name.Text),
		p.say("trails.description", "releases", strings.Join(said, " ")))
	for i := range releases {
		pic.Add(v.row(i))
	}
	pic.Add(v.ways()...)
	for i := range releases {
		pic.Add(v.rings(i))
	}
	bottom := v.y(len(releases)-1) + v.room
	pic.Add(v.places(0, v.y(0)-v.room, drawing.Start)...)
	pic.Add(v.places(len(releases)-1, bottom, drawing.End)...)
	bottom += p.wide("0000") + 1.8*p.letters
	pic.Add(p.scaleLine(v.along, bottom, p.say("trails.scale", "along", v.along.text(p), "across", ringScale.text(p)))...)
	pic.Notes = p.say("trails.legend", "unit", p.unit())
	pic.Key = v.key()
	return p.close(pic)
}

// key says what areas and signs are.
func (v trails) key() []drawing.Entry {
	box := drawing.Box{Min: drawing.Point{X: 1, Y: 0.6}, Max: drawing.Point{X: 7, Y: 2.4}}
	list := []drawing.Entry{{Sample: []drawing.Mark{tinted(box)}, Text: v.pen.say("trails.tinted")}}
	if v.drawn[added] {
		list = append(list, added.entry(v.pen.say("trails.added")))
	}
	if v.drawn[gone] {
		list = append(list, gone.entry(v.pen.say("trails.gone")))
	}
	return list
}

// tinted is a part of a rod that is no plain blank.
func tinted(box drawing.Box) *drawing.Path {
	return drawing.Rectangle(box, drawing.Style{Fill: drawing.Band, Stroke: drawing.Hair, Width: thinLine})
}

// ringList lists the places of the running rings, if there are any.
func (p Pen) ringList(s *models.Spec) string {
	if len(s.Rings) < 2 {
		return p.ringWords(s)
	}
	return p.words.List(say.Each(s.Rings[1:], func(ring models.Ring) string { return p.length(float64(ring.At.Value)) }))
}

// ringScale is that of rings seen through.
const ringScale scale = 5

// trails is the picture of RingTrails in the making.
type trails struct {
	pen      Pen
	releases []Labelled
	along    scale
	tip      float64 // x of the tips, mm
	top      float64 // y of the first release
	pitch    float64 // from one release to the next
	room     float64 // above the first and below the last release
	drawn    map[sign]bool
}

func (p Pen) newTrails(releases []Labelled) trails {
	long := longest(releases)
	v := trails{pen: p, releases: releases, drawn: map[sign]bool{}, along: p.fitting(long, p.width-2*margin-p.letters)}
	v.tip = p.width - margin - p.letters
	v.room = v.largest() + 0.8*p.letters
	v.top = p.wide("0000") + 1 + v.room
	v.pitch = max(2.4, min(3.2, 40/float64(len(releases)))) * p.letters
	return v
}

// longest is the length of the longest of several rods, m.
func longest(rods []Labelled) float64 {
	most := 0.0
	for _, r := range rods {
		most = max(most, r.TotalLength())
	}
	return most
}

// largest is the radius on paper of the largest ring there is.
func (v trails) largest() float64 {
	most := 0.0
	for _, r := range v.releases {
		for _, ring := range r.Rings {
			most = max(most, v.radius(r.Spec, ring))
		}
	}
	return most
}

// radius is that of a ring on paper.
func (v trails) radius(s *models.Spec, ring models.Ring) float64 {
	return max(0.5, ringScale.mm(float64(s.Parts[ring.Part.Text].Size.Value))/2)
}

func (v trails) newest() *models.Spec { return v.releases[len(v.releases)-1].Spec }

func (v trails) x(s float64) float64 { return v.tip - v.along.mm(s) }
func (v trails) y(i int) float64     { return v.top + float64(i)*v.pitch }

// row is a release as a line with its handle and joints, and its label.
func (v trails) row(i int) *drawing.Group {
	s, y := v.releases[i].Spec, v.y(i)
	g := &drawing.Group{}
	g.Add(line(v.x(s.TotalLength()), y, v.x(0), y, drawing.Hair, thinLine))
	spans := append(s.JointSpans(), models.Span{From: s.TotalLength() - s.HandleFront(), To: s.TotalLength()})
	for _, at := range spans {
		const half = 0.9 // mm
		box := drawing.Box{Min: drawing.Point{X: v.x(at.To), Y: y - half}, Max: drawing.Point{X: v.x(at.From), Y: y + half}}
		g.Add(tinted(box))
	}
	label, beyond := v.pen.headed(v.x(s.TotalLength()), y-0.5*v.pen.letters, v.releases[i].Label)
	g.Add(label, v.pen.faint(beyond, label.At.Y, drawing.Start, v.pen.say("count", "n", strconv.Itoa(len(s.Rings)-1))))
	return g
}

// rings are the rings of a release as one looks through them.
func (v trails) rings(i int) *drawing.Group {
	g := &drawing.Group{Title: v.releases[i].Label}
	for _, ring := range v.releases[i].Rings {
		g.Add(&drawing.Circle{
			Centre: v.at(i, ring), Radius: v.radius(v.releases[i].Spec, ring),
			Style: drawing.Style{Fill: drawing.Paper, Stroke: drawing.Strong, Width: usualLine},
		})
	}
	return g
}

func (v trails) at(i int, ring models.Ring) drawing.Point {
	return drawing.Point{X: v.x(float64(ring.At.Value)), Y: v.y(i)}
}

// ways are the ways of all rings, with what begins and ends.
func (v trails) ways() []drawing.Mark {
	var marks []drawing.Mark
	going := make([]*drawing.Path, len(v.releases[0].Rings)) // by ring of the release at hand
	for j, ring := range v.releases[0].Rings {
		going[j] = v.way(0, ring)
		marks = append(marks, going[j])
	}
	for i := 1; i < len(v.releases); i++ {
		before, now := v.releases[i-1].Rings, v.releases[i].Rings
		next := make([]*drawing.Path, len(now))
		for _, pair := range v.pen.comparer.Compare(v.releases[i-1].Spec, v.releases[i].Spec).RingPairs() {
			switch {
			case pair.New < 0:
				marks = append(marks, v.loose(gone, v.at(i-1, before[pair.Old]), 1)...)
			case pair.Old < 0:
				next[pair.New] = v.way(i, now[pair.New])
				marks = append(append(marks, next[pair.New]), v.loose(added, v.at(i, now[pair.New]), -1)...)
			default:
				next[pair.New] = going[pair.Old]
				next[pair.New].Points = append(next[pair.New].Points, v.at(i, now[pair.New]))
			}
		}
		going = next
	}
	return marks
}

// way is the way of a ring that begins at a release.
func (v trails) way(i int, ring models.Ring) *drawing.Path {
	return &drawing.Path{
		Points: []drawing.Point{v.at(i, ring)},
		Style:  drawing.Style{Stroke: drawing.Series(0), Width: usualLine},
	}
}

// loose marks a ring that is on one of two releases only: with a sign halfway to
// the other, which is below, at +1, or above, at −1.
func (v trails) loose(what sign, at drawing.Point, way float64) []drawing.Mark {
	v.drawn[what] = true
	y := at.Y + way*v.pitch/2
	path := line(at.X, at.Y, at.X, y-1.5*way*signSize, drawing.Series(1), usualLine)
	path.Dash = drawing.Dash(1)
	return []drawing.Mark{path, what.at(at.X, y)}
}

// places are the distances of a release's rings from the tip, hanging from y or
// standing on it.
func (v trails) places(i int, y float64, anchor drawing.Anchor) []drawing.Mark {
	rings := slices.Clone(v.releases[i].Rings)
	slices.Reverse(rings) // from left to right
	xs := say.Each(rings, func(ring models.Ring) float64 { return v.at(i, ring).X })
	var marks []drawing.Mark
	xs, _ = v.pen.apart(xs, 1.15)
	for j, x := range xs {
		label := v.pen.hanging(x, y, v.pen.number(float64(rings[j].At.Value)))
		label.Anchor = anchor
		at, off := v.at(i, rings[j]), v.radius(v.releases[i].Spec, rings[j])+0.3
		away := math.Copysign(1, y-at.Y)
		marks = append(marks, line(x, y-away*0.3, at.X, at.Y+away*off, drawing.Hair, thinLine), label)
	}
	return marks
}
