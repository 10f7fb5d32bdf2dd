package models_test

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"rodlore/models"
)

// TestLineClassesAgainstTheStandard holds the masses against the standard's table in
// grams, the first 30 ft without the tip (AFTM standard, 1961, as printed for anglers
// in metric units), and against its limits in grains: each class within its own and
// in none of the others.
func TestLineClassesAgainstTheStandard(t *testing.T) {
	const grain = 64.79891e-6
	for class, grams := range map[int]float64{3: 6.48, 4: 7.78, 5: 9.07, 7: 11.99, 8: 13.61, 9: 15.55, 10: 18.14, 11: 21.38, 12: 24.62} {
		if mass := models.ClassMass(class); math.Abs(1e3*mass-grams) > 0.006 {
			t.Errorf("class %d weighs %.3f g, not %g g", class, 1e3*mass, grams)
		}
	}
	for i, limits := range [][2]float64{
		{54, 66}, {74, 86}, {94, 106}, {114, 126}, {134, 146}, {152, 168}, {177, 193}, {202, 218}, {230, 250}, {270, 290}, {318, 342}, {368, 392},
	} {
		mass := models.ClassMass(i + 1)
		if mass < grain*limits[0] || mass > grain*limits[1] {
			t.Errorf("class %d weighs %.1f grains, which is not from %g to %g", i+1, mass/grain, limits[0], limits[1])
		}
		for _, at := range limits {
			if class := models.NearestClass(grain * at); class != i+1 {
				t.Errorf("%g grains are of class %d, not %d", at, class, i+1)
			}
		}
	}
}

func TestLineClassRefused(t *testing.T) {
	good, err := os.ReadFile("testdata/good/skerry-10.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ reel, line, want string }{
		{"reel: fixed-spool", "line: {class: 5}", `line.class: is of a fly line; leave it out, or write reel: fly`},
		{"reel: fly", "line: {class: 5}", `casts: does not go with a class of line`},
		{"reel: fly", "line: {class: 16}", `line.class: "16" is not a whole number from 1 to 15`},
		{"reel: fly", "line: {class: five}", `line.class: "five" is not a whole number from 1 to 15`},
	} {
		spec := reelLine.ReplaceAllString(lineLine.ReplaceAllString(string(good), tt.line), tt.reel)
		_, err := models.ParseModel("rill-7.yaml", []byte(spec))
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s, %s: %v", tt.reel, tt.line, err)
		}
	}
}

var reelLine, lineLine = regexp.MustCompile(`(?m)^reel:.*$`), regexp.MustCompile(`(?m)^line:.*$`)
