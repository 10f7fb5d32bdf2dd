package main

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"
	"pgregory.net/rapid"

	"rodlore/catalogue/visible"
)

// TestHelp checks that every command says what it does and shows it used.
func TestHelp(t *testing.T) {
	root := newRoot(&program{printer: printer{out: bufio.NewWriter(os.Stderr)}, err: os.Stderr})
	for _, c := range withSubcommands(root) {
		t.Run(c.CommandPath(), func(t *testing.T) {
			if c.Short == "" || c.Long == "" || c.Example == "" {
				t.Error("short or long words or the example are missing")
			}
			if c.Short != "" && (strings.HasSuffix(c.Short, ".") || strings.ToLower(c.Short[:1]) != c.Short[:1]) {
				t.Errorf("short words begin small and end without a stop: %q", c.Short)
			}
			if c.Parent() == root && c.GroupID == "" {
				t.Error("stands in no group")
			}
			for line := range strings.Lines(c.Long) {
				if runewidth.StringWidth(strings.TrimSuffix(line, "\n")) > 80 {
					t.Errorf("longer than a line: %q", line)
				}
			}
			checkExample(t, c)
		})
	}
}

// withSubcommands lists a command with all below it, but for the library's own
// below completion.
func withSubcommands(c *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{c}
	if c.Name() != "completion" {
		for _, below := range c.Commands() {
			list = append(list, withSubcommands(below)...)
		}
	}
	return list
}

// checkExample checks that the lines of an example are commands that exist,
// with options that exist.
func checkExample(t *testing.T, c *cobra.Command) {
	for line := range strings.Lines(c.Example) {
		if runewidth.StringWidth(line) > 80 {
			t.Errorf("longer than a line: %q", line)
		}
		_, command, ok := strings.Cut(line, "rodlore ")
		if !ok || !strings.HasPrefix(line, "  ") {
			t.Errorf("no example of rodlore: %q", line)
			continue
		}
		root := newRoot(&program{printer: printer{out: bufio.NewWriter(os.Stderr)}, err: os.Stderr})
		found, rest, err := root.Find(strings.Fields(strings.TrimRight(command, ")\n")))
		if err != nil || found == root {
			t.Errorf("no such command: %q", line)
			continue
		}
		if err := found.ParseFlags(rest); err != nil {
			t.Errorf("%q: %v", line, err)
		}
	}
}

func TestPaint(t *testing.T) {
	tests := []struct {
		name     string
		terminal *os.File
		env      map[string]string
		want     string
	}{
		{"on a terminal", os.Stdout, nil, visible.Style("1") + "word" + visible.Style("0")},
		{"not on a terminal", nil, nil, "word"},
		{"told not to", os.Stdout, map[string]string{"NO_COLOR": "1"}, "word"},
		{"on a terminal without colours", os.Stdout, map[string]string{"TERM": "dumb"}, "word"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			p := &printer{terminal: test.terminal, env: func(key string) string { return test.env[key] }}
			if got := p.paint(bold, "word"); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
			if got := p.paint(bold, ""); got != "" {
				t.Errorf("nothing became %q", got)
			}
		})
	}
}

func TestWrap(t *testing.T) {
	tests := []struct {
		name, text string
		width      int
		want       []string
	}{
		{"short", "one two", 20, []string{"one two"}},
		{"at spaces", "one two three", 8, []string{"one two", "three"}},
		{"a long word", "a verylongword b", 6, []string{"a", "verylongword", "b"}},
		{"lines stay", "one\ntwo", 20, []string{"one", "two"}},
		{"number and unit", "rings at 135 mm", 12, []string{"rings at", "135 mm"}},
		{"wide letters", "鮭 鱒 鱸", 5, []string{"鮭 鱒", "鱸"}},
		{"nothing", "", 5, []string{""}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, wrap(test.text, test.width)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestFillKeepsAll checks that filling loses no word and keeps to the width.
func TestFillKeepsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-zäöü]{1,8}`), 1, 20).Draw(t, "words")
		sep := rapid.SampledFrom([]string{" ", " · "}).Draw(t, "sep")
		width := rapid.IntRange(12, 40).Draw(t, "width")
		lines := fill(words, sep, width)
		got := strings.FieldsFunc(strings.Join(lines, " "), func(r rune) bool { return r == ' ' || r == '·' })
		if diff := cmp.Diff(words, got); diff != "" {
			t.Fatalf("(-want +got):\n%s", diff)
		}
		for _, l := range lines {
			if runewidth.StringWidth(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
	})
}

func TestReflow(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"one line", "one ring fewer", "one ring fewer"},
		{"broken lines", "Head\n\nbroken for\nanother width", "Head\nbroken for another width"},
		{"a list", "Head\n\n- first\n- second", "Head\n- first\n- second"},
		{"empty lines", "\n\nHead\n\n\nBody\n", "Head\nBody"},
		{"nothing", "", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := reflow(test.text); got != test.want {
				t.Errorf("got %q, not %q", got, test.want)
			}
		})
	}
}

func TestTable(t *testing.T) {
	tests := []struct {
		name  string
		width string
		table table
		want  string
	}{
		{"numbers to the right", "80",
			table{columns: []column{{head: "name"}, {head: "weight", right: true}}, rows: [][]string{{"a", "9.5 g"}, {"longer", "110.0 g"}}},
			"name     weight\na         9.5 g\nlonger  110.0 g\n"},
		{"an empty column", "80",
			table{columns: []column{{}, {head: "none"}, {}}, rows: [][]string{{"a", "", "b"}}}, "a  b\n"},
		{"wraps", "40",
			table{columns: []column{{}, {wraps: true}}, rows: [][]string{{"a", "words that do not fit into what there is of width"}, nil, {"b", "c"}}},
			"a  words that do not fit into what there\n   is of width\n\nb  c\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var b strings.Builder
			p := &printer{out: bufio.NewWriter(&b), env: func(string) string { return test.width }}
			p.print("", test.table)
			if err := p.out.Flush(); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, b.String()); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
