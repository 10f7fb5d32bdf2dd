package figures

import "testing"

func TestPlace(t *testing.T) {
	for _, tt := range []struct {
		units string
		mm    float64
		want  string
	}{
		{"metric", 135.4, "135 mm"},
		{"both", 135.4, "135 mm"},
		{"imperial", 0, "0 in"},
		{"imperial", 135, "5 5/16 in"},   // 5.315 in
		{"imperial", 1250, "49 3/16 in"}, // 49.213 in
	} {
		t.Run(tt.units+" "+tt.want, func(t *testing.T) {
			if got := (Display{Units: tt.units}).Place(tt.mm / 1e3); got != tt.want {
				t.Errorf("%q", got)
			}
		})
	}
}
