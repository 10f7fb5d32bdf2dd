package pages_test

import (
	"math"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// sharedOut are the shifts between two rods and which edit did what to them.
func sharedOut(t testing.TB, old, now *models.Spec) ([]diffing.Shift, *diffing.Shares) {
	t.Helper()
	work := func(s *models.Spec) (*evaluate.Figures, error) {
		return evaluate.New(s, models.DefaultSettings()).Figures()
	}
	shares, err := diffing.Compare(old, now).ShareOut(t.Context(), work)
	if err != nil {
		t.Fatal(err)
	}
	before, err := work(old)
	if err != nil {
		t.Fatal(err)
	}
	after, err := work(now)
	if err != nil {
		t.Fatal(err)
	}
	shifts := diffing.Figures(before, after, nil)
	return shifts, shares
}

// parts are what every edit did to a figure.
func parts(shares *diffing.Shares, key string) []pages.Part {
	return say.Each(shares.List, func(s diffing.Share) pages.Part {
		return pages.Part{Name: say.English().Group(s.Group), Size: s.Figures[key]}
	})
}

func TestWaterfallAddsUp(t *testing.T) {
	for _, name := range names(t) {
		rods := firstAndLast(t, name)
		if len(rods) < 2 {
			continue
		}
		shifts, shares := sharedOut(t, rods[0].Spec, rods[1].Spec)
		for _, s := range shifts {
			if _, ok := shares.List[0].Figures[s.Key]; !ok {
				continue
			}
			for pen, p := range pens() {
				t.Run(name+" "+s.Key+" "+pen, func(t *testing.T) {
					pic := p.Waterfall(rods[0].Label, rods[1].Label, s, parts(shares, s.Key))
					keep(t, "waterfall-"+s.Key+"-"+name+"-"+pen, pic)
					checkWaterfall(t, readBack(t, pic), rods, s, shares)
				})
			}
		}
	}
}

// checkWaterfall looks that the bars lead from the one figure to the other, each
// from where the last one ended, in the proportions of the shares.
func checkWaterfall(t *testing.T, svg *element, rods []pages.Labelled, s diffing.Shift, shares *diffing.Shares) {
	at, last := ends(t, svg, rods[0].Label), ends(t, svg, rods[1].Label)
	perUnit, told := scaleOfBars(t, svg, s.Key, shares), 0.0
	for _, share := range shares.List {
		bar := barOf(t, svg, share)
		if bar == nil {
			continue // too little to show
		}
		near(t, share.Group.String()+" begins", bar[0].X, at)
		at = bar[2].X
		told += share.Figures[s.Key]
		near(t, share.Group.String()+" goes", at-bar[0].X, share.Figures[s.Key]*perUnit)
	}
	if perUnit != 0 && svg.group("all else") == nil {
		near(t, "what is too little to show", last-at, (s.Change-told)*perUnit)
	}
}

// barOf is the outline of a share's bar: from the place of its first corner to
// that of its third.
func barOf(t *testing.T, svg *element, share diffing.Share) []drawing.Point {
	g := svg.group(pensWords.Group(share.Group))
	if g == nil {
		return nil
	}
	paths := g.all("path")
	return paths[len(paths)-1].points(t)
}

// scaleOfBars is how long a unit of the figure is drawn, by the longest bar.
func scaleOfBars(t *testing.T, svg *element, key string, shares *diffing.Shares) float64 {
	most, perUnit := 0.0, 0.0
	for _, share := range shares.List {
		if bar := barOf(t, svg, share); bar != nil && math.Abs(share.Figures[key]) > most {
			most, perUnit = math.Abs(share.Figures[key]), (bar[2].X-bar[0].X)/share.Figures[key]
		}
	}
	return perUnit
}

// ends is where the mark of one of the two rods stands.
func ends(t *testing.T, svg *element, label string) float64 {
	return svg.group(label).all("path")[0].points(t)[0].X
}

func BenchmarkWaterfall(b *testing.B) {
	rods := firstAndLast(b, "skerry-10")
	shifts, shares := sharedOut(b, rods[0].Spec, rods[1].Spec)
	p := pens()["screen"]
	for b.Loop() {
		p.Waterfall("2021", "2026", shifts[0], parts(shares, shifts[0].Key)).SVG()
	}
}
