package document

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"rodlore/catalogue/pages/pagetest"
)

func TestPDFPaper(t *testing.T) {
	tests := []struct {
		name          string
		paper         Paper
		width, height float64
	}{
		{"none given", Paper{}, 210, 297},         // ISO 216:2007, table 1
		{"A4", A4, 210, 297},                      // the same
		{"Letter", Letter, 8.5 * 25.4, 11 * 25.4}, // 8½ by 11 in, ANSI Y14.1 size A (from memory)
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := sample()
			d.Paper = test.paper
			pages := pagetest.PDFPages(t, written(t, d.PDF))
			if len(pages) < 3 {
				t.Errorf("%d pages, fewer than there are breaks", len(pages))
			}
			for _, page := range pages {
				// pdfinfo prints hundredths of a point; ISO 216 allows 1.5 mm.
				if math.Abs(page.Width-test.width) > 0.01 || math.Abs(page.Height-test.height) > 0.01 {
					t.Errorf("a page of %.2f × %.2f mm, want %g × %g", page.Width, page.Height, test.width, test.height)
				}
			}
		})
	}
}

func TestPDFSaysWhatItIs(t *testing.T) {
	pdf := written(t, sample().PDF)
	for _, want := range []string{"/Lang (en-GB)", "/CreationDate (D:20260118093000)", "/ModDate (D:20260118093000)", "/Outlines"} {
		if !bytes.Contains(pdf, []byte(want)) {
			t.Errorf("the PDF lacks %s", want)
		}
	}
	if !bytes.Equal(pdf, written(t, sample().PDF)) {
		t.Error("written twice, two files")
	}
}

func TestPDFHeadStandsOnEveryPage(t *testing.T) {
	table := Table{Columns: []Column{{Head: "the station"}, {Head: "what stands there"}}}
	for i := range 150 {
		table.Add(fmt.Sprintf("row-%d.", i), strings.Repeat("many words ", 10))
	}
	pdf := written(t, (&Document{Title: "Long", Blocks: []Block{table}}).PDF)
	pages := len(pagetest.PDFPages(t, pdf))
	text := pagetest.PDFText(t, pdf)
	if pages < 3 || strings.Count(text, "what stands there") != pages {
		t.Errorf("%d heads on %d pages", strings.Count(text, "what stands there"), pages)
	}
	for i := range 150 {
		if !strings.Contains(text, fmt.Sprintf("row-%d.", i)) {
			t.Errorf("row %d is lost", i)
		}
	}
}

// No text is lost, however narrow its column or long its word.
func TestPDFKeepsEveryLetter(t *testing.T) {
	long := strings.Repeat("abcdefghij", 40)
	tests := []struct {
		name string
		b    Block
	}{
		{"paragraph", Paragraph(Plain(long))},
		{"cell", Table{Columns: make([]Column, 3), Rows: [][]Text{{Plain(long), Plain("x"), Plain("y")}}}},
		{"cell of many pages", Table{Columns: make([]Column, 1), Rows: [][]Text{{Plain(strings.Repeat(long+" ", 60))}}}},
		{"beside of many pages", Beside{Left: []Block{Paragraph(Plain(strings.Repeat(long+" ", 60)))}}},
		{"heading", Heading{Level: 2, Text: long}},
		{"figure's caption", Figure{Picture: samplePicture(), Caption: Plain(long)}},
		{"list", List{Items: []Text{Plain(long)}}},
		{"term", Terms{{Word: "x", Text: Plain(long)}}},
		{"caution of many pages", Caution{"x", Plain(strings.Repeat(long+" ", 60))}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := &Document{Title: "T", Blocks: []Block{test.b}}
			text := pagetest.PDFText(t, written(t, d.PDF))
			letters := regexp.MustCompile(`[^a-j]`).ReplaceAllString(text, "")
			want := regexp.MustCompile(`[^a-j]`).ReplaceAllString(string(written(t, d.HTML)), "")
			if got := strings.Count(letters, ""); got < 400 || !strings.Contains(want, letters) {
				t.Errorf("%d letters, not those that were written", got)
			}
		})
	}
}

func TestPrintableLetters(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"in the fonts", "164 g ± 3 · −0.5 °C → ½ “ő” µΩ", "164 g ± 3 · −0.5 °C → ½ “ő” µΩ"},
		{"spaces and hyphens that hold", "9\u202fft\u2011rod", "9 ft-rod"},
		{"what shows nothing", "a\u200b\u00ad\ufe0fb", "ab"},
		{"what steers", "a\x07\u202eb", `a\x07\u202eb`},
		{"made of others", "ﬅop ①  Ṩ", "stop 1  S"},
		{"another script", "竿", "[U+7AFF]"},
		{"beyond the first plane", "🎣", "[U+1F3A3]"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := printable(test.text); got != test.want {
				t.Errorf("%q, want %q", got, test.want)
			}
		})
	}
}

