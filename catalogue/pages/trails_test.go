package pages_test

import (
	"strconv"
	"testing"

	"rodlore/diffing"
)

func TestRingTrailsToScale(t *testing.T) {
	for _, name := range names(t) {
		releases := modelOf(t, name).releases
		if len(releases) == 0 {
			continue
		}
		for pen, p := range pens() {
			t.Run(name+" "+pen, func(t *testing.T) {
				pic := p.RingTrails(releases)
				keep(t, "trails-"+name+"-"+pen, pic)
				svg := readBack(t, pic)
				along, size := svg.scaleOf(t, 0), svg.scaleOf(t, 1)
				before := 0.0
				for _, r := range releases {
					circles := svg.group(r.Label).all("circle")
					if len(circles) != len(r.Rings) {
						t.Fatalf("%s: %d circles for %d rings", r.Label, len(circles), len(r.Rings))
					}
					tip := circles[0].number(t, "cx")
					for i, ring := range r.Rings {
						near(t, r.Label+" "+ring.At.Text, tip-circles[i].number(t, "cx"), 1e3*float64(ring.At.Value)/along)
						if i > 0 { // the smallest tip rings are drawn larger, to be seen
							near(t, "size of "+ring.Part.Text, 2*circles[i].number(t, "r"), max(1, 1e3*float64(r.Parts[ring.Part.Text].Size.Value)/size))
						}
					}
					if y := circles[0].number(t, "cy"); y <= before {
						t.Errorf("%s stands at %g, not below %g", r.Label, y, before)
					} else {
						before = y
					}
				}
			})
		}
	}
}

// The way of a ring goes through the very places of it on all releases, and
// every ring is on one way.
func TestRingTrailsJoin(t *testing.T) {
	releases := modelOf(t, "skerry-10").releases
	svg := readBack(t, pens()["screen"].RingTrails(releases))
	corners := 0
	for _, path := range svg.all("path") {
		if path.attr("class") == "line-series-1" {
			corners += len(path.points(t))
		}
	}
	rings, lost := 0, 0
	for i, r := range releases {
		rings += len(r.Rings)
		if i == 0 {
			continue
		}
		for _, pair := range diffing.Compare(releases[i-1].Spec, r.Spec).RingPairs() {
			if pair.New < 0 {
				lost++
			}
		}
	}
	if corners != rings {
		t.Errorf("the ways go through %d places, there are %d rings", corners, rings)
	}
	crosses := 0
	for _, g := range svg.all("g") {
		if paths := g.all("path"); len(paths) == 2 && len(g.all("text")) == 0 && paths[0].attr("class") == "line-series-2" {
			crosses++
		}
	}
	if crosses != lost || lost == 0 {
		t.Errorf("%d crosses for %d rings that went", crosses, lost)
	}
}

// A maker has sold a model for twenty years.
func BenchmarkRingTrails(b *testing.B) {
	releases := modelOf(b, "skerry-10").releases
	for i := len(releases); i < 20; i++ {
		next := releases[i%6]
		next.Label = strconv.Itoa(2021 + i)
		releases = append(releases[:i:i], next)
	}
	p := pens()["screen"]
	for b.Loop() {
		p.RingTrails(releases).SVG()
	}
}
