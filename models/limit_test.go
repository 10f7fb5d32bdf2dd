package models_test

import (
	"bytes"
	"strings"
	"testing"
)

// What is just allowed must pass, and a little more must not.
func TestLimits(t *testing.T) {
	for _, tt := range []struct {
		name, old          string
		allowed, forbidden string
	}{
		{"sections against length", "length: 10 ft", "length: 3052.9 mm", "length: 3053.1 mm"},
		{"sections against length, short", "length: 10 ft", "length: 3043.1 mm", "length: 3042.9 mm"},
		{"wall of the radius", "wall: 1.05 mm", "wall: 4.45 mm", "wall: 4.46 mm"},
		{"first station", "{at: 0 mm,    outside: 8.9 mm", "{at: 0.4 mm,    outside: 8.9 mm", "{at: 0.6 mm,    outside: 8.9 mm"},
		{"last station", "{at: 1565 mm, outside: 14.2 mm", "{at: 1564.6 mm, outside: 14.2 mm", "{at: 1564.4 mm, outside: 14.2 mm"},
		{"ring before the seat", "at: 1480 mm", "at: 2440.4 mm", "at: 2440.6 mm"},
		{"grip before a ring", "to: 120 mm", "to: 1567.9 mm", "to: 1568.1 mm"},
		{"seat before a ring", "at: 560 mm from butt", "at: 1520.4 mm from butt", "at: 1520.6 mm from butt"},
		{"seat at the butt", "at: 560 mm from butt", "at: 47.5 mm from butt", "at: 47.4 mm from butt"},
		{"held to the tip", "finish:", "held: {to: 3047 mm}\nfinish:", "held: {to: 3048 mm}\nfinish:"},
		{"casts of one lead", "casts: 10 g to 40 g", "casts: 40 g to 40 g", "casts: 40.1 g to 40 g"},
		{"size of the file", "finish:", "#" + strings.Repeat("x", 1<<20-2000) + "\nfinish:", "#" + strings.Repeat("x", 1<<20) + "\nfinish:"},
		{"letters of a word", "name: Skerry 10", "name: " + strings.Repeat("x", 300), "name: " + strings.Repeat("x", 301)},
		{"taper the other way", "outside: 14.2 mm", "outside: 8 mm", "outside: 0 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if err := parseAndResolve(t, "skerry-10.yaml", edited(t, "skerry-10.yaml", tt.old, tt.allowed)); err != nil {
				t.Errorf("refused: %v", err)
			}
			if err := parseAndResolve(t, "skerry-10.yaml", edited(t, "skerry-10.yaml", tt.old, tt.forbidden)); err == nil {
				t.Error("passed beyond the limit")
			}
		})
	}
}

// TestAtTheFrontOfTheHandle puts a ring just where it may stand, in binary
// fractions that do not add up.
func TestAtTheFrontOfTheHandle(t *testing.T) {
	for _, tt := range []struct{ name, length, ring, old, edited string }{
		{"ring against the grip", "3045 mm", "1421 mm", "to: 120 mm", "to: 1624 mm"},
		{"ring against the seat", "10 ft", "1439 mm", "at: 560 mm from butt", "at: 1561.5 mm from butt"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			src := edited(t, "skerry-10.yaml", tt.old, tt.edited)
			src = bytes.Replace(src, []byte("length: 10 ft"), []byte("length: "+tt.length), 1)
			src = bytes.Replace(src, []byte("at: 1480 mm"), []byte("at: "+tt.ring), 1)
			if err := parseAndResolve(t, "skerry-10.yaml", src); err != nil {
				t.Error(err)
			}
		})
	}
}
