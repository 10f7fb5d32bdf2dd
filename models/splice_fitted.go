package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"rodlore/models/units"

	"gopkg.in/yaml.v3"
)

// SpliceFitted gives src, the text that m was read from, fitted to a rod: the
// block is put in the place of the one there is, or at the end. All the rest of
// the text is the same to the byte. The result is read again before it is given.
func SpliceFitted(src []byte, m *Model, f *Fitted) ([]byte, error) {
	doc := &document{file: m.File}
	root, ok := doc.open(src)
	if !ok || root == nil || len(doc.faults) > 0 {
		return nil, fmt.Errorf("%s: it has faults; put them right first", m.File)
	}
	if root.Style&yaml.FlowStyle != 0 {
		return nil, fmt.Errorf("%s:%d:%d: the whole spec is in braces; write each key on a line of its own and try again",
			m.File, root.Line, root.Column)
	}
	l := newLines(src)
	from, to := l.fittedBlock(root)
	var out bytes.Buffer
	out.Write(src[:from])
	if from > 0 && l.breakBefore(from) == nil {
		out.WriteString(l.usualBreak())
	}
	out.WriteString(strings.ReplaceAll(f.text(), "\n", l.usualBreak()))
	out.Write(src[to:])
	return out.Bytes(), m.checkSpliced(out.Bytes(), f)
}

// fittedBlock is where the lines of the block begin and end; both are the end of
// the text where there is none.
func (l *lines) fittedBlock(root *yaml.Node) (from, to int) {
	for i := 0; i+1 < len(root.Content); i += 2 {
		key, value := root.Content[i], root.Content[i+1]
		if key.Value != "fitted" {
			continue
		}
		end := l.lineEnd(l.offset(last(value)))
		return l.starts[key.Line-1], end + breakAt(l.src[end:])
	}
	return len(l.src), len(l.src)
}

// last is the node of a block that stands last in the text.
func last(n *yaml.Node) *yaml.Node {
	for len(n.Content) > 0 {
		n = n.Content[len(n.Content)-1]
	}
	return n
}

// usualBreak is the line break of the text.
func (l *lines) usualBreak() string {
	if bytes.Contains(l.src, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// text writes the block.
func (f *Fitted) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "fitted: # more or less than spec and range say\n  to: %s\n  date: %s\n", plainOrQuoted(f.To.Text), f.Date.Text)
	for _, line := range f.Came.texts() {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	if len(f.KnownTo) > 0 {
		b.WriteString("  known to: # what the readings left open: of each line all at once\n")
	}
	for _, part := range f.KnownTo {
		fmt.Fprintf(&b, "    - {%s}\n", strings.Join(part.texts(), ", "))
	}
	return b.String()
}

// texts writes each of the keys that were given.
func (c *Came) texts() (list []string) {
	if len(c.Modulus) > 0 {
		list = append(list, "modulus: {"+pairsOf(c.Modulus)+"}")
	}
	if len(c.Wall) > 0 {
		list = append(list, "wall: {"+pairsOf(c.Wall)+"}")
	}
	if c.FootBonding.Set() {
		list = append(list, "foot bonding: "+c.FootBonding.Text)
	}
	if c.Damping.Set() {
		list = append(list, "damping: "+c.Damping.Text)
	}
	return list
}

func pairsOf[U ~float64](list []OfSection[U]) string {
	pairs := make([]string, len(list))
	for i, o := range list {
		pairs[i] = plainOrQuoted(o.Section.Text) + ": " + o.By.Text
	}
	return strings.Join(pairs, ", ")
}

// checkSpliced checks that a text is the spec of m fitted so.
func (m *Model) checkSpliced(src []byte, f *Fitted) error {
	got, err := ParseModel(m.File, src)
	if err != nil {
		return fmt.Errorf("%s: the fit cannot be written into it: %w", m.File, err)
	}
	want := *m
	want.Fitted = f
	if !sameBut(got, &want) || !slices.EqualFunc(got.Rings, m.Rings, sameRing) {
		return fmt.Errorf("%s: the fit cannot be written without changing something else; edit it by hand", m.File)
	}
	return nil
}

// Fraction is a share that a program works out, to a tenth of a percent, as it
// would be written.
func Fraction(v float64) Given[units.Share] {
	text := units.Trimmed(100*v, 1) + " %"
	return Given[units.Share]{Value: units.Share(units.MustParse(text, units.Of[units.Share]())), Text: text}
}
