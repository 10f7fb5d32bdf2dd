package models_test

import (
	"math"
	"testing"

	"rodlore/models"
)

// All lengths below are sums of the ones in the files, so only rounding counts.
const rounding = 1e-12 // m

func near(a, b float64) bool { return math.Abs(a-b) <= rounding }

func TestSpans(t *testing.T) {
	for _, tt := range []struct {
		model            string
		total            float64
		sections, joints []models.Span
	}{
		{"skerry-10", 3.048, // overlap 82 mm
			[]models.Span{{1.483, 3.048}, {0, 1.565}},
			[]models.Span{{1.483, 1.565}}},
		{"long-drift", 3.006, // spigot 120 mm with a gap of 6 mm, ferrule 60 mm
			[]models.Span{{2.006, 3.006}, {1, 2}, {0, 1}},
			[]models.Span{{1.943, 2.063}, {0.97, 1.03}}},
	} {
		t.Run(tt.model, func(t *testing.T) {
			spec := good(t, tt.model)
			if got := spec.TotalLength(); !near(got, tt.total) {
				t.Errorf("total length %v, want %v", got, tt.total)
			}
			checkSpans(t, "sections", spec.SectionSpans(), tt.sections)
			checkSpans(t, "joints", spec.JointSpans(), tt.joints)
		})
	}
}

func checkSpans(t *testing.T, what string, got, want []models.Span) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d %s, want %d", len(got), what, len(want))
	}
	for i := range got {
		if !near(got[i].From, want[i].From) || !near(got[i].To, want[i].To) {
			t.Errorf("%s %d: %v, want %v", what, i, got[i], want[i])
		}
	}
}

func TestSectionAt(t *testing.T) {
	for _, tt := range []struct {
		model   string
		s       float64
		section string
	}{
		{"skerry-10", 0, "tip"},
		{"skerry-10", 1.5, "tip"},   // in the overlap the upper section shows
		{"skerry-10", 1.565, "tip"}, // and to its very end
		{"skerry-10", 1.6, "butt"},
		{"long-drift", 0.5, "tip"},
		{"long-drift", 1.5, "middle"},
		{"long-drift", 2.003, "butt"}, // in the gap
		{"long-drift", 3.1, "butt"},   // beyond the butt
	} {
		spec := good(t, tt.model)
		if got := spec.Sections[spec.SectionAt(tt.s)].Name.Text; got != tt.section {
			t.Errorf("%s at %v m: %s, want %s", tt.model, tt.s, got, tt.section)
		}
	}
}

func TestHold(t *testing.T) {
	for _, tt := range []struct {
		model               string
		front, held, reelAt float64
	}{
		{"skerry-10", 0.6075, 0.6075, 0.56}, // the seat, 95 mm long, is in front
		{"long-drift", 0.44, 0.4, 0.3},      // held and reel say otherwise
	} {
		spec := good(t, tt.model)
		if got := spec.HandleFront(); !near(got, tt.front) {
			t.Errorf("%s: front of the handle %v, want %v", tt.model, got, tt.front)
		}
		if got := spec.HeldTo(); !near(got, tt.held) {
			t.Errorf("%s: held to %v, want %v", tt.model, got, tt.held)
		}
		if got := spec.ReelAt(); !near(got, tt.reelAt) {
			t.Errorf("%s: reel at %v, want %v", tt.model, got, tt.reelAt)
		}
	}
}
