package models_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/models"
)

// Contrasts of WCAG 2.2: black on white is 21 : 1 by its definition, and of greys on
// white #767676 is the lightest with 4.5 : 1 (W3C, Understanding SC 1.4.3: 4.54).
func TestContrast(t *testing.T) {
	white := models.Accent{R: 255, G: 255, B: 255}
	for colour, want := range map[models.Accent]float64{{}: 21, white: 1, {R: 0x76, G: 0x76, B: 0x76}: 4.54, {R: 255}: 4.00} {
		if got := colour.Contrast(white); math.Abs(got-want) > 0.005 { // rounding of the published figures
			t.Errorf("%s: %.3f, want %.2f", colour, got, want)
		}
	}
	dark := models.Accent{R: 20, G: 24, B: 28}
	if got := (models.Accent{R: 0x1f, G: 0x5c, B: 0x4a}).Until(white, dark, 4.5).Contrast(dark); got < 4.5 || got > 5 {
		t.Errorf("on dark ground it is %.2f", got)
	}
}

func TestMaker(t *testing.T) {
	got, err := models.ParseSettings("range.yaml", []byte("maker: {name: Saltmarsh Rods, address: [Net Loft, Saltmarsh], logo: a.svg, colour: 1F5C4A}"))
	if err != nil {
		t.Fatal(err)
	}
	if m := got.Maker; m.Text != "Saltmarsh Rods" || len(m.Address) != 2 || m.Logo.Text != "a.svg" || m.Colour.String() != "#1f5c4a" {
		t.Errorf("%+v", m)
	}
	for text, want := range map[string]string{
		"maker: {phone: 1}":                            "maker.name",
		`maker: {name: A, colour: "#ffcc00"}`:          `range.yaml:1:26: maker.colour: "#ffcc00" is too light to be read on white: its contrast is 1.5 : 1 and has to be 4.5 : 1; #`,
		"maker: {name: A, colour: green}":              "six digits in quotes",
		"maker: {name: A, logo: ../a.svg}":             "pictures/",
		"maker: {name: A, logo: a.gif}":                `".png"`,
		"maker: {name: A, mail: nobody}":               "rods@saltmarsh.example",
		`maker: {name: A, web: "javascript:alert(1)"}`: "saltmarsh.example",
		"maker: {name: A, address: Net Loft}":          "a list of lines",
	} {
		if _, err := models.ParseSettings("range.yaml", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
	_, err = models.ParseNotes("notes/a.yaml", []byte("pictures:\n  - {file: a.jpg}\n"))
	if err == nil || !strings.Contains(err.Error(), "notes/a.yaml:2:5: pictures[#1].shows: is missing; expected what one sees in it") {
		t.Errorf("a photograph without words: %v", err)
	}
}
