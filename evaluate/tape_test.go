package evaluate

import "testing"

// An inch is 25.4 mm (ISO 80000-3:2019 refers to it; the agreement of 1959).
func TestSixteenths(t *testing.T) {
	tests := []struct {
		mm   float64
		want string
	}{
		{0, "0"}, {25.4, "1"}, {12.7, "1/2"}, {6.35, "1/4"}, {1.5875, "1/16"}, {0.79, "0"}, {0.8, "1/16"},
		{23.8125, "15/16"}, {24.7, "1"}, {304.8, "12"}, {311.15, "12 1/4"}, {1790, "70 1/2"}, {2743.2, "108"},
	}
	for _, test := range tests {
		if got := Sixteenths(test.mm / 1e3); got != test.want {
			t.Errorf("%g mm is %s in, want %s", test.mm, got, test.want)
		}
	}
}

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
