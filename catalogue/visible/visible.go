package visible

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// steers reports whether a character is no text: control characters but for the
// ends of lines and tabs (ECMA-48), and what turns around the direction of
// others (Unicode Standard Annex 9, explicit directional formatting).
func steers(r rune) bool {
	switch {
	case r == '\n', r == '\t':
		return false
	case unicode.IsControl(r), r == '\u2028', r == '\u2029':
		return true
	}
	return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

// Steers reports whether text holds a character that is none.
func Steers(text string) bool { return strings.IndexFunc(text, steers) >= 0 }

// String is text as it may be shown: \x1b for an escape, \u202e for what turns
// letters around, \xff for a byte that is no character.
func String(text string) string {
	return spell(text, sign, func(b byte) string { return fmt.Sprintf(`\x%02x`, b) })
}

// JSON is a document of JSON with the same characters in its own escapes, by
// which its meaning stays. They only ever stand in its strings.
func JSON(document string) string {
	return spell(document, func(r rune) string { return fmt.Sprintf(`\u%04x`, r) }, func(byte) string { return `\ufffd` })
}

func sign(r rune) string {
	if r <= 0xff {
		return fmt.Sprintf(`\x%02x`, r)
	}
	return fmt.Sprintf(`\u%04x`, r)
}

// spell puts every character that steers, and every byte that is no character,
// into words.
func spell(text string, sign func(rune) string, stray func(byte) string) string {
	if !Steers(text) && utf8.ValidString(text) {
		return text
	}
	var b strings.Builder
	for len(text) > 0 {
		r, n := utf8.DecodeRuneInString(text)
		switch {
		case r == utf8.RuneError && n == 1:
			b.WriteString(stray(text[0]))
		case steers(r):
			b.WriteString(sign(r))
		default:
			b.WriteString(text[:n])
		}
		text = text[n:]
	}
	return b.String()
}

// Writer passes text on as String has it, but for the styles of our own.
type Writer struct {
	out  io.Writer
	held []byte // the beginning of what the next write goes on with
}

// NewWriter gives a writer to a terminal or a file that people read.
func NewWriter(out io.Writer) *Writer { return &Writer{out: out} }

// A style in text is a byte that no character has, the number of the style and
// another such byte, so that none that came from elsewhere is taken for one.
const (
	styleBegin = '\xfe'
	styleEnd   = '\xff'
	mostStyle  = 4
)

// Style is what sets the style of the text after it, once a Writer passes it on:
// the parameter of SGR (ECMA-48), "0" for none.
func Style(parameter string) string {
	return string([]byte{styleBegin}) + parameter + string([]byte{styleEnd})
}

// Write passes text on. What is cut off in the middle waits for the rest.
func (w *Writer) Write(p []byte) (int, error) {
	text := append(w.held, p...)
	whole := len(text)
	for back := 1; back <= min(len(text), mostStyle); back++ {
		if last := text[len(text)-back:]; cutOff(last) {
			whole = len(text) - back
		}
	}
	w.held = append([]byte(nil), text[whole:]...)
	_, err := io.WriteString(w.out, styled(string(text[:whole])))
	return len(p), err
}

// cutOff reports whether text is the beginning of one character or style.
func cutOff(text []byte) bool {
	return text[0] == styleBegin && strings.IndexByte(string(text), styleEnd) < 0 ||
		text[0] >= utf8.RuneSelf && text[0] < styleBegin && !utf8.FullRune(text)
}

// Flush passes on what still waits.
func (w *Writer) Flush() error {
	rest := w.held
	w.held = nil
	_, err := io.WriteString(w.out, String(string(rest)))
	return err
}

// styled is text as String has it, with our styles as a terminal takes them.
func styled(text string) string {
	begin := strings.IndexByte(text, styleBegin)
	if begin < 0 {
		return String(text)
	}
	var b strings.Builder
	for ; begin >= 0; begin = strings.IndexByte(text, styleBegin) {
		b.WriteString(String(text[:begin]))
		text = text[begin:]
		parameter, rest, ok := strings.Cut(text[1:], string([]byte{styleEnd}))
		if !ok || strings.Trim(parameter, "0123456789") != "" || len(parameter) >= mostStyle-1 {
			b.WriteString(String(text[:1]))
			text = text[1:]
			continue
		}
		b.WriteString("\x1b[" + parameter + "m")
		text = rest
	}
	return b.String() + String(text)
}
