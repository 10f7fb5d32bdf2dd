package pages_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/diffing"
	"rodlore/models"
)

func TestSights(t *testing.T) {
	limits := diffing.NewLimits(models.DefaultSettings(), nil)
	for _, name := range names(t) {
		releases := modelOf(t, name).releases
		for i := 1; i < len(releases); i++ {
			before, after := releases[i-1], releases[i]
			sights := diffing.Visible(before.Spec, after.Spec, limits)
			for pen, p := range pens() {
				t.Run(name+" "+after.Label+" "+pen, func(t *testing.T) {
					pic := picture(t)(p.Sights(before, after, sights))
					if len(sights) == 0 {
						if pic != nil {
							t.Error("nothing changed and something was drawn")
						}
						return
					}
					keep(t, "sights-"+name+"-"+after.Label+"-"+pen, pic)
					checkSights(t, pic.Description, readBack(t, pic), releases[i-1:i+1], sights)
				})
			}
		}
	}
}

// checkSights looks that every sight is told and that some part of both rods is
// drawn for each, to a scale that is said.
func checkSights(t *testing.T, said string, svg *element, rods []pages.Labelled, sights []diffing.Sight) {
	drawn := strings.Join(svg.texts(), " ")
	for _, s := range sights {
		teller := pensWords.Teller(models.DefaultSettings())
		old, _, _ := strings.Cut(teller.Looks(s.Old), " ")
		now, _, _ := strings.Cut(teller.Looks(s.New), " ")
		for _, text := range []string{old, now} {
			if !strings.Contains(said, text) || !strings.Contains(drawn, text) {
				t.Errorf("%s %q is not in %q and %q", s.Aspect, text, said, drawn)
			}
		}
	}
	views := strings.Count(drawn, "along")
	for _, r := range rods {
		if n := count(svg.texts(), r.Label); n != views || views == 0 {
			t.Errorf("%s is shown %d times in %d views", r.Label, n, views)
		}
	}
}

func count(texts []string, text string) int {
	n := 0
	for _, s := range texts {
		if s == text {
			n++
		}
	}
	return n
}

func TestSightsOfTheHandleShowTheHandle(t *testing.T) {
	skerry := modelOf(t, "skerry-10").releases
	sight := diffing.Sight{Aspect: diffing.HandleLength, Old: []diffing.Look{diffing.Distance(0.62)}, New: []diffing.Look{diffing.Distance(0.61)}, Size: -0.01, Unit: "m"}
	svg := readBack(t, picture(t)(pens()["screen"].Sights(skerry[0], skerry[1], []diffing.Sight{sight})))
	for _, p := range svg.all("path") {
		if p.attr("stroke-width") == "0.6" { // that of rings alone
			t.Error("a ring beyond the handle is drawn")
		}
	}
	along := svg.scaleOf(t, 0)
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range svg.all("path") {
		if strings.HasSuffix(p.attr("d"), "z") {
			left, right := reach(t, p)
			least, most = min(least, left), max(most, right)
		}
	}
	near(t, "what is shown", most-least, (620+80)/along) // the longer handle, and as much of the blank as is shown with it
}

func BenchmarkSights(b *testing.B) {
	skerry, p := modelOf(b, "skerry-10").releases, pens()["screen"]
	sights := diffing.Visible(skerry[4].Spec, skerry[5].Spec, diffing.NewLimits(models.DefaultSettings(), nil))
	for b.Loop() {
		picture(b)(p.Sights(skerry[4], skerry[5], sights)).SVG()
	}
}
