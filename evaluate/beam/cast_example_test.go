package beam_test

import (
	"fmt"
	"log"
	"math"

	"rodlore/evaluate/beam"
)

// A cast that comes off, and one that begins too far forwards.
func ExampleRod_Cast() {
	const degree = math.Pi / 180
	cast := beam.Cast{
		Arm: 0.6, From: 180 * degree, To: 40 * degree, Time: 0.7,
		Lead: 0.06, Drop: 0.8, LineStiffness: 400, Launch: 40 * degree, Damping: 0.02,
	}
	flight, err := sample().Cast(cast)
	if err != nil {
		log.Fatal(err)
	}
	r := flight.Release
	fmt.Printf("let go after %.2f s with the butt at %.0f°\n", r.Time, r.Butt/degree)
	fmt.Printf("the lead flies at %.1f m/s with %.0f of the hand's %.0f J\n", r.Speed, r.Account.Lead, r.Account.Work)
	fmt.Printf("the butt bore %.0f N·m, the tip settles in %.0f s\n", flight.Moment.Value, flight.Swing.Settle)

	cast.From = 130 * degree
	cast.Time = 0.5
	_, err = sample().Cast(cast)
	fmt.Println(err)
	// Output:
	// let go after 0.49 s with the butt at 62°
	// the lead flies at 40.8 m/s with 50 of the hand's 63 J
	// the butt bore 42 N·m, the tip settles in 7 s
	// the lead's flight never comes down to the launch angle of 40°: at its fastest, with 34.5 m/s, it flies at 4°, so lay the butt further back or launch lower
}
