package figures

import "math"

// Kind is what holds of a figure whatever the rod.
type Kind struct {
	Key      string // stable, "test-curve"
	Unit     string // SI; "1" for counts, shares and multiples, "currency" for money
	Short    string // its name in tables
	Sentence string // around the value, which stands where %s is

	Better  Direction
	Exact   bool // counted or given, and no matter of how well anything is known
	Summed  bool // exact but for the rounding of a long sum
	Compose Composition
	Written manner
	In      List
	Noticed Noticed
}

// Direction is which way of a figure is better.
type Direction int

const (
	Less    Direction = -1
	Neither Direction = 0
	More    Direction = 1
)

// Composition makes a figure of its parts; nil makes it of itself. A figure that
// is the worst of several numbers has kinks where another becomes the worst, and
// so no derivative to work out a tolerance from; its parts follow what the rod
// is made of smoothly. Where slopes is not nil it is filled with the derivatives by
// the parts.
type Composition func(parts, slopes []float64) float64

// List is a choice of figures for one place, and a set of such.
type List uint

const (
	Main     List = 1 << iota // what a maker looks at first: they stand for the whole rod
	First                     // those, and a few more that say most of a rod
	Compared                  // that tell revisions apart, with the load that can be compared
	Trade                     // by which the trade knows a rod, with the load that it names
	Overview                  // that stand in one line for a rod among others
	Constant                  // of which it is worth telling that they stayed
	Aim                       // to improve first where nothing else is asked for
	Read                      // that a workshop reads off a rod at the bench
	Own                       // the workshop's own: costs, and estimates that a customer might take for a promise
)

// Every is the list of all figures.
const Every List = 0

// Noticed is how much of a change an angler notices: a share of the figure or so
// much, in its unit. Where both are zero, any change is noticed.
type Noticed struct{ Share, Absolute float64 }

// Of is the least change that is noticed of a figure of that value, in its unit.
func (n Noticed) Of(value float64) float64 { return max(n.Share*math.Abs(value), n.Absolute) }

// manner is how a figure is written, where its unit alone does not say.
type manner int

const (
	byUnit manner = iota
	count
	multiple
	work
	inPounds      // the trade names it so, whatever else it measures in
	inMillimetres // the same (common practice, no source)
)

// All lists every figure in the order in which they are shown.
func All() []Kind { return table }

// Of is the figure of that key. One that is not in the table has no unit and is
// called by its key.
func Of(key string) Kind {
	if k, ok := Get(key); ok {
		return k
	}
	return Kind{Key: key, Short: key}
}

// Get is Of where the table has the figure; ok is false otherwise.
func Get(key string) (k Kind, ok bool) {
	i, ok := index[key]
	if !ok {
		return Kind{}, false
	}
	return table[i], true
}

var index = func() map[string]int {
	m := make(map[string]int, len(table))
	for i, k := range table {
		m[k.Key] = i
	}
	return m
}()

// Keys lists the keys of the figures in a list, or in one of several, in the order
// of the table.
func Keys(in List) []string {
	var keys []string
	for _, k := range table {
		if in == Every || k.In&in != 0 {
			keys = append(keys, k.Key)
		}
	}
	return keys
}

// Short is what a figure is called in a table.
func Short(key string) string { return Of(key).Short }
