package evaluate

// Method names the formulas behind the figures. It changes whenever a figure
// of an unchanged spec could.
const Method = "rod/1"

// name is what a figure is called and how it is told.
type name struct {
	Key   string
	Unit  string // SI
	Short string // for tables
	// Text is the sentence around the value. The value stands where %s is.
	Text string
}

// names lists the figures in the order they are shown: what a maker looks at
// first stands first.
var names = []name{
	{"weight", "kg", "weight", "The finished rod weighs %s without a reel."},
	{"rings", "1", "rings", "It has %s rings and a tip ring."},
	{"third-load", "N", "third load", "A weight of %s hung from the tip ring lowers the tip by a third of the free length."},
	{"test-curve", "N", "test curve", "A weight of %s pulls the tip round to the turn that counts as square."},
	{"recovery", "Hz", "recovery", "Left to itself the rod swings at %s."},
	{"flat-turn", "rad", "flat turn", "Feet, whippings and joints take %s of bend out of the curve at half the test curve."},
	{"balance", "m", "balance", "It balances %s from the butt, without a reel."},
	{"balance-with-reel", "m", "balance with reel", "With its reel it balances %s from the butt."},
	{"swing", "kg·m²", "swing", "Its moment of inertia about the hand is %s: less is easier to swing."},
	{"blank-weight", "kg", "blank weight", "The bare blank weighs %s."},
	{"ring-weight", "kg", "ring weight", "The rings weigh %s before whipping."},
	{"whipping-weight", "kg", "whipping weight", "Thread and varnish weigh %s."},
	{"handle-weight", "kg", "handle weight", "Seat, grips and butt cap weigh %s."},
	{"butt-rings", "1", "butt rings", "Rings on the butt section: %s."},
	{"butt-ring-size", "m", "butt ring size", "The butt ring is %s wide inside."},
	{"butt-ring-to-reel", "m", "butt ring to reel", "The butt ring stands %s up the rod from the reel."},
	{"third-turn", "rad", "third turn", "Under the third load the tip turns by %s: more means the bend is nearer the tip."},
	{"half-turn", "1", "half turn", "Half of that turn happens in the %s of the free length nearest the tip."},
	{"tip-drop", "m", "tip drop", "Under the bench load the tip hangs %s below the line of the butt."},
	{"tip-stiffness", "N/m", "tip stiffness", "The tip resists with %s, as long as it gives way little."},
	{"second-mode", "Hz", "second mode", "Shaken, it also swings in the shape of an S, at %s: its second mode."},
	{"settle", "s", "settle", "A swing dies down to a tenth in %s."},
	{"cast-mass", "kg", "cast mass", "In a cast the rod itself counts as %s at the tip."},
	{"cast-share", "1", "cast share", "Of the energy stored in the bent rod, %s goes into a lead in the middle of what it casts."},
	{"cast-lead", "kg", "cast lead", "A lead of %s would take seven tenths of that energy along."},
	{"flat-worst", "1", "flat worst", "At the flattest spot %s of the curvature is lost."},
	{"line-gap", "m", "line gap", "Under half the test curve the line stands at most %s off the blank between two rings."},
	{"line-touch", "m", "line touch", "Under half the test curve the line lies on the blank over %s."},
	{"ring-load-worst", "N", "worst ring load", "The most loaded ring then bears what %s would weigh."},
	{"ring-turn-spread", "1", "ring turn spread", "In one running ring the line turns by %s the mean of all of them: 1 would be shared evenly."},
	{"line-angle-sum", "rad", "line angle sum", "From the spool to the tip the line of a straight rod turns through %s in all."},
	{"strain-worst", "1", "worst strain", "At the test curve the outer fibres are shortened by at most %s."},
	{"load-limit", "N", "load limit", "Pulled as for the test curve, the blank reaches its material's limit divided by the range's factor at %s. An estimate to compare revisions by, not a safe load."},
	{"parts-cost", "currency", "parts cost", "The bought parts cost %s."},
	{"bench-time", "s", "bench time", "Building it on its blank takes %s of work at the bench, without what has to cure."},
}
