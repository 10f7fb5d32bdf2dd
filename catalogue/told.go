package catalogue

import (
	"errors"
	"fmt"

	"rodlore/diffing"
	"rodlore/models"
)

// Note is something to tell a person, as values. Package say has the sentence at
// its Key, and fills it in with the Args.
type Note struct {
	Key  string
	Args Args
}

// Args are values by the names that a sentence has for them: texts as somebody
// wrote them, whole numbers, lists of texts, errors, sights, Notes, and the types
// below.
type Args map[string]any

type (
	// FigureName is the key of a figure that is named.
	FigureName string
	// Measure is a value of a figure, with its standard deviation where that is
	// told, else 0.
	Measure struct {
		Key, Unit        string
		Value, Deviation float64
	}
	// RodNumber is what a rod goes by, such as a serial number.
	RodNumber string
	// StepLimit is how much of a sight one release allows.
	StepLimit diffing.Sight
	// Deviations is a number of standard deviations.
	Deviations float64
)

// note makes a Note of its key and of names and values in turn.
func note(key string, pairs ...any) Note {
	n := Note{Key: key, Args: Args{}}
	for i := 0; i < len(pairs); i += 2 {
		n.Args[pairs[i].(string)] = pairs[i+1]
	}
	return n
}

// Plain is a Note of a text that stands for itself, such as an error's.
func Plain(text string) Note { return note("notes.plain", "text", text) }

// Deed is something that can be done about an error. Which command does it is for
// whoever shows the error to say.
type Deed string

const (
	AddModel     Deed = "add model"      // Args: model
	SaveModel    Deed = "save model"     // model
	SaveFirst    Deed = "save first"     // model
	OrRelease    Deed = "or release"     // model; SaveFirst, or what was saved last without the edits
	ListHistory  Deed = "list history"   // model
	ListRods     Deed = "list rods"      //
	WriteDownRod Deed = "write down rod" // serial
	BringBack    Deed = "bring back"     // model, file
	MakeHistory  Deed = "make history"   // folder
	FindIgnored  Deed = "find ignored"   // file
	GiveReason   Deed = "give reason"    //
	ReleaseAny   Deed = "release any"    //
	SeeTheirs    Deed = "see theirs"     // file that others have saved meanwhile
)

// Advised is an error about which something can be done.
type Advised struct {
	error
	Do   Deed
	Args []string
}

func (a *Advised) Unwrap() error { return a.error }

// Advise adds what can be done about it to an error.
func Advise(do Deed, args []string, format string, values ...any) error {
	return &Advised{fmt.Errorf(format, values...), do, args}
}

// firstFault is the first of several faults, or else the error itself.
func firstFault(err error) error {
	var faults models.Faults
	if errors.As(err, &faults) {
		return faults[0]
	}
	return err
}
