package beam_test

import (
	"fmt"
	"testing"
)

// swing is a case of modes.json, by DOP853 shooting and a finite element
// method of another kind.
type swing struct {
	Rod          string     `json:"rod"`
	Rings        bool       `json:"rings"`
	BlankMass    float64    `json:"blank_mass_kg"`
	Mass         float64    `json:"total_mass_kg"`
	Balance      float64    `json:"balance_m"`
	Inertia      float64    `json:"inertia_about_butt_kgm2"`
	Frequencies  [3]float64 `json:"frequencies_Hz"`
	CalculiX     [3]float64 `json:"calculix_Hz"`
	TipStiffness float64    `json:"tip_stiffness_Npm"`
	ModalMass    float64    `json:"modal_mass_kg"`
	WithTenGrams float64    `json:"first_Hz_with_10_g_at_tip"`
}

func TestTaperedRodsSwing(t *testing.T) {
	rods := readJSON[map[string]referenceRod](t, "rods.json")
	for _, c := range readJSON[[]swing](t, "modes.json") {
		t.Run(fmt.Sprintf("%s rings %v", c.Rod, c.Rings), func(t *testing.T) {
			rod := rods[c.Rod].mesh(t, c.Rings, 60)
			const digits = 1e-9 // the reference gives ten or eleven
			within(t, "mass", rod.Mass(), c.Mass, digits*c.Mass)
			within(t, "balance", rod.Balance(), c.Balance, digits*c.Balance)
			within(t, "inertia", rod.Inertia(0), c.Inertia, digits*c.Inertia)
			within(t, "tip stiffness", rod.TipStiffness(), c.TipStiffness, 1e-7*c.TipStiffness)
			modes, err := rod.Modes(3)
			if err != nil {
				t.Fatal(err)
			}
			trust := [3]float64{1e-8, 1e-7, 1e-7} // of the reference, mode by mode
			for i, f := range c.Frequencies {
				within(t, fmt.Sprintf("frequency %d", i+1), modes[i].Frequency, f, trust[i]*f)
				within(t, fmt.Sprintf("frequency %d, CalculiX", i+1), modes[i].Frequency, c.CalculiX[i], 1.4e-4*f)
			}
			within(t, "modal mass", modes[0].ModalMass, c.ModalMass, 1e-7*c.ModalMass)
			heavier := rods[c.Rod]
			heavier.TipExtra = 0.010
			modes, err = heavier.mesh(t, c.Rings, 60).Modes(1)
			if err != nil {
				t.Fatal(err)
			}
			within(t, "first frequency with 10 g at the tip", modes[0].Frequency, c.WithTenGrams, 1e-8*c.WithTenGrams)
		})
	}
}
