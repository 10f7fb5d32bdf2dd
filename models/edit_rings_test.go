package models_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rodlore/models"
	"rodlore/models/units"
)

// ringsOf makes rings of "95 SL-6" or "95 SL-6 12", mm and a part, the last
// number being the whipping.
func ringsOf(list ...string) []models.Ring {
	var rings []models.Ring
	for _, text := range list {
		words := strings.Fields(text)
		r := models.Ring{At: millimetres(words[0]), Part: models.Word{Text: words[1]}}
		if len(words) > 2 {
			r.Whipping = millimetres(words[2])
		}
		rings = append(rings, r)
	}
	return rings
}

func millimetres(number string) models.Given[units.Length] {
	l, err := units.ParseAs[units.Length](number + " mm")
	if err != nil {
		panic(err)
	}
	return models.Given[units.Length]{Value: l, Text: number + " mm"}
}

// spliceHead and spliceTail stand around the rings of the specs in these tests.
const (
	spliceHead = `name: Spliced   # a name
reel: fixed-spool
length: 3000 mm
sections:
  - {name: only, length: 3000 mm, material: carbon, tube: [{at: 0 mm, outside: 2 mm, wall: 0.5 mm}, {at: 3000 mm, outside: 12 mm, wall: 1 mm}]}
# the rings
rings:
`
	spliceTail = `
# held here
handle: {seat: {at: 450 mm, part: seat}}
`
)

func splice(t testing.TB, rings string, to []models.Ring) (string, error) {
	t.Helper()
	src := spliceHead + rings + spliceTail
	out, err := models.SpliceRings("spliced.yaml", []byte(src), to)
	if err != nil {
		return "", err
	}
	bare, ok := strings.CutPrefix(string(out), spliceHead)
	if !ok {
		t.Fatalf("what stands above the rings changed:\n%s", out)
	}
	bare, ok = strings.CutSuffix(bare, spliceTail)
	if !ok {
		t.Fatalf("what stands below the rings changed:\n%s", out)
	}
	return bare, nil
}

