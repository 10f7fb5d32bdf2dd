package diffing

import "testing"

func TestTell(t *testing.T) {
	tests := []struct {
		name   string
		change Change
		want   string
	}{
		{"a ring's part", Change{Kind: Altered, Path: "rings[at 135 mm].part", Old: "SL-8", New: "SL-6"}, "ring at 135 mm: SL-8 → SL-6"},
		{"a whipping", Change{Kind: Altered, Path: "rings[at 135 mm].whipping", Old: "16 mm", New: "15 mm"}, "ring at 135 mm, whipping: 16 mm → 15 mm"},
		{"a ring that came", Change{Kind: Added, Path: "rings[at 310 mm]", New: "SL-6 at 310 mm"}, "+ SL-6 at 310 mm"},
		{"a ring that went", Change{Kind: Removed, Path: "rings[at 310 mm]", Old: "SL-6 at 310 mm"}, "− SL-6 at 310 mm"},
		{"a ring that moved", Change{Kind: Moved, Path: "rings[at 160 mm]", Old: "SL-6 at 135 mm", New: "SL-6 at 160 mm"}, "SL-6: 135 mm → 160 mm"},
		{"a ring that became another and moved", Change{Kind: Moved, Path: "rings[at 160 mm]", Old: "SL-8 at 135 mm", New: "SL-6 at 160 mm"}, "SL-8 at 135 mm → SL-6 at 160 mm"},
		{"a station that moved", Change{Kind: Moved, Path: "sections[tip].tube[at 1487 mm]", Old: "at 1483 mm", New: "at 1487 mm"}, "tube at 1487 mm: 1483 mm → 1487 mm"},
		{"a wall", Change{Kind: Altered, Path: "sections[tip].tube[at 0 mm].wall", Old: "0.5 mm", New: "0.6 mm"}, "tube at 0 mm, wall: 0.5 mm → 0.6 mm"},
		{"a section that came", Change{Kind: Added, Path: "sections[middle]", New: "800 mm, carbon"}, "+ section middle: 800 mm, carbon"},
		{"a section of another division", Change{Kind: Altered, Path: "sections[tip].tube[at 0 mm].wall", Old: "0.5 mm", New: "0.6 mm", Group: Sections}, "section tip, tube at 0 mm, wall: 0.5 mm → 0.6 mm"},
		{"a joint", Change{Kind: Altered, Path: "joints[butt+tip].length", Old: "82 mm", New: "74 mm"}, "length: 82 mm → 74 mm"},
		{"a fit to a rod", Change{Kind: Altered, Path: "fitted.modulus.butt", Old: "2 %", New: "3 %", Group: Fitted}, "modulus, butt: 2 % → 3 %"},
		{"a shared part", Change{Kind: Altered, Path: "parts[SL-8].foot.length", Old: "10 mm", New: "12 mm"}, "foot, length: 10 mm → 12 mm"},
		{"a limit", Change{Kind: Altered, Path: "wants.weight.most", Old: "at most 200 g", New: "at most 180 g"}, "wants, weight: at most 200 g → at most 180 g"},
		{"the name", Change{Kind: Altered, Path: "name", Old: "Wrack", New: "Gull"}, "name: Wrack → Gull"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := test.change.Tell(); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
		})
	}
}

func TestSummary(t *testing.T) {
	move := Change{Kind: Moved, Path: "rings[at 160 mm]", Old: "SL-6 at 135 mm", New: "SL-6 at 160 mm"}
	gone := Change{Kind: Removed, Path: "rings[at 310 mm]", Old: "SL-6 at 310 mm"}
	least := Change{Kind: Altered, Path: "wants.rings.least", Old: "5 to 7", New: "4 to 6"}
	most := Change{Kind: Altered, Path: "wants.rings.most", Old: "5 to 7", New: "4 to 6"}
	tests := []struct {
		name    string
		changes []Change
		most    int
		want    string
	}{
		{"few", []Change{gone, move}, 4, "− SL-6 at 310 mm; SL-6: 135 mm → 160 mm"},
		{"many moves are counted", []Change{move, gone, move, move}, 4, "− SL-6 at 310 mm; 3 moved"},
		{"the rest is counted", []Change{gone, least, gone}, 2, "− SL-6 at 310 mm; wants, rings: 5 to 7 → 4 to 6; and 1 more"},
		{"a limit of two sides is told once", []Change{least, most}, 4, "wants, rings: 5 to 7 → 4 to 6"},
		{"in full", []Change{gone, least, gone}, 0, "− SL-6 at 310 mm; wants, rings: 5 to 7 → 4 to 6; − SL-6 at 310 mm"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := Summary(test.changes, test.most); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
		})
	}
}
