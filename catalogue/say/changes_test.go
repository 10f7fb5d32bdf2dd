package say

import (
	"testing"

	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// said and standing are what a spec says, of texts with a unit of length as such.
func said(text string) diffing.Content {
	return diffing.Content{Values: []diffing.Value{{Quantity: quantity(text)}}}
}

func standing(what, at string) diffing.Content {
	return diffing.Content{What: what, At: quantity(at)}
}

func quantity(text string) units.Quantity {
	v, err := units.ParseAs[units.Length](text)
	if err != nil {
		return units.Quantity{Text: text}
	}
	return units.Quantity{Value: float64(v), Unit: "m", Text: text}
}

func TestDifference(t *testing.T) {
	tests := []struct {
		name   string
		change diffing.Change
		want   string
	}{
		{"a ring's part", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "rings", Entry: "at 135 mm"}, {Key: "part"}}, Old: said("SL-8"), New: said("SL-6")}, "ring at 135 mm: SL-8 → SL-6"},
		{"a whipping", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "rings", Entry: "at 135 mm"}, {Key: "whipping"}}, Old: said("16 mm"), New: said("15 mm")}, "ring at 135 mm, whipping: 16 mm → 15 mm"},
		{"a ring that came", diffing.Change{Kind: diffing.Added, Path: models.Path{{Key: "rings", Entry: "at 310 mm"}}, New: standing("SL-6", "310 mm")}, "+ SL-6 at 310 mm"},
		{"a ring that went", diffing.Change{Kind: diffing.Removed, Path: models.Path{{Key: "rings", Entry: "at 310 mm"}}, Old: standing("SL-6", "310 mm")}, "− SL-6 at 310 mm"},
		{"a ring that moved", diffing.Change{Kind: diffing.Moved, Path: models.Path{{Key: "rings", Entry: "at 160 mm"}}, Old: standing("SL-6", "135 mm"), New: standing("SL-6", "160 mm")}, "SL-6: 135 mm → 160 mm"},
		{"a ring that became another and moved", diffing.Change{Kind: diffing.Moved, Path: models.Path{{Key: "rings", Entry: "at 160 mm"}}, Old: standing("SL-8", "135 mm"), New: standing("SL-6", "160 mm")}, "SL-8 at 135 mm → SL-6 at 160 mm"},
		{"a station that moved", diffing.Change{Kind: diffing.Moved, Path: models.Path{{Key: "sections", Entry: "tip"}, {Key: "tube", Entry: "at 1487 mm"}}, Old: standing("", "1483 mm"), New: standing("", "1487 mm"), Group: diffing.CutOf("tip")}, "tube at 1487 mm: 1483 mm → 1487 mm"},
		{"a station that went with the cut for a joint", diffing.Change{Kind: diffing.Removed, Path: models.Path{{Key: "sections", Entry: "tip"}, {Key: "tube", Entry: "at 1561 mm"}}, Old: standing("", "1561 mm"), Group: diffing.Joints}, "− section tip, tube at 1561 mm"},
		{"a station that went with a cut", diffing.Change{Kind: diffing.Removed, Path: models.Path{{Key: "sections", Entry: "tip"}, {Key: "tube", Entry: "at 1561 mm"}}, Old: standing("", "1561 mm"), Group: diffing.CutOf("tip")}, "− tube at 1561 mm"},
		{"a wall", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "sections", Entry: "tip"}, {Key: "tube", Entry: "at 0 mm"}, {Key: "wall"}}, Old: said("0.5 mm"), New: said("0.6 mm"), Group: diffing.BlankOf("tip")}, "tube at 0 mm, wall: 0.5 mm → 0.6 mm"},
		{"a section that came", diffing.Change{Kind: diffing.Added, Path: models.Path{{Key: "sections", Entry: "middle"}}, New: said("800 mm, carbon")}, "+ section middle: 800 mm, carbon"},
		{"a section of another division", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "sections", Entry: "tip"}, {Key: "tube", Entry: "at 0 mm"}, {Key: "wall"}}, Old: said("0.5 mm"), New: said("0.6 mm"), Group: diffing.Sections}, "section tip, tube at 0 mm, wall: 0.5 mm → 0.6 mm"},
		{"a joint", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "joints", Entry: "butt+tip"}, {Key: "length"}}, Old: said("82 mm"), New: said("74 mm")}, "length: 82 mm → 74 mm"},
		{"a fit to a rod", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "fitted"}, {Key: "modulus"}, {Key: "butt"}}, Old: said("2 %"), New: said("3 %"), Group: diffing.Fitted}, "modulus, butt: 2 % → 3 %"},
		{"a shared part", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "parts", Entry: "SL-8"}, {Key: "foot"}, {Key: "length"}}, Old: said("10 mm"), New: said("12 mm")}, "foot, length: 10 mm → 12 mm"},
		{"a limit", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "wants"}, {Key: "weight"}, {Key: "most"}}, Old: said("at most 200 g"), New: said("at most 180 g")}, "wants, weight: at most 200 g → at most 180 g"},
		{"the name", diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "name"}}, Old: said("Wrack"), New: said("Gull")}, "name: Wrack → Gull"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := (Teller{Words: English()}).Difference(test.change); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
		})
	}
}

