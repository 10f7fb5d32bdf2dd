package units

import "strings"

// Quantity is a value as somebody wrote it.
type Quantity struct {
	Value float64 // in Unit
	Unit  string  // SI; "" where the text is words
	Text  string  // as written, "12.5 mm"; "" means not given
}

// Imperial is what was written, converted to inches, feet, ounces or pounds if it was
// written in one metric unit, with digits enough to keep apart what was apart. ok is false
// if the text gives a deviation too, which is not converted.
func (q Quantity) Imperial() (text string, ok bool) {
	if m := inOneUnit.FindStringSubmatch(q.Text); m != nil {
		if to, ok := imperial[q.Unit][strings.TrimSpace(m[2])]; ok {
			return Trimmed(q.Value/Size(to.symbol), len(m[1])+to.decimals) + " " + strings.TrimSuffix(to.symbol, "f") + m[3], true
		}
	}
	return q.Text, imperial[q.Unit] == nil || !strings.Contains(q.Text, "±")
}

// imperial has, by SI unit and the metric one that was written, what is written instead
// and with how many more decimals. A load is written as what hangs there.
var imperial = map[string]map[string]struct {
	symbol   string
	decimals int
}{
	"m":  {"mm": {"in", 2}, "cm": {"in", 1}, "m": {"ft", 0}},
	"kg": {"g": {"oz", 2}, "kg": {"lb", 1}},
	"N":  {"g": {"ozf", 2}, "kg": {"lbf", 1}},
}
