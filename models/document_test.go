package models_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"rodlore/models"
)

// The maker's editor decides on byte-order mark and line ends; neither may
// change what is read or where it is said to stand.
func TestEditorsHabits(t *testing.T) {
	plain := read(t, "good/long-drift.yaml")
	want := fieldPlaces(t, plain)
	for _, tt := range []struct {
		name string
		src  []byte
	}{
		{"byte-order mark", append([]byte("\ufeff"), plain...)},
		{"CRLF", bytes.ReplaceAll(plain, []byte("\n"), []byte("\r\n"))},
		{"both", append([]byte("\ufeff"), bytes.ReplaceAll(plain, []byte("\n"), []byte("\r\n"))...)},
		{"no line end at the end", bytes.TrimRight(plain, "\n")},
		{"spaces at line ends", bytes.ReplaceAll(plain, []byte("\n"), []byte("  \n"))},
		{"tab before a comment", bytes.Replace(plain, []byte("length: 3006 mm\n"), []byte("length: 3006 mm\t# as built\n"), 1)},
		{"explicit document", append(bytes.Clone(plain), "...\n"...)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := fieldPlaces(t, tt.src); got != want {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

func fieldPlaces(t *testing.T, src []byte) string {
	t.Helper()
	var b strings.Builder
	for f := range resolved(t, src).Fields() {
		b.WriteString(f.Pos.String() + " " + f.Path.String() + " " + f.Text + "\n")
	}
	return b.String()
}

// wholeEntry matches the fields whose position is that of the entry they are
// part of.
var wholeEntry = regexp.MustCompile(`\.kind$|\.wraps\.|casts\.`)

// Editing commands put new text where the old one stands, so every position
// must be that of the first character of the text.
func TestPositionsPointAtTheText(t *testing.T) {
	src := bytes.Replace(read(t, "good/long-drift.yaml"), []byte("handle:"),
		[]byte("finish: {colour: grün, trim: \"été µ½\", varnish: two coats, thread: 'A'}\nhandle:"), 1)
	lines := strings.Split(string(src), "\n")
	checked := 0
	for f := range resolved(t, src).Fields() {
		if f.Pos.File != "model.yaml" || wholeEntry.MatchString(f.Path.String()) {
			continue
		}
		line := lines[f.Pos.Line-1]
		runes := []rune(line)
		rest := strings.TrimLeft(string(runes[f.Pos.Col-1:]), `"'`)
		if !strings.HasPrefix(rest, f.Text) {
			t.Errorf("%s: %s points at %q; the text is %q", f.Pos, f.Path, rest, f.Text)
		}
		checked++
	}
	if checked < 75 {
		t.Errorf("only %d positions checked", checked)
	}
}

func TestSyntaxFaults(t *testing.T) {
	for _, tt := range []struct{ name, src, want string }{
		{"two merges", "name: x\n<<<<<<< HEAD\njob: a\n=======\njob: b\n>>>>>>> other\n<<<<<<< HEAD\r\n=======\r\n>>>>>>> other\r\n",
			"m.yaml:2:1: a mark of a merge: the lines from here to ======= are one side's, from there to >>>>>>> the other's; keep those that hold and take the three marks out\n" +
				"m.yaml:7:1: a mark of a merge: the lines from here to ======= are one side's, from there to >>>>>>> the other's; keep those that hold and take the three marks out"},
		{"the end of a merge", "name: x\njob: b\n>>>>>>> other\n", "m.yaml:3:1: a mark that a merge left behind, with \"other\"; take it out"},
		{"colon in a text", "name: x\njob: bass: big ones\n",
			"m.yaml:2:10: not readable as YAML: a second colon in one line, or a line indented too far; put text that has a colon in quotes"},
		{"indented too far", "name: x\n  length: 3 m\n",
			"m.yaml:2:3: not readable as YAML: a second colon in one line, or a line indented too far; put text that has a colon in quotes"},
		{"brace not closed", "name: x\nreel: {kind: fly\nlength: 3 m\n",
			"m.yaml:2:7: not readable as YAML: a { is not closed, or a comma is missing between its entries"},
		{"comma missing", "name: x\nline: {diameter: 1 mm breaks: 2 kg}\n",
			"m.yaml:2:7: not readable as YAML: a { is not closed, or a comma is missing between its entries"},
		{"bracket not closed", "name: x\nrings: [a, b\nlength: 3\n",
			"m.yaml:2:8: not readable as YAML: a [ is not closed, or a comma is missing between its entries"},
		{"list entry indented otherwise", "sections:\n  - name: a\n   length: 3\n",
			"m.yaml:2:3: not readable as YAML: a line of this list is not indented like the others"},
		{"key indented otherwise", "name: x\nsections:\n  - name: a\n length: 3\n",
			"m.yaml:4:2: not readable as YAML: a line that does not fit in here: indented other than those beside it, or more text after a closing quote or bracket"},
		{"quote not closed", "name: x\njob: \"abc\nlength: 3\n",
			"m.yaml:2:6: not readable as YAML: a quote is not closed"},
		{"quote not closed in the first line", "name: 'abc\nlength: 3\n",
			"m.yaml:1:7: not readable as YAML: a quote is not closed"},
		{"inch mark after a quote", "name: x\nlength: \"9' 6\"\"\n",
			"m.yaml:2:9: not readable as YAML: a quote is not closed"},
		{"at sign", "name: x\njob: @home\n",
			"m.yaml:2:6: not readable as YAML: a character that may not begin a value, such as a tab, @ or `; indent with spaces and put such text in quotes"},
		{"key without colon", "name: x\nlength\nreel: fly\n",
			"m.yaml:2:1: not readable as YAML: a key without its colon"},
		{"backslash", "name: x\njob: \"a\\qb\"\n",
			"m.yaml:2:8: not readable as YAML: an unknown character after a backslash; put the text in single quotes"},
		{"value missing", "name: x\njob: }\n",
			"m.yaml:2:1: not readable as YAML: a value is missing, or begins with a character that may not begin one"},
		{"alias to nothing", "name: x\njob: *a\n",
			"m.yaml:2:6: *a is an alias; write the value out"},
		{"not a map", "hello\n",
			`m.yaml:1:1: is "hello"; expected keys such as name, reel, length, sections, rings and handle`},
		{"empty", "", "m.yaml:1:1: the file is empty; expected keys such as name, reel, length, sections, rings and handle"},
		{"only a comment", "# to do\n", "m.yaml:1:1: the file is empty; expected keys such as name, reel, length, sections, rings and handle"},
		{"UTF-16", "\xff\xfen\x00a\x00", "m.yaml:1:1: the file is not UTF-8 text; save it as UTF-8"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := models.ParseModel("m.yaml", []byte(tt.src))
			if err == nil {
				t.Fatal("no fault found")
			}
			if err.Error() != tt.want {
				t.Errorf("got:\n%v\nwant:\n%s", err, tt.want)
			}
		})
	}
}

// FuzzParseModel looks for panics, for text that is no text, and for faults
// without a place.
func FuzzParseModel(f *testing.F) {
	for _, file := range []string{"skerry-10.yaml", "long-drift.yaml", "parts.yaml", "range.yaml"} {
		f.Add(read(f, "good/"+file))
	}
	for _, src := range []string{
		"", "{}", "[]", "a: &a [*a]", "? {a: b}\n: c", "<<: {a: b}", "*a : b", "name: ~\nrings: [~]",
		"sections: [{name: a, rolled: {plies: [{}], mandrel: [{}]}}]\njoints: [{between: [a]}]",
		"rings: [{at: 1e9 m}]\nlength: \"9' 6\"\"\n", "wants: {? [a] : b, weight: at most}", "handle: {grips: [{from: ½ in}]}", "line: {diameter: +}", "\"a\\nb\": {\"c\\nd\": 1}", "sections: [{name: \"a\\nb\", length: \"1\\n2\"}]",
	} {
		f.Add([]byte(src))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		m, err := models.ParseModel("m.yaml", src)
		if err == nil {
			m.TotalLength()
			m.JointSpans()
			return
		}
		for _, fault := range err.(models.Faults) {
			if fault.Pos.Line < 1 || fault.Pos.Col < 1 || fault.Msg == "" || strings.Contains(fault.Error(), "\n") || !utf8.ValidString(fault.Error()) {
				t.Errorf("fault %q at %v", fault.Msg, fault.Pos)
			}
		}
	})
}
