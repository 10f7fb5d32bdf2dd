package evaluate

// Note is something to tell a person, as values. Package say has the sentence at
// its Key, and fills it in with the Args.
type Note struct {
	Figure string // the key of the figure that it is about; "" where of no one figure
	Key    string // "" where there is nothing to tell
	Args   Args
}

// Args are values by the names that a sentence has for them: texts as somebody
// wrote them, whole numbers, errors, Notes, lists of texts and of Notes, and the
// types below.
type Args map[string]any

type (
	// Quantity is a value of a figure, or of something else where Key is "", with
	// its standard deviation where that is told, else 0.
	Quantity struct {
		Key, Unit        string // Unit is SI
		Value, Deviation float64
	}
	// Thickness is a diameter or a wall, m, told finer than what lies along a rod.
	Thickness float64
)

// NewNote makes a Note of its key and of names and values in turn.
func NewNote(key string, pairs ...any) Note {
	n := Note{Key: key, Args: Args{}}
	for i := 0; i < len(pairs); i += 2 {
		n.Args[pairs[i].(string)] = pairs[i+1]
	}
	return n
}

// on is the note as one on a figure.
func (n Note) on(figure string) Note {
	n.Figure = figure
	return n
}

// quantity is a value that is that of no figure, in its SI unit.
func quantity[U ~float64](unit string, v U) Quantity { return Quantity{Unit: unit, Value: float64(v)} }
