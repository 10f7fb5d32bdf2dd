package models

import (
	"fmt"
	"strings"

	"rodlore/models/units"
)

// SpliceFitted gives the text of a spec with what was fitted to a rod: the block replaces
// the one there is, or is added at the end. Every other byte stays. The result is parsed
// before it is returned.
func SpliceFitted(file string, src []byte, f *Fitted) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	return t.with([]edit{t.put("fitted", f.text())}, "the fit", "edit it by hand", reads(ParseModel, file))
}

// text writes the block.
func (f *Fitted) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "fitted: # more or less than spec and range say\n  to: %s\n  date: %s", plainOrQuoted(f.To.Text), f.Date.Text)
	for _, line := range f.Came.texts() {
		fmt.Fprintf(&b, "\n  %s", line)
	}
	if len(f.KnownTo) > 0 {
		b.WriteString("\n  known to: # what the readings left open: of each line all at once")
	}
	for _, part := range f.KnownTo {
		fmt.Fprintf(&b, "\n    - {%s}", strings.Join(part.texts(), ", "))
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

// Fraction is a share that a program works out, to a tenth of a percent, as it
// would be written.
func Fraction(v float64) Given[units.Share] {
	text := units.Trimmed(100*v, 1) + " %"
	return Given[units.Share]{Value: units.Share(units.MustParse(text, units.Of[units.Share]())), Text: text}
}
