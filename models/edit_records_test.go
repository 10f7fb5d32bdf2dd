package models_test

import (
	"bytes"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"rodlore/models"
)

// rodEntry is an entry as a program gives it, and rodLine as it is written.
var rodEntry = []models.Pair{{Key: "serial", Value: "0148"}, {Key: "model", Value: "skerry-10"}, {Key: "test curve", Value: "1.4 lb"}}

const rodLine = "{serial: 0148, model: skerry-10, test curve: 1.4 lb}"

func TestAppend(t *testing.T) {
	for _, tt := range []struct{ name, src, want string }{
		{"no file", "", "built:\n  - " + rodLine + "\n"},
		{"comments alone", "# rods\n", "# rods\nbuilt:\n  - " + rodLine + "\n"},
		{"comments without a line end", "# rods", "# rods\nbuilt:\n  - " + rodLine},
		{"mark of the encoding alone", "\ufeff", "\ufeffbuilt:\n  - " + rodLine + "\n"},
		{"a document's beginning", "---\n", "---\nbuilt:\n  - " + rodLine + "\n"},
		{"no list yet", "repairs:\n  - {serial: 0101}\n", "repairs:\n  - {serial: 0101}\nbuilt:\n  - " + rodLine + "\n"},
		{"an empty list", "built: # none yet\n# the end\n", "built: # none yet\n  - " + rodLine + "\n# the end\n"},
		{"an empty list in brackets", "built: [] # none yet\n", "built: [" + rodLine + "] # none yet\n"},
		{"behind the last", "built:\n  - {serial: 0147} # light\n\n# the end\n", "built:\n  - {serial: 0147} # light\n  - " + rodLine + "\n\n# the end\n"},
		{"no final line end", "built:\n  - {serial: 0147}", "built:\n  - {serial: 0147}\n  - " + rodLine},
		{"a list that stands out", "built:\n- {serial: 0147}\n", "built:\n- {serial: 0147}\n- " + rodLine + "\n"},
		{"a list that stands far in", "built:\n      - {serial: 0147}\n", "built:\n      - {serial: 0147}\n      - " + rodLine + "\n"},
		{"keys that stand in", "  built:\n    - {serial: 0147}\n", "  built:\n    - {serial: 0147}\n    - " + rodLine + "\n"},
		{"keys that stand in, no list yet", "  repairs:\n    - {serial: 0147}\n", "  repairs:\n    - {serial: 0147}\n  built:\n    - " + rodLine + "\n"},
		{"entries over several lines", "built:\n  - serial: 0147\n    model: rill-7 # soft\n\nrepairs:\n  - {serial: 0147}\n", "built:\n  - serial: 0147\n    model: rill-7 # soft\n  - " + rodLine + "\n\nrepairs:\n  - {serial: 0147}\n"},
		{"braces over several lines", "built:\n  - {serial: 0147, # here\n     model: rill-7\n    }\n  # next\n", "built:\n  - {serial: 0147, # here\n     model: rill-7\n    }\n  - " + rodLine + "\n  # next\n"},
		{"line ends of a PC", "built:\r\n  - {serial: 0147}\r\n", "built:\r\n  - {serial: 0147}\r\n  - " + rodLine + "\r\n"},
		{"in brackets", "built: [{serial: 0147}] # one\n", "built: [{serial: 0147}, " + rodLine + "] # one\n"},
		{"in brackets with a last comma", "built: [{serial: 0147},]\n", "built: [{serial: 0147}, " + rodLine + ",]\n"},
		{"brackets over several lines", "built: [\n  {serial: 0147, note: 'it''s] #'} # light\n]\n", "built: [\n  {serial: 0147, note: 'it''s] #'}, # light\n  " + rodLine + "\n]\n"},
		{"brackets over several lines with a last comma", "built: [\n  {serial: 0147, parts: []}, # light\n]\n", "built: [\n  {serial: 0147, parts: []}, # light\n  " + rodLine + ",\n]\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := models.Append("2026.yaml", []byte(tt.src), "built", rodEntry)
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != tt.want {
				t.Errorf("got\n%q\nwant\n%q", got, tt.want)
			}
		})
	}
}

// TestAppendWithin holds that an entry goes into a list within a map.
func TestAppendWithin(t *testing.T) {
	entry := []models.Pair{
		{Key: "trace", Maps: [][]models.Pair{{{Key: "x", Value: "1200 mm"}, {Key: "y", Value: "160 mm"}}}},
		{Key: "load", Value: "200 g"},
	}
	const line = "{trace: [{x: 1200 mm, y: 160 mm}], load: 200 g}"
	for _, tt := range []struct{ name, src, want string }{
		{"between others", "blank:\n  measured:\n    - {drop: 1 mm} # one\n  mass: 9 g\n\nrings: []\n", "blank:\n  measured:\n    - {drop: 1 mm} # one\n    - " + line + "\n  mass: 9 g\n\nrings: []\n"},
		{"before others", "blank:\n  measured:\n    - {drop: 1 mm}\n# two\nrings: []\n", "blank:\n  measured:\n    - {drop: 1 mm}\n    - " + line + "\n# two\nrings: []\n"},
		{"begun", "blank:\n  mass: 9 g\nrings: []\n", "blank:\n  mass: 9 g\n  measured:\n    - " + line + "\nrings: []\n"},
		{"begun at the end", "blank:\n  mass: 9 g\n", "blank:\n  mass: 9 g\n  measured:\n    - " + line + "\n"},
	} {
		got, err := models.Append("gull-9.yaml", []byte(tt.src), "blank.measured", entry)
		if err != nil || string(got) != tt.want {
			t.Errorf("%s: got\n%q, %v\nwant\n%q", tt.name, got, err, tt.want)
		}
	}
	for _, src := range []string{"rings: []\n", "blank: {mass: 9 g}\n", "blank: heavy\n"} {
		if got, err := models.Append("gull-9.yaml", []byte(src), "blank.measured", entry); err == nil {
			t.Errorf("%q gives %q", src, got)
		}
	}
}

