package pages_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// picturesOf are all drawings of a model, by what they are.
func picturesOf(t testing.TB, p pages.Pen, name string) map[string]*drawing.Picture {
	m, must := modelOf(t, name), picture(t)
	rods := firstAndLast(t, name)
	hung := evaluate.BendCase{Force: 2, Direction: math.Pi / 2, Weight: true}
	pulled := evaluate.BendCase{Force: 4, Direction: math.Pi / 2, Weight: true, ThroughRings: true}
	all := map[string]*drawing.Picture{
		"rod": must(p.Rod(m.now)), "curvature": must(p.Curvature(m.now)),
		"hung": must(p.Bends(t.Context(), rods, hung)), "pulled": must(p.Bends(t.Context(), rods, pulled)),
	}
	n := len(m.releases)
	if n < 2 {
		return all
	}
	all["trails"], all["stack"] = p.RingTrails(m.releases), must(p.Stack(m.releases))
	all["timeline"] = p.Timeline(figures.Keys(figures.Trade), datedOf(t, name))
	slide, err := p.ThenAndNow("s", rods[0], rods[1])
	if err != nil {
		t.Fatal(err)
	}
	swinging, err := p.Swinging("w", rods)
	if err != nil {
		t.Fatal(err)
	}
	all["onto"], all["swinging"] = slide.Picture, swinging.Picture
	all["flattened"], all["step"] = must(p.Flattened(rods[0], rods[1])), must(p.Step(m.releases[n-2], m.releases[n-1]))
	shifts, shares := sharedOut(t, rods[0].Spec, rods[1].Spec)
	all["waterfall"] = p.Waterfall(rods[0].Label, rods[1].Label, shifts[0], parts(shares, shifts[0].Key))
	return all
}

// page is a page with pictures on it.
func page(t testing.TB, pics map[string]*drawing.Picture) []byte {
	d := &document.Document{Title: "Drawings"}
	for _, name := range slices.Sorted(maps.Keys(pics)) {
		d.Blocks = append(d.Blocks, document.Figure{Picture: pics[name], Caption: document.Plain(name)})
	}
	var b bytes.Buffer
	if err := d.HTML(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// At 360 pixels a page leaves some 320 for a picture.
func TestLettersInABrowser(t *testing.T) {
	all := map[string][]byte{}
	for _, name := range names(t) {
		all[name+".html"] = page(t, picturesOf(t, pens()["screen"], name))
	}
	b := pagetest.Open(t, all)
	pagetest.Validate(t, all)
	for name := range all {
		b.Lettered(t, name)
	}
	b.Accessible(t, "skerry-10.html")
}

// Words have the room in the browser that they have in the drawings.
func TestTextWidthInABrowser(t *testing.T) {
	texts := []string{"1790", "butt 1561 mm", "1 : 30 along, 1 : 2 across", "ring pattern and whipping", "−0.04 lb"}
	pic := &drawing.Picture{Title: "Widths", Width: 120, Height: 60, Letters: 4}
	for i, text := range texts {
		pic.Add(&drawing.Label{At: drawing.Point{X: 2, Y: float64(6 + 8*i)}, Text: text, Size: 4})
	}
	b := pagetest.Open(t, map[string][]byte{"widths": page(t, map[string]*drawing.Picture{"widths": pic})})
	b.Show(t, "widths", pagetest.Views[0])
	found := strings.Fields(b.Ask(t, `[...document.querySelectorAll("text")].map(t => t.getComputedTextLength().toFixed(2)).join(" ")`))
	for i, text := range texts {
		var width float64
		if _, err := fmt.Sscan(found[i], &width); err != nil {
			t.Fatal(err)
		}
		want := drawing.TextWidth(text, 4, false)
		if width > want || width < 0.7*want { // the narrowest of the usual fonts
			t.Errorf("%q is %.2f mm wide in the browser and has a room of %.2f", text, width, want)
		}
	}
}
