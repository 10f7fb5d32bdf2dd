package units

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