func TestAppendQuotes(t *testing.T) {
	for _, tt := range []struct{ value, want string }{
		{"new tip ring", "{said: new tip ring}"},
		{"soft: but quick", `{said: "soft: but quick"}`},
		{"a, b", `{said: "a, b"}`},
		{"null", `{said: "null"}`},
		{"he said \"light\"\nand left", `{said: "he said \"light\"\nand left"}`},
		{"# no comment", `{said: "# no comment"}`},
		{"½ oz lighter – fine", `{said: "½ oz lighter – fine"}`},
		{"", `{said: ""}`},
	} {
		t.Run(tt.want, func(t *testing.T) {
			got, err := models.Append("rill-7.yaml", nil, "heard", []models.Pair{{Key: "said", Value: tt.value}})
			if want := "heard:\n  - " + tt.want + "\n"; err != nil || string(got) != want {
				t.Errorf("got %q, %v, want %q", got, err, want)
			}
		})
	}
}

func TestAppendRefuses(t *testing.T) {
	for _, tt := range []struct{ name, src, want string }{
		{"faults", "built: [\n", "2026.yaml: it has faults; put them right first"},
		{"a file in braces", "{built: []}\n", "2026.yaml:1:1: the whole file is no list of keys, each on a line of its own; write it so"},
		{"a file of another kind", "- {serial: 0147}\n", "2026.yaml:1:1: the whole file is no list of keys"},
		{"no list", "built: none\n", "2026.yaml:1:8: expected a list, each entry behind a dash on a line of its own"},
		{"the end of a document", "built:\n  - {serial: 0147}\n...\n", "2026.yaml: the entry cannot be written into it"},
		{"a text whose last lines look like comments", "built:\n  - notes: |\n      one\n      # two\n", "2026.yaml: the entry cannot be written into it"},
		{"a value over several lines in brackets", "built: [{serial: 0147, notes: 'a\n  b'}]\n", "2026.yaml:1:9: the last entry ends in a text over several lines"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := models.Append("2026.yaml", []byte(tt.src), "built", rodEntry)
			if err == nil || !strings.HasPrefix(err.Error(), tt.want) || got != nil {
				t.Errorf("got %q, %v, want %s", got, err, tt.want)
			}
		})
	}
}

// FuzzAppend appends to any text: the result is that text with something put in,
// and holds what it held and the entry, as the YAML library reads it; or nothing
// comes of it.
func FuzzAppend(f *testing.F) {
	for _, src := range []string{
		"", "# a\n", "built:\n- {serial: 1}\n", "built: []\n", "built:\n", "built: [{a: 1}, # b\n {c: [d]},\n]", "built:\n  - a: |\n      b\n    c: >-\n      d\n",
		"a: 1\r\nbuilt:\r\n  - 'x'\r\nb: {c: }", "\ufeffbuilt:\u2028  - {}", "? built\n: - 1\n", "built:\n  -\n    - 1\n", "\"built\": [ ]", "a: &b c\n",
	} {
		f.Add([]byte(src), "said", "new: tip\nring")
	}
	f.Fuzz(func(t *testing.T, src []byte, key, value string) {
		out, err := models.Append("f.yaml", src, "built", []models.Pair{{Key: key, Value: value}})
		if err != nil {
			return
		}
		if !contained(src, out) {
			t.Errorf("%q is not in %q", src, out)
		}
		if pc := []byte("\r\n"); bytes.Contains(src, pc) && bytes.Count(src, pc) == bytes.Count(src, pc[1:]) &&
			bytes.Count(out, pc) != bytes.Count(out, pc[1:]) {
			t.Errorf("line ends of %q are mixed in %q", src, out)
		}
		var before, after struct {
			Built []any          `yaml:"built"`
			Rest  map[string]any `yaml:",inline"`
		}
		if yaml.Unmarshal(bytes.TrimPrefix(src, []byte("\ufeff")), &before) != nil {
			return // held to be text by us, and something else by the library's types
		}
		if bytes.Contains(src, []byte("<<")) {
			return // which takes keys over from another map for the library, and is a key for us
		}
		if err := yaml.Unmarshal(bytes.TrimPrefix(out, []byte("\ufeff")), &after); err != nil {
			t.Fatalf("%q: %v", out, err)
		}
		if len(after.Built) != len(before.Built)+1 || len(after.Rest) != len(before.Rest) {
			t.Errorf("%q holds %v and %v, from %v and %v", out, after.Built, after.Rest, before.Built, before.Rest)
		}
	})
}

// contained reports whether all bytes of a text stand in another in their order.
func contained(src, out []byte) bool {
	for _, b := range out {
		if len(src) > 0 && src[0] == b {
			src = src[1:]
		}
	}
	return len(src) == 0
}
