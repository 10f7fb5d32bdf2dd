package beam_test

import (
	"errors"
	"fmt"
	"log"
	"math"

	"rodlore/evaluate/beam"
)

// sample is a tube of carbon and epoxy, 3.6 m beyond the hold: diameter and wall
// fall evenly from the clamp to the tip. Two rings stand on it.
func sample() *beam.Rod {
	outside := func(s float64) float64 { return 0.014 - 0.0118*s/3.6 } // m
	wall := func(s float64) float64 { return 0.0012 - 0.0007*s/3.6 }   // m
	rod, err := beam.NewRod(
		[]beam.Piece{{
			To: 3.6,
			EI: func(s float64) float64 {
				d, w := outside(s), wall(s)
				return 110e9 * math.Pi / 64 * (math.Pow(d, 4) - math.Pow(d-2*w, 4))
			},
			Mu: func(s float64) float64 { return 1550 * math.Pi * wall(s) * (outside(s) - wall(s)) },
		}},
		[]beam.PointMass{{S: 1.19, Mass: 0.022, Offset: 0.02}, {S: 3.6, Mass: 0.002, Offset: 0.006}},
		60)
	if err != nil {
		log.Fatal(err)
	}
	return rod
}

// A load of 2 N hung from the tip.
func Example() {
	rod := sample()
	bend, err := beam.NewSolver(rod).Bend(beam.Load{Force: 2, Direction: math.Pi / 2, Weight: true})
	if err != nil {
		log.Fatal(err)
	}
	tip := bend.Tip()
	fmt.Printf("2 N lower the tip by %.3f m and turn it by %.1f°\n", tip.Y, tip.Turn*180/math.Pi)
	// Output: 2 N lower the tip by 1.118 m and turn it by 60.7°
}

func ExampleRod_Modes() {
	modes, err := sample().Modes(2)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("it swings at %.2f and %.2f Hz\n", modes[0].Frequency, modes[1].Frequency)
	// Output: it swings at 2.26 and 6.02 Hz
}

// The error of a force is what refining the mesh changes it by.
func ExampleSolver_StartFrom() {
	coarse := sample()
	square := beam.Load{Direction: math.Pi / 2, Weight: true}
	rough, err := beam.NewSolver(coarse).BendToTurn(square, 85*math.Pi/180)
	if err != nil {
		log.Fatal(err)
	}
	fine := beam.NewSolver(coarse.Refined())
	fine.StartFrom(rough)
	bend, err := fine.BendToTurn(square, 85*math.Pi/180)
	if err != nil {
		log.Fatal(err)
	}
	change := math.Abs(bend.Load.Force - rough.Load.Force)
	fmt.Printf("%.4f N to turn the tip by 85°, good to 0.0001 N: %v\n", bend.Load.Force, change < 1e-4)
	// Output:
	// 6.5003 N to turn the tip by 85°, good to 0.0001 N: true
}

// No force square to the butt turns the tip square to it.
func ExampleSolver_BendToTurn() {
	_, err := beam.NewSolver(sample()).BendToTurn(beam.Load{Direction: math.Pi / 2}, math.Pi/2)
	fmt.Println(errors.Is(err, beam.ErrNoSuchLoad))
	// Output:
	// true
}

// The same rod with the line through two rings below it.
func ExampleSolver_BendLine() {
	bend, err := beam.NewSolver(sample()).BendLine(beam.Line{
		Tension: 4, Direction: math.Pi / 2,
		Reel:  beam.LineRing{S: -0.15, Offset: 0.06},
		Rings: []beam.LineRing{{S: 1.19, Offset: 0.02}, {S: 3.6, Offset: 0.006}},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("The rings bear %.2f and %.2f N.\n", bend.Rings[0].Force, bend.Rings[1].Force)
	// Output: The rings bear 2.84 and 3.15 N.
}
