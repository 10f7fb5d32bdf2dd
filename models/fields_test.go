package models_test

import (
	"fmt"
	"strings"
	"testing"
)

func TestFields(t *testing.T) {
	for _, name := range []string{"skerry-10", "long-drift"} {
		t.Run(name, func(t *testing.T) {
			var got strings.Builder
			seen := make(map[string]bool)
			for f := range good(t, name).Fields() {
				if seen[f.Path] {
					t.Errorf("two fields have the path %s", f.Path)
				}
				seen[f.Path] = true
				fmt.Fprintf(&got, "%s: %s = %v %s (%s)\n", f.Pos, f.Path, f.Value, f.Unit, f.Text)
			}
			golden(t, "good/"+name+".fields", got.String())
		})
	}
}

func TestFieldsStopsWhenTold(t *testing.T) {
	n := 0
	for range good(t, "skerry-10").Fields() {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("went on to %d fields after a break at 3", n)
	}
}
