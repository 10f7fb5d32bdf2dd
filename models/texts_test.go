package models

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestParseTexts(t *testing.T) {
	const src = `
title: The rod
figures:
  weight: {up: heavier, down: "lighter: by {change}"}
long: >
  over two
  lines
`
	got, err := ParseTexts("words.yaml", []byte(src))
	if err != nil {
		t.Fatal(err)
	}
	want := []Text{
		{"title", Word{"The rod", Pos{"words.yaml", 2, 8}}},
		{"figures.weight.up", Word{"heavier", Pos{"words.yaml", 4, 16}}},
		{"figures.weight.down", Word{"lighter: by {change}", Pos{"words.yaml", 4, 31}}},
		{"long", Word{"over two lines", Pos{"words.yaml", 5, 7}}},
	}
	if diff := cmp.Diff(want, got.All); diff != "" {
		t.Error(diff)
	}
}

func TestParseTextsFaults(t *testing.T) {
	tests := []struct{ name, src, want string }{
		{"a list", "- a\n", "words.yaml:1:1: is a list; expected names, each with a text or further names in it"},
		{"a list below", "a: [b]\n", "words.yaml:1:4: a: is a list; expected a text"},
		{"empty", "a:\n", "words.yaml:1:3: a: is empty; expected a text"},
		{"doubled", "a: b\na: c\n", "words.yaml:2:1: a: given twice; the first is in line 1"},
		{"an alias", "a: &x b\nb: *x\n", "words.yaml:1:4: &x is an anchor; write the value out where it is needed\n" +
			"words.yaml:2:4: *x is an alias; write the value out"},
		{"too long", "a: " + strings.Repeat("word ", 401) + "\n",
			"words.yaml:1:4: a: \"word word word word word word word word…\" is too long; the most is 2000 letters"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := ParseTexts("words.yaml", []byte(test.src))
			if err == nil {
				t.Fatal("no fault")
			}
			if diff := cmp.Diff(test.want, err.Error()); diff != "" {
				t.Error(diff)
			}
		})
	}
}
