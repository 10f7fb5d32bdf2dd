package visible

import (
	"bytes"
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestString(t *testing.T) {
	for text, want := range map[string]string{
		"Skerry 10, 3 × ½ m\n\tfür":   "Skerry 10, 3 × ½ m\n\tfür",
		"\x1b]0;title\x07":            `\x1b]0;title\x07`,
		"\x1b[2Jgone\x1b[0m":          `\x1b[2Jgone\x1b[0m`,
		"a\x00b":                      `a\x00b`,
		"over\rwritten\x7f":           `over\x0dwritten\x7f`,
		"\u009b31m":                   `\x9b31m`,
		"safe\u202egnp.exe":           `safe\u202egnp.exe`,
		"\u2066a\u2069":               `\u2066a\u2069`,
		"line\u2028end":               `line\u2028end`,
		"models/\xff\xfe.yaml":        `models/\xff\xfe.yaml`,
		"שלום \u200f":                 "שלום \u200f",
		Style("1") + "x" + Style("0"): `\xfe1\xffx\xfe0\xff`,
	} {
		if got := String(text); got != want {
			t.Errorf("%q became %q, not %q", text, got, want)
		}
	}
}

// The data stays what it was, without a character that steers in the file.
func TestJSON(t *testing.T) {
	const name = "a\x1b[31m\u009b\u202e\x00\x7fb"
	document, err := json.Marshal(map[string]string{"name": name})
	if err != nil {
		t.Fatal(err)
	}
	escaped := JSON(string(document))
	if Steers(escaped) {
		t.Errorf("steers: %q", escaped)
	}
	var got map[string]string
	if err := json.Unmarshal([]byte(escaped), &got); err != nil || got["name"] != name {
		t.Errorf("%q, %v", got, err)
	}
}

func TestWriter(t *testing.T) {
	text := "a " + Style("1") + "bold ½ \x1b[31m" + Style("0") + " \xfe9zz \xff end\xc2"
	want := "a \x1b[1mbold ½ \\x1b[31m\x1b[0m \\xfe9zz \\xff end\\xc2"
	for size := 1; size <= len(text); size++ { // however it is cut
		var out bytes.Buffer
		w := NewWriter(&out)
		for rest := text; rest != ""; rest = rest[min(size, len(rest)):] {
			if n, err := w.Write([]byte(rest[:min(size, len(rest))])); err != nil || n != min(size, len(rest)) {
				t.Fatal(n, err)
			}
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
		if out.String() != want {
			t.Errorf("by %d: %q, not %q", size, out.String(), want)
		}
	}
}

// A shell gives every word back as it was.
func TestArgMeansItself(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Fatal(err)
	}
	words := []string{
		"skerry-10", "skerry-10@2026", "my range", "$(touch${IFS}PWN)", "`id`", "it's", `a\b`, "*", "~", "-x", "", "#a", "a;b", "!x", "für", "a|b&c", "{a,b}", "a\nb", "\u00a0",
	}
	rapid.Check(t, func(t *rapid.T) {
		words = append(words, rapid.StringMatching(`[ -~äß½]{0,12}`).Draw(t, "word"))
	})
	for _, word := range words {
		out, err := exec.Command(shell, "-c", "printf '[%s]' "+posixArg(word)).Output()
		if err != nil || string(out) != "["+word+"]" {
			t.Errorf("%q as %s is %q, %v", word, posixArg(word), out, err)
		}
	}
	for word, want := range map[string]string{"skerry-10": "skerry-10", "skerry-10@2026": "skerry-10@2026", "my range": "'my range'", "it's": `'it'\''s'`} {
		if got := posixArg(word); got != want {
			t.Errorf("%q is %s, not %s", word, got, want)
		}
	}
	if got := windowsArg(`C:\my range`); got != `'C:\my range'` || strings.Contains(windowsArg(`C:\range`), "'") {
		t.Errorf("on Windows %s", got)
	}
}
