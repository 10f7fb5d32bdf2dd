package document

import (
	"strings"
	"testing"
)

// What must be escaped is that of CommonMark 0.31.2 (6.1 code spans, 6.2
// emphasis, 6.3 links, 6.5 autolinks, 6.6 HTML, 2.5 entities; at the start of a
// line 4.1 to 4.3, 5.2) and of GFM 0.29 (4.10 tables, 6.5 strikethrough).
func TestMarkdownEscapes(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"emphasis", "a*b_c", `a\*b\_c`},
		{"code and escape", "`x` \\", "\\`x\\` \\\\"},
		{"link", "[x](y)", `\[x\](y)`},
		{"element and entity", "<b> &amp;", `\<b\> \&amp;`},
		{"table and strike", "a|b ~c~", `a\|b \~c\~`},
		{"heading", "# one", `\# one`},
		{"bullet", "- one", `\- one`},
		{"plus", "+ one", `\+ one`},
		{"number", "12. one", `12\. one`},
		{"bracketed number", "3) one", `3\) one`},
		{"underline", "=====", `\=====`},
		{"code by indent", "    x", "x"},
		{"lines", "a\n# b\r\n- c", "a # b - c"},
		{"figures", "1.5 lb, −3 % and 0.5–0.7", "1.5 lb, −3 % and 0.5–0.7"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d := &Document{Title: "T", Blocks: []Block{Paragraph(Plain(test.text))}}
			if got, want := string(written(t, d.Markdown)), "# T\n\n"+test.want+"\n"; got != want {
				t.Errorf("%q, want %q", got, want)
			}
		})
	}
}

func TestMarkdownMarks(t *testing.T) {
	tests := []struct {
		name string
		text Text
		want string
	}{
		{"spaces stay outside", Text{{Text: "a "}, {Text: " b ", Bold: true}, {Text: "c"}}, "a  **b** c"},
		{"both", Text{{Text: "b", Bold: true, Italic: true}}, "***b***"},
		{"link", Text{{Text: "x", Link: "a b.html"}}, "[x](<./a b.html>)"},
		{"nothing to mark", Text{{Text: "a"}, {Text: " ", Bold: true}, {Text: "b"}}, "a b"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := inline(test.text); got != test.want {
				t.Errorf("%q, want %q", got, test.want)
			}
		})
	}
}

func TestMarkdownHeadings(t *testing.T) {
	d := &Document{Title: "No. #", Blocks: []Block{Heading{Level: 3, Text: "1. *one* ##"}}}
	if got, want := string(written(t, d.Markdown)), "# No. \\#\n\n### 1. \\*one\\* \\#\\#\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestMarkdownTables(t *testing.T) {
	text := string(written(t, sample().Markdown))
	for _, want := range []string{
		"\n| at | part | what it is for and where the whipping ends | measured |  |\n| ---: | --- | --- | --- | --- |\n| 0 mm | SL-6 | a \\| b |  |  |\n",
		"\n|  |  |\n| --- | ---: |\n| weight | **164 g ± 3** |\n",
		"\n- [ ] tip ring in line\n- [ ] joints seat\n",
		"\n1. dry it\n2. \\- push it home\n",
		"\n- 1\\. no dash\n- *slanted*\n",
		"\n<a id=\"joints\"></a>\n\n## Joints\n",
		"\n> **The rod from the side** Rings at 0 and 100 mm.\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
}
