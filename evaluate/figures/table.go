package figures

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"rodlore/models/units"
)

var (
	mm     = units.Size("mm")
	degree = units.Size("deg")
)

// table lists the figures in the order in which they are shown: what a maker
// looks at first stands first.
//
// What an angler notices is common practice, no source: a rod in one hand
// against the one that it follows in the other, or fished for a day.
var table = []Kind{
	{
		Key: "weight", Unit: "kg", Short: "weight",
		Sentence: "It weighs %s without a reel.",
		Better:   Less, Summed: true, In: Main | First | Compared | Trade | Constant | Aim | Overview | Read, Noticed: Noticed{Share: 0.03},
	},
	{
		Key: "rings", Unit: "1", Short: "rings",
		Sentence: "It has %s rings and a tip ring.",
		Exact:    true, Written: count, In: Main | First | Compared | Trade | Overview,
	},
	{
		Key: "third-load", Unit: "N", Short: "third load",
		Sentence: "A weight of %s hung from the tip lowers it by a third of the free length.",
		In:       Main | First | Compared | Constant | Read, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "test-curve", Unit: "N", Short: "test curve",
		Sentence: "A weight of %s pulls the tip round to the turn that counts as square.",
		Written:  inPounds, In: Main | First | Trade | Overview | Read, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "recovery", Unit: "Hz", Short: "recovery",
		Sentence: "Flicked, it swings at %s: its natural frequency.",
		Better:   More, In: Main | First | Compared | Trade | Constant | Aim | Overview | Read, Noticed: Noticed{Share: 0.03},
	},
	{
		Key: "flat-turn", Unit: "rad", Short: "flat turn",
		Sentence: "Feet, whippings and joints take %s of bend out of the curve at half the test curve.",
		Better:   Less, In: Main | First | Compared | Trade | Constant | Aim, Noticed: Noticed{Absolute: 0.5 * degree},
	},
	{
		Key: "balance", Unit: "m", Short: "balance",
		Sentence: "It balances %s from the butt, without a reel.",
		Summed:   true, In: Read, Noticed: Noticed{Absolute: 10 * mm},
	},
	{
		Key: "balance-with-reel", Unit: "m", Short: "balance with reel",
		Sentence: "With its reel it balances %s from the butt.",
		Summed:   true, In: First, Noticed: Noticed{Absolute: 10 * mm},
	},
	{
		Key: "swing", Unit: "kg·m²", Short: "swing",
		Sentence: "Its moment of inertia about the hand is %s: less is easier to swing.",
		Better:   Less, Summed: true, In: First, Noticed: Noticed{Share: 0.03},
	},
	{
		Key: "blank-weight", Unit: "kg", Short: "blank weight",
		Sentence: "The bare blank weighs %s.",
		Summed:   true, Noticed: Noticed{Share: 0.03},
	},
	{
		Key: "ring-weight", Unit: "kg", Short: "ring weight",
		Sentence: "The rings weigh %s before whipping.",
		Better:   Less, Noticed: Noticed{Share: 0.1},
	},
	{
		Key: "whipping-weight", Unit: "kg", Short: "whipping weight",
		Sentence: "Thread and varnish weigh %s.",
		Better:   Less, Summed: true, Noticed: Noticed{Share: 0.2},
	},
	{
		Key: "handle-weight", Unit: "kg", Short: "handle weight",
		Sentence: "Seat, grips and butt cap weigh %s.",
		Summed:   true, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "butt-rings", Unit: "1", Short: "butt rings",
		Sentence: "Rings on the butt section: %s.",
		Exact:    true, Written: count,
	},
	{
		Key: "butt-ring-size", Unit: "m", Short: "butt ring size",
		Sentence: "The butt ring is %s wide inside.",
		Exact:    true, Written: inMillimetres, Noticed: Noticed{Absolute: 1 * mm},
	},
	{
		Key: "butt-ring-to-reel", Unit: "m", Short: "butt ring to reel",
		Sentence: "The butt ring stands %s up the rod from the reel.",
		Noticed:  Noticed{Absolute: 10 * mm},
	},
	{
		Key: "third-turn", Unit: "rad", Short: "third turn",
		Sentence: "Under the third load the tip turns by %s: more means the bend is nearer the tip.",
		Noticed:  Noticed{Absolute: 2 * degree},
	},
	{
		Key: "half-turn", Unit: "1", Short: "half turn",
		Sentence: "Half of that turn happens in the %s of the free length nearest the tip.",
		Noticed:  Noticed{Absolute: 0.01},
	},
	{
		Key: "tip-drop", Unit: "m", Short: "tip deflection",
		Sentence: "Under the bench load the tip hangs %s below the line of the butt.",
		In:       Read, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "tip-stiffness", Unit: "N/m", Short: "tip stiffness",
		Sentence: "The tip resists small pulls with %s.",
		Noticed:  Noticed{Share: 0.05},
	},
	{
		Key: "second-mode", Unit: "Hz", Short: "second mode",
		Sentence: "Shaken, it also swings in the shape of an S, at %s: its second mode.",
		Better:   More, Noticed: Noticed{Share: 0.03},
	},
	{
		Key: "settle", Unit: "s", Short: "settle",
		Sentence: "A swing dies down to a tenth in %s.",
		Better:   Less, Compose: settleTime, In: First | Read, Noticed: Noticed{Share: 0.1},
	},
	{
		Key: "cast-mass", Unit: "kg", Short: "cast mass",
		Sentence: "In a cast the rod itself counts as %s at the tip.",
		Better:   Less, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "cast-share", Unit: "1", Short: "cast share",
		Sentence: "Of the energy stored in the bent rod, %s goes into a weight in the middle of what it casts.",
		Better:   More, Noticed: Noticed{Absolute: 0.02},
	},
	{
		Key: "cast-lead", Unit: "kg", Short: "cast lead",
		Sentence: "A weight of %s would receive seven tenths of that energy.",
		In:       Own, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "line-share", Unit: "1", Short: "line share",
		Sentence: "Of the energy stored in the bent rod, %s goes into the fly line in the air.",
		Better:   More, Noticed: Noticed{Absolute: 0.02},
	},
	{
		Key: "cast-line", Unit: "kg", Short: "cast line",
		Sentence: "A fly line of %s in the air would receive seven tenths of that energy.",
		In:       Own, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "flat-worst", Unit: "1", Short: "flat worst",
		Sentence: "At the flattest spot %s of the curvature is lost.",
		Better:   Less, Compose: largest, Noticed: Noticed{Absolute: 0.05},
	},
	{
		Key: "line-gap", Unit: "m", Short: "line gap",
		Sentence: "Under half the test curve the line stands at most %s off the blank between two rings.",
		Better:   Less, Compose: largest, Noticed: Noticed{Absolute: 2 * mm},
	},
	{
		Key: "line-touch", Unit: "m", Short: "line touch",
		Sentence: "Under half the test curve the line lies on the blank over %s.",
		Better:   Less, Noticed: Noticed{Absolute: 20 * mm},
	},
	{
		Key: "ring-load-worst", Unit: "N", Short: "worst ring load",
		Sentence: "The most loaded ring then bears what %s would weigh.",
		Better:   Less, Compose: largest, Noticed: Noticed{Share: 0.1},
	},
	{
		Key: "ring-turn-spread", Unit: "1", Short: "ring turn spread",
		Sentence: "One running ring turns the line by %s the mean of all of them: at 1 they share it evenly.",
		Better:   Less, Compose: unevenness, Written: multiple, Noticed: Noticed{Absolute: 0.1},
	},
	{
		Key: "line-angle-sum", Unit: "rad", Short: "line angle sum",
		Sentence: "From the spool to the tip the line of a straight rod turns through %s in all.",
		Better:   Less, Noticed: Noticed{Absolute: 2 * degree},
	},
	{
		Key: "strain-worst", Unit: "1", Short: "worst strain",
		Sentence: "At the test curve the outer fibres are shortened by at most %s.",
		Better:   Less, Compose: largest, In: Own, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "load-limit", Unit: "N", Short: "load limit",
		Sentence: "Pulled as for the test curve, the blank reaches the limit of its material or of its wall, divided by the range's factor, at %s. An estimate to compare revisions by, not a safe load.",
		Better:   More, Compose: smallest, In: Own, Noticed: Noticed{Share: 0.05},
	},
	{
		Key: "parts-cost", Unit: "currency", Short: "parts cost",
		Sentence: "The bought parts cost %s.",
		Better:   Less, Exact: true, In: First | Own, Noticed: Noticed{Share: 0.02},
	},
	{
		Key: "bench-time", Unit: "s", Short: "bench time",
		Sentence: "Building it on its blank takes %s of work at the bench, not counting the time to cure.",
		Better:   Less, Exact: true, Written: work, In: Own, Noticed: Noticed{Share: 0.05},
	},
}

