package models_test

import (
	"strings"
	"testing"

	"rodlore/models"
)

const boughtSpec = `name: Gull 9
reel: fixed-spool
length: 1830 mm
sections:
  - name: whole
    length: 1830 mm
    bought:
      mass: 60 g
      outside: [{at: 0 mm, is: 2.2 mm}, {at: 900 mm, is: 6 mm}, {at: 1830 mm, is: 11 mm}]
      material: carbon
      price: 62.00
blank:
  mass: 60 g
  label test curve: 1.5 lb
  held: {to: 180 mm}
  measured:
    - {drop: 412 mm ± 3 mm, load: 200 g}
rings:
  - {at: 0 mm, part: tip-6}
handle:
  seat: {at: 300 mm from butt, part: seat-16}
`

func TestBought(t *testing.T) {
	m, err := models.ParseModel("gull.yaml", []byte(boughtSpec))
	if err != nil {
		t.Fatal(err)
	}
	b := m.Sections[0].Bought
	if b == nil || len(b.Outside) != 3 || b.Material != models.CarbonFamily || b.Mass.Value != 0.06 {
		t.Errorf("read as %+v", b)
	}
	if len(m.Blank.Measured) != 1 || m.Blank.Measured[0].Deviation != 0.003 || m.Blank.HeldTo(1.83) != 0.18 {
		t.Errorf("blank read as %+v", m.Blank)
	}
}

func TestBoughtFaults(t *testing.T) {
	tests := []struct{ name, old, with, want string }{
		{"a mass that no wall can give", "mass: 60 g\n      outside", "mass: 160 g\n      outside",
			`gull.yaml:8:13: sections[whole].bought.mass: "160 g" is more than solid carbon of that outside weighs, `},
		{"too light for any wall", "mass: 60 g\n      outside", "mass: 8 g\n      outside",
			`gull.yaml:8:13: sections[whole].bought.mass: "8 g" is less than carbon of that outside weighs with a wall of 0.2 mm, `},
		{"a tip thicker than the butt", "is: 11 mm", "is: 5 mm",
			`gull.yaml:9:83: sections[whole].bought.outside[at 1830 mm].is: "5 mm" is less than "6 mm" nearer the tip; stations run from the thin end to the thick one`},
		{"one diameter only", "[{at: 0 mm, is: 2.2 mm}, {at: 900 mm, is: 6 mm}, {at: 1830 mm, is: 11 mm}]", "[{at: 0 mm, is: 2.2 mm}]",
			`gull.yaml:9:22: sections[whole].bought.outside: one diameter says nothing of the taper; expected two at least, one at either end`},
		{"a label in other units", "1.5 lb", "1.5 kN", `gull.yaml:14:21: blank.label test curve: "1.5 kN"`},
		{"a material that bounds nothing", "material: carbon", "material: graphene",
			`gull.yaml:10:17: sections[whole].bought.material: "graphene" is unknown; expected carbon, glass or cane`},
		{"a blank that its sections do not add up to", "blank:\n  mass: 60 g", "blank:\n  mass: 66 g",
			`gull.yaml:13:9: blank.mass: "66 g" is not what its sections weigh together, 60.0 g`},
		{"a section that is not there", "load: 200 g}", "load: 200 g}\n    - {weight: 30 g, section: tip}",
			`gull.yaml:18:31: blank.measured[2].section: there is no section "tip"`},
		{"a blank that was not bought", "    bought:\n      mass: 60 g\n      outside: [{at: 0 mm, is: 2.2 mm}, {at: 900 mm, is: 6 mm}, {at: 1830 mm, is: 11 mm}]\n      material: carbon\n      price: 62.00\n",
			"    tube: [{at: 0 mm, outside: 2 mm, wall: 0.5 mm}, {at: 1830 mm, outside: 11 mm, wall: 1 mm}]\n    material: carbon\n",
			`gull.yaml:10:3: blank: tells of a bought blank, and no section is bought: what was measured of a rod goes into a file of bench/`},
		{"two ways at once", "    bought:", "    stiffness: [{at: 0 mm, ei: 0.05 N·m2, mass: 9 g/m, outside: 2.0 mm}]\n    bought:",
			"gull.yaml:5:5: sections[whole]: is made in 2 ways; expected one of tube, hexagon, solid, rolled, bought or stiffness"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if !strings.Contains(boughtSpec, test.old) {
				t.Fatalf("the spec has no %q", test.old)
			}
			_, err := models.ParseModel("gull.yaml", []byte(strings.Replace(boughtSpec, test.old, test.with, 1)))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("got\n%v\nwant\n%s", err, test.want)
			}
		})
	}
}
