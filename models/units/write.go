package units

import "fmt"

// Trimmed prints v with at most so many decimals and no zeros at the end.
func Trimmed(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, v)
	if decimals > 0 {
		for s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		if s[len(s)-1] == '.' {
			s = s[:len(s)-1]
		}
	}
	if s == "-0" {
		return "0"
	}
	return s
}