// settleTime is the time in which a swing dies down to a tenth: free decay goes
// as exp(−ζωt). Its parts are the frequency, Hz, and the share ζ of critical
// damping.
func settleTime(parts, slopes []float64) float64 {
	frequency, damping := parts[0], parts[1]
	time := math.Ln10 / (damping * 2 * math.Pi * frequency)
	if slopes != nil {
		slopes[0], slopes[1] = -time/frequency, -time/damping
	}
	return time
}

var largest, smallest = extreme(slices.Max[[]float64]), extreme(slices.Min[[]float64])

// extreme is the largest or the smallest part. Of two that are so together each has
// half of the slope.
func extreme(of func([]float64) float64) Composition {
	return func(parts, slopes []float64) float64 {
		found, n := of(parts), 0.0
		for j := range slopes {
			slopes[j] = 0
			if parts[j] == found {
				slopes[j] = 1
				n++
			}
		}
		floats.Scale(1/n, slopes)
		return found
	}
}

// unevenness is the largest over the mean.
func unevenness(v, slopes []float64) float64 {
	mean := floats.Sum(v) / float64(len(v))
	share := largest(v, slopes) / mean
	for j := range slopes {
		slopes[j] = (slopes[j] - share/float64(len(v))) / mean
	}
	return share
}