// A place is told in the range's units, whatever it was written in.
func TestPlaceInUnits(t *testing.T) {
	ring := models.RingPath(models.Ring{At: models.Given[units.Length]{Value: 1.1049, Text: "43.5 in"}})
	c := diffing.Change{Kind: diffing.Altered, Path: ring.To("part"), Old: said("SL-8"), New: said("SL-6")}
	moved := diffing.Change{Kind: diffing.Moved, Path: ring, Old: standing("SL-8", "1257.3 mm"), New: standing("SL-8", "43.5 in")}
	if got, want := (Teller{Words: English(), Display: figures.Display{Units: "imperial"}}).Difference(moved), "SL-8: 49 1/2 in → 43 1/2 in"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	for system, want := range map[string]string{
		"metric": "ring at 1104.9 mm: SL-8 → SL-6", "both": "ring at 1104.9 mm: SL-8 → SL-6", "imperial": "ring at 43 1/2 in: SL-8 → SL-6",
	} {
		if got := (Teller{Words: English(), Display: figures.Display{Units: system}}).Difference(c); got != want {
			t.Errorf("%s: got %q, want %q", system, got, want)
		}
	}
}

func TestSummary(t *testing.T) {
	move := diffing.Change{Kind: diffing.Moved, Path: models.Path{{Key: "rings", Entry: "at 160 mm"}}, Old: standing("SL-6", "135 mm"), New: standing("SL-6", "160 mm")}
	gone := diffing.Change{Kind: diffing.Removed, Path: models.Path{{Key: "rings", Entry: "at 310 mm"}}, Old: standing("SL-6", "310 mm")}
	least := diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "wants"}, {Key: "rings"}, {Key: "least"}}, Old: said("5 to 7"), New: said("4 to 6")}
	most := diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "wants"}, {Key: "rings"}, {Key: "most"}}, Old: said("5 to 7"), New: said("4 to 6")}
	tests := []struct {
		name    string
		changes []diffing.Change
		most    int
		want    string
	}{
		{"few", []diffing.Change{gone, move}, 4, "− SL-6 at 310 mm; SL-6: 135 mm → 160 mm"},
		{"many moves are counted", []diffing.Change{move, gone, move, move}, 4, "− SL-6 at 310 mm; 3 moved"},
		{"the rest is counted", []diffing.Change{gone, least, gone}, 2, "− SL-6 at 310 mm; wants, rings: 5 to 7 → 4 to 6; and 1 more"},
		{"a limit of two sides is told once", []diffing.Change{least, most}, 4, "wants, rings: 5 to 7 → 4 to 6"},
		{"in full", []diffing.Change{gone, least, gone}, 0, "− SL-6 at 310 mm; wants, rings: 5 to 7 → 4 to 6; − SL-6 at 310 mm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := (Teller{Words: English()}).Summary(test.changes, test.most); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
		})
	}
}
