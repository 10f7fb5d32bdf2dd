package catalogue

import (
	"errors"
	"fmt"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// Note is something to tell a person, as values. Its Args may be sights and of the
// types below besides.
type Note = evaluate.Note

type (
	// FigureName is the key of a figure that is named.
	FigureName string
	// RodNumber is what a rod goes by, such as a serial number.
	RodNumber string
	// StepLimit is how much of a sight one release allows.
	StepLimit diffing.Sight
	// Deviations is a number of standard deviations.
	Deviations float64
)

func note(key string, pairs ...any) Note { return evaluate.NewNote(key, pairs...) }

// plain is a Note of a text that stands for itself, such as an error's.
func plain(text string) Note { return note("notes.plain", "text", text) }

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

// FirstFault is the first of several faults, or else the error itself.
func FirstFault(err error) error {
	var faults models.Faults
	if errors.As(err, &faults) {
		return faults[0]
	}
	return err
}
