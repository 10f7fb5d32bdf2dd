package document

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/pages/pagetest"
)

// sample is a document with every kind of block, and letters that mean
// something in HTML or Markdown.
func sample() *Document {
	rings := Table{
		Caption: "Rings from the tip",
		Columns: []Column{{Head: "at", Right: true}, {Head: "part"}, {Head: "what it is for and where the whipping ends"}, {Head: "measured", Blank: true}, {}},
	}
	for i := range 8 {
		rings.Add(fmt.Sprintf("%d mm", 100*i), "SL-6", "a | b", "", "")
	}
	return &Document{
		Title: "Skerry <10> & others", Subtitle: "release 2026", Author: "Tarrowmouth Rods",
		Date: time.Date(2026, 1, 18, 9, 30, 0, 0, time.UTC), Footer: "revision 7cae4512",
		Blocks: []Block{
			Contents{"Contents"},
			Heading{Level: 2, Text: "Rings"},
			Paragraph{{Text: "Eight rings, "}, {Text: "not nine ", Bold: true}, {Text: "as before; see "}, {Text: "joints", Link: "#joints"}, {Text: " at 3 °, ½ in, a*b_c."}},
			rings,
			Heading{Level: 3, Text: "Rings"},
			Table{Columns: []Column{{}, {Right: true}}, Rows: [][]Text{{Plain("weight"), Bold("164 g ± 3")}}},
			Figure{samplePicture(), Plain("1:20 along, 1:2 across")},
			Heading{Level: 2, Text: "Joints", ID: "joints"},
			List{Items: []Text{Plain("dry it"), Plain("- push it home")}, Ordered: true},
			List{Items: []Text{Plain("1. no dash"), {{Text: "slanted", Italic: true}}}},
			Checklist{[]Text{Plain("tip ring in line"), Plain("joints seat")}},
			Quote(Plain("Count them twice.")),
			Caution{"Sanding", Plain("Wear a dust mask.")},
			Terms{{"whipping", Plain("thread that holds a foot")}},
			Details{Summary: "How it was measured", Blocks: []Block{Heading{Level: 3, Text: "Bench"}, Paragraph(Plain("Hung from the tip."))}},
			Beside{
				Left:  []Block{Heading{Level: 3, Text: "Left"}, Paragraph(Plain("Weigh it."))},
				Right: []Block{Heading{Level: 3, Text: "Right"}, Figure{Picture: samplePicture()}},
			},
			Leaf{samplePicture()},
		},
	}
}

func samplePicture() *drawing.Picture {
	return &drawing.Picture{
		Title: "The rod from the side", Description: "Rings at 0 and 100 mm.", Width: 150, Height: 30, Letters: 3,
		Marks: []drawing.Mark{
			drawing.Line(drawing.Point{X: 10, Y: 10}, drawing.Point{X: 110, Y: 10}, drawing.Style{Stroke: drawing.Strong, Width: 0.3, Dash: []float64{2, 1}}),
			&drawing.Circle{Centre: drawing.Point{X: 30, Y: 15}, Radius: 4, Style: drawing.Style{Fill: drawing.Band, Stroke: drawing.Strong, Width: 0.2}},
			&drawing.Group{Title: "scale", Marks: []drawing.Mark{
				&drawing.Path{Points: []drawing.Point{{X: 60, Y: 14}, {X: 70, Y: 14}, {X: 65, Y: 22}}, Closed: true, Style: drawing.Style{Fill: drawing.RGB(40, 90, 60), Opacity: 0.5}},
				&drawing.Label{At: drawing.Point{X: 120, Y: 20}, Text: "100 mm", Size: 3, Anchor: drawing.Middle, Turn: -90, Bold: true},
			}},
		},
	}
}

// words are what must be read in every form.
var words = []string{
	"Skerry", "release 2026", "revision 7cae4512", "Rings from the tip", "not nine", "700 mm", "164 g ± 3", "1:20 along", "Joints",
	"push it home", "no dash", "slanted", "tip ring in line", "Count them twice.", "Sanding", "Wear a dust mask.", "whipping",
	"thread that holds a foot", "Weigh it.", "How it was measured", "Hung from the tip.",
}

func written(t testing.TB, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestFormsSayTheSame(t *testing.T) {
	forms := []struct {
		name string
		text func(*Document) string
	}{
		{"HTML", func(d *Document) string { return string(written(t, d.HTML)) }},
		{"PDF", func(d *Document) string { return pagetest.PDFText(t, written(t, d.PDF)) }},
		{"Markdown", func(d *Document) string { return string(written(t, d.Markdown)) }},
	}
	for _, form := range forms {
		t.Run(form.name, func(t *testing.T) {
			text := form.text(sample())
			for _, word := range words {
				if !strings.Contains(text, word) {
					t.Errorf("%q is lost", word)
				}
			}
			if again := form.text(sample()); again != text {
				t.Error("written twice, two texts")
			}
		})
	}
}
