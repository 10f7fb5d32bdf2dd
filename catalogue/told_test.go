package catalogue

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// told writes a note with its values: "notes.left out rod=0202 why=…".
func told(n Note) string {
	text := n.Key
	for _, name := range slices.Sorted(maps.Keys(n.Args)) {
		text += " " + name + "=" + toldValue(n.Args[name])
	}
	return text
}

func toldValue(value any) string {
	switch v := value.(type) {
	case Note:
		return "{" + told(v) + "}"
	case []string:
		return strings.Join(v, ", ")
	case evaluate.Quantity:
		return figures.Display{}.WithTolerance(v.Key, v.Unit, v.Value, v.Deviation)
	case Deviations:
		return fmt.Sprintf("%.1f", float64(v))
	case evaluate.Wanted:
		return fmt.Sprint(v.Share)
	case diffing.Sight:
		return fmt.Sprintf("%s %+g", v.Aspect, v.Size)
	case StepLimit:
		return fmt.Sprint(v.Limit)
	}
	return fmt.Sprint(value)
}
