package pages_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// datedOf are the figures of a model's releases, worked out once.
func datedOf(t testing.TB, name string) []pages.Dated {
	t.Helper()
	work, _ := dated.LoadOrStore(name, sync.OnceValues(func() ([]pages.Dated, error) { return workOut(modelOf(t, name).releases) }))
	list, err := work.(func() ([]pages.Dated, error))()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

var dated sync.Map // by model

func workOut(releases []pages.Labelled) ([]pages.Dated, error) {
	var list []pages.Dated
	for i, r := range releases {
		figs, err := evaluate.New(r.Spec, models.DefaultSettings()).FiguresWithTolerances(context.Background())
		if err != nil {
			return nil, err
		}
		d := pages.Dated{Label: r.Label, Figures: figs}
		if i > 0 {
			d.Shifts = diffing.Figures(list[i-1].Figures, figs, nil)
		}
		list = append(list, d)
	}
	return list, nil
}

func TestTimeline(t *testing.T) {
	for _, name := range []string{"skerry-10", "groyne-13"} {
		releases := datedOf(t, name)
		for pen, p := range pens() {
			t.Run(name+" "+pen, func(t *testing.T) {
				pic := p.Timeline(figures.Keys(figures.Trade), releases)
				keep(t, "timeline-"+name+"-"+pen, pic)
				svg := readBack(t, pic)
				for _, key := range figures.Keys(figures.Trade) {
					checkDots(t, svg.group(pensWords.Name(key)).all("circle"), key, releases)
				}
				for _, r := range releases {
					weight, _ := r.Figures.Get("weight")
					if want := fmt.Sprintf("%s %.1f g", r.Label, 1e3*weight.Value); !strings.Contains(pic.Description, want) {
						t.Errorf("%q is not in %q", want, pic.Description)
					}
				}
			})
		}
	}
}

// checkDots looks that the heights of a figure's dots are in proportion and that
// real changes that the numbers above show, and no others, are full.
func checkDots(t *testing.T, dots []*element, key string, releases []pages.Dated) {
	if len(dots) != len(releases) {
		t.Fatalf("%s: %d dots", key, len(dots))
	}
	value := func(i int) float64 { f, _ := releases[i].Figures.Get(key); return f.Value }
	least, most := 0, 0
	for i := range dots {
		if value(i) < value(least) {
			least = i
		}
		if value(i) > value(most) {
			most = i
		}
	}
	reads := models.DefaultSettings().Display().Single(key)
	low, high := dots[least].number(t, "cy"), dots[most].number(t, "cy")
	for i, dot := range dots {
		if value(most) > value(least) {
			near(t, key+" on "+releases[i].Label, dot.number(t, "cy"), low+(high-low)*(value(i)-value(least))/(value(most)-value(least)))
		}
		full := dot.attr("class") == "fill-series-1 line-series-1" && dot.number(t, "r") == 1
		place := false
		for _, s := range releases[i].Shifts {
			place = place || s.Key == key && s.Answer() == diffing.Changed && !reads.Same(key, s.Unit, s.Old.Value, s.New.Value)
		}
		if full != place {
			t.Errorf("%s on %s: a full dot: %v, a change: %v", key, releases[i].Label, full, place)
		}
	}
}

func TestTimelineWithGaps(t *testing.T) {
	full := datedOf(t, "skerry-10")
	releases := append([]pages.Dated{}, full...)
	bare := *full[2].Figures
	bare.List = nil
	releases[2] = pages.Dated{Label: "2023", Figures: &bare}
	p := pens()["screen"]
	pic := p.Timeline([]string{"weight", "no-such-figure"}, releases)
	svg := readBack(t, pic)
	if dots := svg.group(pensWords.Name("weight")).all("circle"); len(dots) != len(full)-1 {
		t.Errorf("%d dots", len(dots))
	}
	for _, p := range svg.all("path") {
		for _, pt := range p.points(t) {
			if math.IsNaN(pt.X) || math.IsNaN(pt.Y) {
				t.Fatalf("no number in %s", p.attr("d"))
			}
		}
	}
	if one := readBack(t, p.Timeline(figures.Keys(figures.Trade), full[:1])); len(one.all("circle")) == 0 {
		t.Error("one release alone is not drawn")
	}
}

func BenchmarkTimeline(b *testing.B) {
	releases, p := datedOf(b, "skerry-10"), pens()["screen"]
	for b.Loop() {
		p.Timeline(figures.Keys(figures.Trade), releases).SVG()
	}
}

// All releases of a figure are in one unit, whatever suits each.
func TestTimelineInOneUnit(t *testing.T) {
	weighing := func(label string, kg float64) pages.Dated {
		return pages.Dated{Label: label, Figures: &evaluate.Figures{List: []evaluate.Figure{{Key: "weight", Unit: "kg", Value: kg}}}}
	}
	pic := pens()["screen"].Timeline([]string{"weight"}, []pages.Dated{weighing("2025", 0.98), weighing("2026", 2.1)})
	if want := "weight: 2025 0.98 kg and 2026 2.10 kg."; pic.Description != want {
		t.Errorf("%q, not %q", pic.Description, want)
	}
}