// The foot of a page has as many lines as it needs, above the edge of the paper.
func TestPDFFoot(t *testing.T) {
	d := &Document{Title: "T", Footer: strings.Repeat("all of it is said ", 30) + "to the end.", Blocks: []Block{Paragraph(Plain("x"))}}
	for range 80 {
		d.Blocks = append(d.Blocks, Paragraph(Plain("a line of text")))
	}
	text := pagetest.PDFText(t, written(t, d.PDF))
	pages := strings.Count(text, "\f")
	if got := strings.Count(strings.Join(strings.Fields(text), " "), "to the end."); got != pages || pages < 2 {
		t.Errorf("the foot is whole on %d of %d pages", got, pages)
	}
	if got := strings.Count(text, "a line of text"); got != 80 {
		t.Errorf("%d lines of 80", got)
	}
}

func TestContentsFindPages(t *testing.T) {
	d := &Document{Title: "Year", Blocks: []Block{
		Contents{"Contents"}, Heading{Level: 2, Text: "First"}, Leaf{samplePicture()}, Heading{Level: 2, Text: "Second"},
	}}
	pdf := written(t, d.PDF)
	if n := len(pagetest.PDFPages(t, pdf)); n != 3 {
		t.Errorf("%d pages, want 3", n)
	}
	for _, want := range []string{`First[ .]+1\n`, `Second[ .]+3\n`} {
		if text := pagetest.PDFText(t, pdf); !regexp.MustCompile(want).MatchString(text) {
			t.Errorf("the contents lack %q:\n%s", want, text)
		}
	}
}

// Strips stand below each other in their order, on pages that hold them, and
// those that are joined stay together where a page holds them.
func TestPaginate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const room = 100.
		var strips []strip
		for i := range rapid.IntRange(1, 60).Draw(t, "strips") {
			strips = append(strips, strip{
				space: rapid.Float64Range(0, 10).Draw(t, "space"), height: rapid.Float64Range(1, 40).Draw(t, "height"),
				joined: rapid.Bool().Draw(t, "joined"), opens: rapid.IntRange(0, 9).Draw(t, "opens") == 0, anchors: []string{fmt.Sprint(i)},
			})
		}
		next, on := 0, make([]int, len(strips))
		for n, page := range paginate(strips, room) {
			bottom := 0.0
			for i, s := range page {
				if s.anchors[0] != fmt.Sprint(next) {
					t.Fatalf("strip %s where %d was due", s.anchors[0], next)
				}
				if s.top < bottom-slack || s.top+s.height > room+slack || i == 0 && s.top != 0 {
					t.Fatalf("strip %d from %g to %g below one that ends at %g", next, s.top, s.top+s.height, bottom)
				}
				bottom, on[next] = s.top+s.height, n
				next++
			}
		}
		if next != len(strips) {
			t.Fatalf("%d strips of %d", next, len(strips))
		}
		for i := range strips[1:] {
			apart, fits := on[i] != on[i+1], strips[i].height+strips[i+1].space+strips[i+1].height <= room
			begins := i == 0 || !strips[i-1].joined
			alone := i+2 == len(strips) || !strips[i+1].joined
			if apart && fits && strips[i].joined && begins && alone && !strips[i+1].opens {
				t.Fatalf("strips %d and %d are joined and on two pages", i, i+1)
			}
		}
	})
}

func TestColumnsShareTheRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := rapid.SliceOfN(rapid.Float64Range(1, 60), 1, 8).Draw(t, "least")
		wide := make([]float64, len(least))
		for i, l := range least {
			wide[i] = l + rapid.Float64Range(0, 100).Draw(t, "more")
		}
		room := rapid.Float64Range(20, 300).Draw(t, "room")
		sum, floor := 0.0, 0.0
		widths := shared(wide, least, room)
		for i, w := range widths {
			sum, floor = sum+w, floor+least[i]
			if w > wide[i]+slack {
				t.Fatalf("column %d is %g wide and wants %g", i, w, wide[i])
			}
		}
		for i, w := range widths {
			if floor <= room && w < least[i]-slack {
				t.Fatalf("column %d is %g wide and needs %g", i, w, least[i])
			}
		}
		if sum > room+slack {
			t.Fatalf("columns of %g mm in %g mm", sum, room)
		}
	})
}

func BenchmarkPDF(b *testing.B) {
	d := sample()
	for b.Loop() {
		written(b, d.PDF)
	}
}
