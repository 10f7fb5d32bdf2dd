package pages_test

import (
	"fmt"
	"math"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/drawing"
	"rodlore/evaluate"
	"rodlore/models"
)

// firstAndLast are a model's first and last release, or how it stands.
func firstAndLast(t testing.TB, name string) []pages.Labelled {
	m := modelOf(t, name)
	if n := len(m.releases); n > 1 {
		return []pages.Labelled{m.releases[0], m.releases[n-1]}
	}
	return []pages.Labelled{{Label: "now", Spec: m.now}}
}

func TestBends(t *testing.T) {
	cases := map[string]evaluate.BendCase{
		"hung":   {Force: 2, Direction: math.Pi / 2, Weight: true},
		"pulled": {Force: 5, Direction: math.Pi / 2, Weight: true, ThroughRings: true},
	}
	for _, name := range names(t) {
		rods := firstAndLast(t, name)
		for how, c := range cases {
			for pen, p := range pens() {
				t.Run(name+" "+how+" "+pen, func(t *testing.T) {
					pic := picture(t)(p.Bends(t.Context(), rods, c))
					keep(t, how+"-"+name+"-"+pen, pic)
					svg := readBack(t, pic)
					for _, r := range rods {
						checkBend(t, svg, r, c)
					}
				})
			}
		}
	}
}

// checkBend holds a drawn bend against the shape that it shows. It must also be
// as long as the free length, however it is bent.
func checkBend(t *testing.T, svg *element, r pages.Labelled, c evaluate.BendCase) {
	along := svg.scaleOf(t, 0)
	paths := svg.group(r.Label).all("path")
	curve := paths[0].points(t)
	bent, err := evaluate.New(r.Spec, models.DefaultSettings()).Bend(c)
	if err != nil {
		t.Fatal(err)
	}
	near(t, r.Label+" length", length(curve), 1e3*(r.TotalLength()-r.HeldTo())/along)
	hold, tip := curve[0], curve[len(curve)-1]
	near(t, r.Label+" tip forward", tip.X-hold.X, 1e3*bent.Tip.X/along)
	near(t, r.Label+" tip down", tip.Y-hold.Y, 1e3*bent.Tip.Y/along)
	if !c.ThroughRings {
		return
	}
	way := paths[len(paths)-2].points(t)
	if len(way) != len(r.Rings)+1 {
		t.Fatalf("%s: a line through %d places, of %d rings and a reel", r.Label, len(way), len(r.Rings))
	}
	for i, at := range bent.Line.Way {
		near(t, fmt.Sprintf("%s line at %d", r.Label, i), math.Hypot(way[i].X-hold.X-1e3*at.X/along, way[i].Y-hold.Y-1e3*at.Y/along), 0)
	}
}

func length(path []drawing.Point) float64 {
	var sum float64
	for i := 1; i < len(path); i++ {
		sum += math.Hypot(path[i].X-path[i-1].X, path[i].Y-path[i-1].Y)
	}
	return sum
}

func TestBendLadder(t *testing.T) {
	for i, name := range names(t) {
		rods := firstAndLast(t, name)
		threaded := i%2 == 1 && len(rods[0].Rings) > 1
		l, err := pens()["screen"].BendLadder(t.Context(), "b", rods, hung(3, threaded), 12)
		if err != nil {
			t.Fatal(err)
		}
		if l.Frames[0].Said == l.Frames[12].Said || l.Frames[l.Shown].Said != l.Picture.Description {
			t.Errorf("%s: the description does not follow the load", name)
		}
		keep(t, "ladder-"+name+"-screen", l.Picture)
		svg := readBack(t, l.Picture)
		if len(l.Frames) != 13 || l.Frames[0].Load != "0 g" || l.Frames[12].Load != "306 g" {
			t.Errorf("%s: %d frames, from %s to %s", name, len(l.Frames), l.Frames[0].Load, l.Frames[len(l.Frames)-1].Load)
		}
		for _, f := range l.Frames {
			checkFrame(t, svg, l, f)
		}
		shown := l.Frames[l.Shown]
		for i, id := range l.Moves {
			if got := svg.id(id).attr("d"); got != shown.Data[i] {
				t.Errorf("%s: %s is shown as %s, not as in its frame, %s", name, id, got, shown.Data[i])
			}
		}
		if got := svg.id(l.LabelID).Text; got != shown.Load {
			t.Errorf("the label says %q, not %q", got, shown.Load)
		}
	}
}

// hung is a load on the tip ring, or a pull at the line.
func hung(force float64, threaded bool) evaluate.BendCase {
	return evaluate.BendCase{Force: force, Direction: math.Pi / 2, Weight: true, ThroughRings: threaded}
}

// checkFrame looks that what a frame moves is there and stays in the picture.
func checkFrame(t *testing.T, svg *element, l *pages.Ladder, f pages.Frame) {
	paper := drawing.Box{Max: drawing.Point{X: l.Picture.Width, Y: l.Picture.Height}}
	if !drawing.Around(drawing.Point{X: f.X, Y: f.Y}).Within(paper) {
		t.Errorf("%s: the label stands at %g, %g", f.Load, f.X, f.Y)
	}
	for i, id := range l.Moves {
		if svg.id(id) == nil {
			t.Errorf("nothing has the ID %s", id)
		}
		moved := element{}
		moved.Attr = append(moved.Attr, svg.id(id).Attr...)
		for k := range moved.Attr {
			if moved.Attr[k].Name.Local == "d" {
				moved.Attr[k].Value = f.Data[i]
			}
		}
		if box := drawing.Around(moved.points(t)...); !box.Within(paper) {
			t.Errorf("%s under %s leaves the picture: %v", id, f.Load, box)
		}
	}
}

func TestBendsThatAreNone(t *testing.T) {
	rods := firstAndLast(t, "skerry-10")
	if _, err := pens()["screen"].Bends(t.Context(), rods, evaluate.BendCase{Force: -1, Direction: math.Pi / 2}); err == nil {
		t.Error("a load below zero was drawn")
	}
}

func BenchmarkBendLadder(b *testing.B) {
	rods, p := firstAndLast(b, "skerry-10"), pens()["screen"]
	for b.Loop() {
		if _, err := p.BendLadder(b.Context(), "b", rods, hung(6, false), 24); err != nil {
			b.Fatal(err)
		}
	}
}
