package document

// Marking is a photograph that a reader chooses and marks positions on. It stays in the
// browser: its size and the positions go into fields, and what is drawn over it comes
// from Over.
type Marking struct {
	screenOnly
	Choose, Zoom string // labels
	Mark, Point  string // what positions are called, with {n}
	Over         string // places of a curve, "x,y x,y", m from the hold along the butt and down
}
