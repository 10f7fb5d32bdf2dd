package pages

import (
	"slices"

	"rodlore/models"
)

// Danger is what is said of a danger with the rod of a spec: cane neither conducts
// nor splinters as carbon does.
func Danger(s *models.Spec, danger string) string {
	if s.OfCane() && slices.Contains([]string{"dust", "power lines", "short"}, danger) {
		return "cane " + danger
	}
	return danger
}
