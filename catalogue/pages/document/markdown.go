package document

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"

	"rodlore/catalogue/visible"
)

// Markdown writes the document as CommonMark 0.31.2 with the tables and boxes
// to tick of GitHub Flavored Markdown 0.29. Pictures are put into words.
func (d *Document) Markdown(w io.Writer) error {
	m := &markdownWriter{anchors: anchors(d.Blocks)}
	m.heading(1, d.Title)
	if d.Subtitle != "" {
		m.block(atStart(escaped(d.Subtitle)))
	}
	m.blocks(d.Blocks)
	if reach := d.Reach(); d.Footer != "" || reach != nil {
		m.block("---")
		if reach != nil {
			m.block(atStart(inline(reach)))
		}
		if d.Footer != "" {
			m.block(atStart(escaped(d.Footer)))
		}
	}
	_, err := io.WriteString(w, visible.String(m.out.String()))
	return err
}

// markdownWriter gathers blocks, an empty line between each two.
type markdownWriter struct {
	out     bytes.Buffer
	anchors []anchor
	next    int // of anchors
}

func (m *markdownWriter) block(lines string) {
	if m.out.Len() > 0 {
		m.out.WriteByte('\n')
	}
	m.out.WriteString(lines + "\n")
}

// heading writes a heading. Its text may end in no "#", which would close it
// (CommonMark 0.31.2, 4.2).
func (m *markdownWriter) heading(level int, text string) {
	m.block(strings.Repeat("#", level) + " " + strings.ReplaceAll(escaped(text), "#", `\#`))
}

func (m *markdownWriter) blocks(blocks []Block) {
	for _, b := range blocks {
		b.markdown(m)
	}
}

// special are the characters that mean something within a line (CommonMark
// 0.31.2, chapter 6; GFM 0.29, 4.10 and 6.5).
var special = regexp.MustCompile("[\\\\`*_\\[\\]<>&|~]")

// leading and numbering are what means something at the start of a line only
// (CommonMark 0.31.2, chapters 4 and 5).
var (
	leading   = regexp.MustCompile(`^[#+=-]`)
	numbering = regexp.MustCompile(`^(\d+)([.)])( |$)`)
)

// escaped is text to stand within a line.
func escaped(text string) string {
	return special.ReplaceAllString(oneLine.Replace(text), `\$0`)
}

// atStart is what was escaped, to stand at the start of a line.
func atStart(text string) string {
	text = leading.ReplaceAllString(strings.Trim(text, " "), `\$0`)
	return numbering.ReplaceAllString(text, `$1\$2$3`)
}

// inline writes a text within a line. Marks stand next to what is no space, for
// beside one they would be none (CommonMark 0.31.2, 6.2).
func inline(t Text) string {
	var b strings.Builder
	for _, s := range t {
		text := escaped(s.Text)
		core := strings.Trim(text, " ")
		if core == "" {
			b.WriteString(text)
			continue
		}
		before, after, _ := strings.Cut(text, core)
		b.WriteString(before + s.marked(core) + after)
	}
	return strings.Trim(b.String(), " ")
}

// marked puts marks around text.
func (s Span) marked(text string) string {
	if s.Italic {
		text = "*" + text + "*"
	}
	if s.Bold {
		text = "**" + text + "**"
	}
	if s.Linked() {
		text = fmt.Sprintf("[%s](<%s>)", text, strings.NewReplacer("<", "%3C", ">", "%3E").Replace(string(s.Address())))
	}
	return text
}
