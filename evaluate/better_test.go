package evaluate

import "testing"

func TestBetterIsOfFigures(t *testing.T) {
	for key := range better {
		if _, ok := nameOf(key); !ok {
			t.Errorf("%s is no figure", key)
		}
	}
}