func TestSpliceRings(t *testing.T) {
	for _, row := range []struct {
		name, from string
		to         []models.Ring
		want       string
	}{
		{
			name: "moved, with its comment",
			from: "  - {at: 0 mm, part: T-6}   # tip\n  - {at: 160 mm, part: SL-6}  # first\n  - {at: 900 mm, part: DL-16}",
			to:   ringsOf("0 T-6", "145 SL-6", "900 DL-16"),
			want: "  - {at: 0 mm, part: T-6}   # tip\n  - {at: 145 mm, part: SL-6}  # first\n  - {at: 900 mm, part: DL-16}",
		},
		{
			name: "one more, written as its neighbours",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, part: SL-6}  # first\n  - {at: 900 mm, part: DL-16, whipping: 24 mm}",
			to:   ringsOf("0 T-6", "140 SL-6", "420 SL-6 11", "900 DL-16 24"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: 140 mm, part: SL-6}  # first\n  - {at: 420 mm, part: SL-6, whipping: 11 mm}\n  - {at: 900 mm, part: DL-16, whipping: 24 mm}",
		},
		{
			name: "one fewer; a comment above it stays",
			from: "  - {at: 0 mm, part: T-6}\n  # on trial\n  - {at: 160 mm, part: SL-6}  # gone\n\n  - {at: 900 mm, part: DL-16}  # stays",
			to:   ringsOf("0 T-6", "900 DL-16"),
			want: "  - {at: 0 mm, part: T-6}\n  # on trial\n\n  - {at: 900 mm, part: DL-16}  # stays",
		},
		{
			name: "columns that line up",
			from: "- {at: 0 mm,    part: T-6}\n- {at: 95 mm,   part: SL-6}\n- {at: 1480 mm, part: DL-16}",
			to:   ringsOf("0 T-6", "101 SL-6", "640 SL-8", "1480 DL-16"),
			want: "- {at: 0 mm,    part: T-6}\n- {at: 101 mm,  part: SL-6}\n- {at: 640 mm,  part: SL-8}\n- {at: 1480 mm, part: DL-16}",
		},
		{
			name: "longer than its column",
			from: "- {at: 0 mm,   part: T-6}\n- {at: 95 mm,  part: SL-6}\n- {at: 480 mm, part: DL-16}",
			to:   ringsOf("0 T-6", "95 SL-6", "1480 DL-16"),
			want: "- {at: 0 mm,   part: T-6}\n- {at: 95 mm,  part: SL-6}\n- {at: 1480 mm, part: DL-16}",
		},
		{
			name: "another order of keys, spaces within the braces",
			from: "  - { part: T-6, at: 0 mm }\n  - { part: SL-6, at: 160 mm }\n  - { part: DL-16, at: 900 mm }",
			to:   ringsOf("0 T-6", "150 SL-6", "330 SL-8 12", "900 DL-16"),
			want: "  - { part: T-6, at: 0 mm }\n  - { part: SL-6, at: 150 mm }\n  - { part: SL-8, at: 330 mm, whipping: 12 mm }\n  - { part: DL-16, at: 900 mm }",
		},
		{
			name: "keys on lines of their own",
			from: "  - at: 0 mm\n    part: T-6\n  - at: 160 mm  # first\n    part: SL-6  # light\n    whipping: 11 mm\n  - part: DL-16\n    at: 900 mm",
			to:   ringsOf("0 T-6", "150 SL-6", "400 SL-8", "900 DL-16 20"),
			want: "  - at: 0 mm\n    part: T-6\n  - at: 150 mm  # first\n    part: SL-6  # light\n  - at: 400 mm\n    part: SL-8\n  - part: DL-16\n    at: 900 mm\n    whipping: 20 mm",
		},
		{
			name: "a last line with its comment gone, in a copy too",
			from: "  - at: 0 mm\n    part: T-6\n  - at: 160 mm\n    part: SL-6\n    whipping: 11 mm # tight\n  # the last\n  - at: 900 mm\n    part: DL-16",
			to:   ringsOf("0 T-6", "160 SL-6", "400 SL-8", "900 DL-16"),
			want: "  - at: 0 mm\n    part: T-6\n  - at: 160 mm\n    part: SL-6\n  - at: 400 mm\n    part: SL-8\n  # the last\n  - at: 900 mm\n    part: DL-16",
		},
		{
			name: "a whipping between the others",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, whipping: 11 mm, part: SL-6}",
			to:   ringsOf("0 T-6", "160 SL-6"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, part: SL-6}",
		},
		{
			name: "quotes stay",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: \"160 mm\", part: 'SL-6'}",
			to:   ringsOf("0 T-6", "170 it's"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: \"170 mm\", part: 'it''s'}",
		},
		{
			name: "a name that needs quotes",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, part: SL-6}",
			to:   ringsOf("0 T-6", "160 a,b"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, part: \"a,b\"}",
		},
		{
			name: "over several lines",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: 160 mm, # here\n     part: SL-6 }\n  - {at: 900 mm, part: DL-16}",
			to:   ringsOf("0 T-6", "170 SL-6", "900 DL-16"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: 170 mm, # here\n     part: SL-6 }\n  - {at: 900 mm, part: DL-16}",
		},
		{
			name: "the same rings written otherwise",
			from: "  - {at: 0 mm, part: T-6}\n  - {at: 6 in from tip, part: SL-6}",
			to:   ringsOf("0 T-6", "152.4 SL-6"),
			want: "  - {at: 0 mm, part: T-6}\n  - {at: 6 in from tip, part: SL-6}",
		},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := splice(t, row.from, row.to)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(row.want, "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestSpliceRefuses(t *testing.T) {
	for _, row := range []struct{ name, from, want string }{
		{"a list in brackets", "  [{at: 0 mm, part: T-6}, {at: 160 mm, part: SL-6}]", "spliced.yaml:8:3: the rings are in brackets; write each ring on a line of its own"},
		{"a dash alone", "  -\n    at: 0 mm\n    part: T-6\n  - {at: 160 mm, part: SL-6}", "spliced.yaml:9:5: this ring does not stand behind its own dash"},
		{"a value over two lines", "  - {at: 0 mm, part: T-6}\n  - {at: 160\n      mm, part: SL-6}", "spliced.yaml:9:10: this runs over several lines"},
		{"a folded value", "  - {at: 0 mm, part: T-6}\n  - at: 160 mm\n    part: >-\n      SL-6", "spliced.yaml:10:11: this runs over several lines"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := splice(t, row.from, ringsOf("0 T-6", "170 SL-6"))
			if err == nil || !strings.HasPrefix(err.Error(), row.want) {
				t.Errorf("got %v, want %s", err, row.want)
			}
		})
	}
	src := spliceHead + "  - {at: 0 mm, part: T-6}\n" + spliceTail
	bare := []byte(strings.Split(strings.Replace(spliceHead, "reel: fixed-spool", "bare: true", 1), "# the rings")[0])
	if out, err := models.SpliceRings("bare.yaml", bare, nil); err != nil || !bytes.Equal(out, bare) {
		t.Errorf("a bare blank without rings: %v\n%s", err, out)
	}
	if _, err := models.SpliceRings("bare.yaml", bare, ringsOf("0 T-6")); err == nil {
		t.Error("rings are written onto a bare blank")
	}
	for name, rings := range map[string][]models.Ring{
		"out of order": ringsOf("0 T-6", "500 SL-6", "400 SL-6"),
		"no tip ring":  ringsOf("10 T-6", "500 SL-6"),
		"none":         {},
	} {
		if out, err := models.SpliceRings("spliced.yaml", []byte(src), rings); err == nil {
			t.Errorf("rings with %s are written:\n%s", name, out)
		}
	}
}

// layoutOf writes rings in some hand.
func layoutOf(t *rapid.T, rings []models.Ring, eol string) string {
	indent := rapid.SampledFrom([]string{"", "  ", "    "}).Draw(t, "indent")
	aligned := rapid.Bool().Draw(t, "lined up")
	var b strings.Builder
	for i, r := range rings {
		if rapid.IntRange(0, 5).Draw(t, "above") == 0 {
			b.WriteString(rapid.SampledFrom([]string{"", indent + "# über — dem Ring", "#"}).Draw(t, "line above") + eol)
		}
		at := r.At.Text + ","
		if aligned {
			at = fmt.Sprintf("%-9s", at)
		}
		fmt.Fprintf(&b, "%s- {at: %s part: %s", indent, at, r.Part)
		if r.Whipping.Set() {
			fmt.Fprintf(&b, ", whipping: %s", r.Whipping.Text)
		}
		b.WriteString("}" + rapid.SampledFrom([]string{"", "  # kept — ö", " "}).Draw(t, "behind"))
		if i < len(rings)-1 || rapid.Bool().Draw(t, "ends with a line end") {
			b.WriteString(eol)
		}
	}
	return b.String()
}

func someRings(t *rapid.T, name string) []models.Ring {
	list := []string{"0 T-6"}
	at := 0
	for range rapid.IntRange(0, 14).Draw(t, name) {
		at += rapid.IntRange(10, 180).Draw(t, "spacing")
		ring := fmt.Sprintf("%d %s", at, rapid.SampledFrom([]string{"SL-6", "SL-8", "DL-16"}).Draw(t, "part"))
		if rapid.IntRange(0, 3).Draw(t, "whipped") == 0 {
			ring += fmt.Sprintf(" %d", rapid.IntRange(5, 30).Draw(t, "whipping"))
		}
		list = append(list, ring)
	}
	return ringsOf(list...)
}

// TestSpliceProperties splices any rings into any text: the result is that spec,
// what is no ring stays to the byte, the same rings change nothing, and going
// back gives a text of the same meaning.
func TestSpliceProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eol := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
		head := strings.ReplaceAll(spliceHead, "\n", eol)
		if rapid.Bool().Draw(t, "mark of the encoding") {
			head = "\ufeff" + head
		}
		// The handle stands above so that the rings may end the file.
		head = strings.Replace(head, "# the rings", strings.TrimSpace(strings.ReplaceAll(spliceTail, "\n", eol))+eol+"# the rings", 1)
		old, rings := someRings(t, "old"), someRings(t, "new")
		src := []byte(head + layoutOf(t, old, eol))
		m, err := models.ParseModel("spliced.yaml", src)
		if err != nil {
			t.Fatal(err)
		}
		same, err := models.SpliceRings("spliced.yaml", src, m.Rings)
		if err != nil || !bytes.Equal(same, src) {
			t.Errorf("the same rings change the text: %v\n%q\n%q", err, src, same)
		}
		out, err := models.SpliceRings("spliced.yaml", src, rings)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(out, []byte(head)) {
			t.Errorf("what stands above the rings changed:\n%q", out)
		}
		if eol == "\r\n" && bytes.Count(out, []byte("\r\n")) != bytes.Count(out, []byte("\n")) {
			t.Errorf("line ends are mixed: %q", out)
		}
		got, err := models.ParseModel("spliced.yaml", out)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range got.Rings {
			if r.At.Value != rings[i].At.Value || r.Part.Text != rings[i].Part.Text || r.Whipping.Value != rings[i].Whipping.Value {
				t.Errorf("ring %d is %+v, want %+v", i, r, rings[i])
			}
		}
		if diff := cmp.Diff(ownLineComments(src), ownLineComments(out)); diff != "" {
			t.Errorf("lines of comment (-before +after):\n%s", diff)
		}
		if back, err := models.SpliceRings("spliced.yaml", out, old); err != nil {
			t.Errorf("there is no way back: %v", err)
		} else if again, err := models.ParseModel("spliced.yaml", back); err != nil || len(again.Rings) != len(old) {
			t.Errorf("back it is another spec: %v", err)
		}
	})
}

// ownLineComments are the lines of a text that hold a comment alone.
func ownLineComments(text []byte) []string {
	var list []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); strings.HasPrefix(line, "#") {
			list = append(list, line)
		}
	}
	return list
}
