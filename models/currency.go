package models

import "strings"

// CheckPrices checks that no price of parts names another currency than the
// range's: prices are added up as they stand. The error, if any, is a Faults.
func (s *Settings) CheckPrices(parts *Parts) error {
	var doc document
	for _, p := range parts.All {
		fields := strings.Fields(p.Price.Text)
		if len(fields) == 2 && fields[1] != s.Currency.Text {
			doc.fault(p.Price.Pos, partPathInFile(p)+".price", "%q is not in %s, the currency of the range", p.Price.Text, s.Currency)
		}
	}
	return doc.faults.err()
}
