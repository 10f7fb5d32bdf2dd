package laminate_test

import (
	"fmt"
	"math"

	"rodlore/evaluate/laminate"
)

// A butt section of one scrim wrap inside and five and a half wraps of carbon
// along the rod, looked at where the mandrel is 11 mm.
func ExampleRoll() {
	carbon := laminate.Lamina{E1: 126e9, E2: 11e9, G12: 6.6e9, Nu12: 0.28,
		Density: 1580, Thickness: 0.15e-3,
		StrainCompression: 0.01175, StrainTension: 0.0138}
	scrim := laminate.Lamina{E1: 45.6e9, E2: 16.2e9, G12: 5.83e9, Nu12: 0.278,
		Density: 2000, Thickness: 0.05e-3,
		StrainCompression: 0.01754, StrainTension: 0.02807}

	hoop, err := scrim.Ply(math.Pi / 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	along, err := carbon.Ply(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	plies := []laminate.Ply{hoop, along} // made once, then rolled at every station
	plies[0].Wraps, plies[1].Wraps = 1, 5.5
	s, err := laminate.Roll(11e-3, plies)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("outside %.2f mm, wall %.3f mm, %.1f g/m\n", s.Outside*1e3, s.Wall*1e3, s.Mu*1e3)
	fmt.Printf("EI %.1f N·m², equal to %.1f GPa throughout\n", s.EI, s.Modulus/1e9)
	fmt.Printf("first fibres fail at %.2f %% compression of the outer fibre\n", s.AllowCompression*100)
	fmt.Printf("flattens at %.0f N·m\n", laminate.Brazier((s.Inside+s.Wall)/2, s.Wall, s.Modulus, s.HoopModulus))
	// Output:
	// outside 12.75 mm, wall 0.875 mm, 52.3 g/m
	// EI 70.0 N·m², equal to 121.1 GPa throughout
	// first fibres fail at 1.18 % compression of the outer fibre
	// flattens at 196 N·m
}
