package diffing

import (
	"testing"

	"rodlore/evaluate"
	"rodlore/models/units"
)

// The answer of two actions is that of the whole interval of pairs of rods.
func TestAnswerActions(t *testing.T) {
	degree := units.Size("deg")
	for _, c := range []struct {
		low, high float64
		want      Answer
	}{{0, 0, Same}, {1, 4.9, Same}, {1, 5.1, Open}, {4.9, 8, Open}, {5.1, 8, Changed}} {
		if got := AnswerActions(evaluate.Actions{Low: c.low * degree, High: c.high * degree}); got != c.want {
			t.Errorf("%g° to %g°: %s, want %s", c.low, c.high, got, c.want)
		}
	}
}
