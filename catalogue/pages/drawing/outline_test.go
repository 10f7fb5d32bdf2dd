package drawing

import "testing"

func TestOutline(t *testing.T) {
	tests := []struct {
		name   string
		points []Point
		closed bool
		want   string
	}{
		{"none", nil, false, ""},
		{"a point", []Point{{1, 2}}, false, "M1 2"},
		{"level, then upright", []Point{{0, 0}, {3, 0}, {3, -0.5}}, false, "M0 0h3v-.5"},
		{"aslant", []Point{{0.5, 10}, {1, 10.25}, {2, 9}}, true, "M.5 10l.5 .25 1-1.25z"},
		{"tens", []Point{{30.5, 20}, {0.25, 20}, {20, 0}}, false, "M30.5 20h-30.25l19.75-20"},
		{"on the same spot", []Point{{1, 1}, {1, 1}}, false, "M1 1h0"},
		{"rounding does not add up", []Point{{0, 0}, {0.004, 1}, {0.008, 2}, {0.012, 3}}, false, "M0 0v1l.01 1v1"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := outline(test.points, test.closed); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
}

// Paths are written as one only where nobody sees or misses it.
func TestWrittenTogether(t *testing.T) {
	thin, filled := Style{Stroke: Hair, Width: 0.2}, Style{Stroke: Hair, Width: 0.2, Fill: Band}
	box := func(x float64, s Style) *Path { return Rectangle(Box{Point{x, 0}, Point{x + 2, 2}}, s) }
	named := box(20, thin)
	named.ID = "moves"
	faded := thin
	faded.Opacity = 0.5
	tests := []struct {
		name  string
		marks []Mark
		want  int
	}{
		{"lines alike, one over the other", []Mark{box(0, thin), box(1, thin)}, 1},
		{"areas beside each other", []Mark{box(0, filled), box(3, filled)}, 1},
		{"areas over each other", []Mark{box(0, filled), box(1, filled)}, 2},
		{"painted otherwise", []Mark{box(0, thin), box(3, filled)}, 2},
		{"dashed otherwise", []Mark{box(0, thin), box(3, Style{Stroke: Hair, Width: 0.2, Dash: Dash(1)})}, 2},
		{"one that a script moves", []Mark{box(0, thin), named, box(3, thin)}, 3},
		{"one that shows what lies under it", []Mark{box(0, faded), box(3, faded)}, 2},
		{"a label between", []Mark{box(0, thin), &Label{}, box(3, thin)}, 3},
	}
	for _, test := range tests {
		if got := len(written(test.marks)); got != test.want {
			t.Errorf("%s: %d elements, want %d", test.name, got, test.want)
		}
	}
}
