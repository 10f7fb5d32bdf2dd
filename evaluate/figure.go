package evaluate

// Method names the formulas behind the figures. It changes whenever a figure
// of an unchanged spec could.
const Method = "rod/3"

// Figure is one number worked out from a spec.
type Figure struct {
	Key   string  // stable, "test-curve"
	Value float64 // in Unit
	Unit  string  // SI: "kg", "m", "N", "Hz", "rad", "1" ...
	Error float64 // bound on the numerical error, in Unit; 0 where the figure is exact
	Aside Note    // what is to be said with its sentence

	// Tolerance is how far rods built to the spec scatter: one standard
	// deviation, in Unit; 0 where nothing makes the figure scatter, NaN where
	// that is not known. It means something with Figures.Tolerances only.
	Tolerance float64
	// Sampled says that the figure follows what it scatters with in anything but
	// a straight line, so that its tolerance was sampled.
	Sampled bool
	// Weakest says what gives at a load limit; other figures have none.
	Weakest Weakest
}

// Weakest is what of a blank fails first, and where.
type Weakest struct {
	By Failure // "" where nothing is to fail
	At float64 // m from the tip
}

// Figures are the numbers of one spec, in the order they are shown.
type Figures struct {
	Method string // names the formulas; changes when a figure of an unchanged spec could
	List   []Figure
	Notes  []Note // stop nothing; must be shown with the figures

	// Tolerances gives what those of the figures come from, nil where that cannot be
	// had any more. It is nil itself where they were not worked out.
	Tolerances func() *Tolerances
	Wants      []float64 // with them, by want of the spec: the share of rods that meet it, NaN where not known
}

// Get gives the figure of that key; ok is false where the spec has none.
func (f *Figures) Get(key string) (fig Figure, ok bool) {
	for _, fig := range f.List {
		if fig.Key == key {
			return fig, true
		}
	}
	return Figure{}, false
}

// Tolerances are what the tolerances of figures come from.
type Tolerances struct {
	Inputs  []Input
	Tapers  []Taper            // of the sections
	Spreads map[string]*Spread // by the figure's key; none of a figure that is exact or of which it is not known
}
