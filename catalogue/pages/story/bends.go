package story

import (
	_ "embed"
	"encoding/json"
	"math"
	"slices"
	"strings"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models/units"
)

// bends draws the first and the last release under one load with the line through
// their rings, and what flattens the curve. On a screen they are also under a
// load hung from the tip, which a reader with scripts may change.
func (t *tale) bends() ([]document.Block, error) {
	rods := t.labelled(t.last())
	intro := []string{t.Say("bends.one", "release", t.last().name)}
	if t.whole != nil {
		rods = t.labelled(t.first(), t.last())
		intro = append([]string{t.Say("bends.two", "first", t.first().name, "last", t.last().name)}, t.strength()...)
	}
	most, steps := t.loads()
	// A pole has no rings to run a line through.
	threaded := !slices.ContainsFunc(rods, func(r pages.Labelled) bool { return len(r.Spec.Rings) < 2 })
	pulled, err := t.half.Bends(t.ctx, rods, evaluate.BendCase{
		Force: most * float64(steps/2) / float64(steps), Direction: math.Pi / 2, Weight: true, ThroughRings: threaded,
	})
	if err != nil {
		return nil, err
	}
	bent := []document.Block{t.figure(pulled)}
	if threaded {
		bent[0] = t.figure(pulled, t.Say("bends.line"))
	}
	if !t.Print {
		ladder, err := t.half.BendLadder(t.ctx, "bend", rods, most, steps)
		if err != nil {
			return nil, err
		}
		t.script = sliderScript(ladder, t.Say("bends.slider"))
		bent = []document.Block{t.figure(ladder.Picture), bent[0]}
	}
	curvature, err := t.half.Curvature(t.spec())
	if err != nil {
		return nil, err
	}
	flat := []document.Block{t.figure(curvature, t.Say("bends.curvature"))}
	return []document.Block{
		t.heading(2, "bends.heading"), document.Paragraph(telling.Plain(sentences(intro))), document.Beside{Left: bent, Right: flat},
	}, nil
}

// strength says what became of the power, which is what such curves show.
func (t *tale) strength() []string {
	if curve, ok := telling.CurveAlone(t.whole.Step); ok {
		return []string{t.Shift(curve)}
	}
	if s, ok := telling.Shift(t.whole.Step, "third-load"); ok && (t.Shows(s) || say.DirectionOf(s) == say.Same) {
		return []string{t.Shift(s)}
	}
	return nil
}

// roundLoads are steps of a load that are told in a round number, by whether the
// range measures in ounces.
var roundLoads = map[bool][]string{
	false: {"1 g", "2 g", "5 g", "10 g", "20 g", "50 g", "100 g", "200 g", "500 g", "1 kg"},
	true:  {"1/8 oz", "1/4 oz", "1/2 oz", "1 oz", "2 oz", "4 oz", "8 oz", "1 lb", "2 lb"},
}

// mostSteps is into how many steps the loads are divided at most.
const mostSteps = 14

// loads are the largest load, N, which is about the test curve, and the number of
// round steps to it.
func (t *tale) loads() (most float64, steps int) {
	least := math.Inf(1)
	for _, c := range []*chapter{t.first(), t.last()} {
		if f, ok := c.Figures.Get("test-curve"); ok {
			least = min(least, f.Value)
		}
	}
	if math.IsInf(least, 1) { // a rod whose tip never comes round
		third, _ := t.last().Figures.Get("third-load")
		least = third.Value
	}
	var step float64
	for _, text := range roundLoads[t.Units == "imperial"] {
		force, err := units.ParseAs[units.Force](text)
		if err != nil {
			panic("story: " + err.Error())
		}
		if step = float64(force); least/step <= mostSteps {
			break
		}
	}
	steps = max(int(least/step), 1)
	return float64(steps) * step, steps
}

//go:embed slider.js
var slider string

// sliderScript lets a reader choose the load: it adds the control, so that there
// is none without scripts.
func sliderScript(l *pages.Ladder, label string) string {
	type frame struct {
		Load  string            `json:"load"`
		X     float64           `json:"x"`
		Y     float64           `json:"y"`
		Paths map[string]string `json:"paths"`
	}
	data := struct {
		Label  string  `json:"label"`
		ID     string  `json:"id"`
		Shown  int     `json:"shown"`
		Frames []frame `json:"frames"`
	}{Label: label, ID: l.LabelID, Shown: l.Shown}
	for _, f := range l.Frames {
		data.Frames = append(data.Frames, frame{f.Load, hundredths(f.At.X), hundredths(f.At.Y), f.Paths})
	}
	text, err := json.Marshal(data)
	if err != nil {
		panic("story: " + err.Error())
	}
	return strings.Replace(slider, "BENDS", string(text), 1)
}

// hundredths rounds to what is drawn.
func hundredths(mm float64) float64 { return math.Round(100*mm) / 100 }
