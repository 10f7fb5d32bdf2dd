package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"rodlore/catalogue/pages/screen"
	"rodlore/models"
	"rodlore/models/units"
)

// Everything that goes wrong is told here and nowhere else: on standard error,
// a line each, after "rodlore: ", in lower case and without a full stop.
// Faults in files stand without the prefix, as file:line:col: path: message,
// so that an editor can jump to them.

// Exit codes.
const (
	exitFine  = 0
	exitNo    = 1 // the answer is no, or there is none: faults, not found, nothing to save
	exitUsage = 2 // the command line cannot be understood

	exitInterrupted = 130 // Ctrl-C: 128 and the number of the signal, as shells have it
)

// usageError is an error in the command line itself.
type usageError struct{ error }

func (e usageError) Unwrap() error { return e.error }

// misuse makes an error of what is wrong with the command line.
func misuse(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// optionError is an error in what was given for an option.
type optionError struct {
	error
	option string // or modelArgument
	prefix string // that a command line is told of it by: "--length: "
}

// modelArgument stands for the argument that names a model, as forms have it.
const modelArgument = screen.RodKey

func (e optionError) Error() string { return e.prefix + e.error.Error() }
func (e optionError) Unwrap() error { return e.error }

// misuseOf makes an error of what is wrong with the value of an option.
func misuseOf(option, format string, args ...any) error {
	return usageError{optionError{fmt.Errorf(format, args...), option, "--" + option + ": "}}
}

// about says which option an error that is told as such is about, if it is any.
func about(option string, err error) error {
	if err == nil {
		return nil
	}
	return optionError{err, option, ""}
}

// quantity reads the value of an option, SI.
func quantity[U ~float64](option, text string) (float64, error) {
	v, err := units.ParseAs[U](text)
	if err != nil {
		return 0, misuseOf(option, "%w", err)
	}
	return float64(v), nil
}

// readInto reads the value of an option into a number, SI.
func readInto[U ~float64](option, text string, into *float64) (err error) {
	*into, err = quantity[U](option, text)
	return err
}

// answer tells an error, if any, and gives the exit code.
func (p *program) answer(err error) int {
	var faults models.Faults
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, errNo):
		return exitNo
	case errors.As(err, &faults):
		p.tellFaults(faults)
	default:
		for line := range strings.Lines(withDeed(err)) {
			p.complain(strings.TrimRight(line, "\n"))
		}
	}
	if errors.As(err, new(usageError)) {
		return exitUsage
	}
	return exitNo
}

func (p *program) complain(line string) { fmt.Fprintln(p.err, "rodlore: "+line) }

// remark tells what could not be read of a range, under whatever was printed:
// it may be why something is missing there. A command that works out several
// rods tells it once.
func (p *program) remark(notes []error) {
	if p.remarked {
		return
	}
	p.remarked = true
	for _, n := range notes {
		p.complain("note: " + n.Error())
	}
}

// tellFaults lists faults that kept a command from being carried out.
func (p *program) tellFaults(faults models.Faults) {
	for _, f := range faults {
		fmt.Fprintln(p.err, p.placed(f))
	}
	p.complain("nothing done: " + count(len(faults), "fault") + " to put right first")
}

// placed gives a fault whose file is named from where the run started, for the
// reader's editor, and not from the folder of the range.
func (p *program) placed(f *models.Fault) *models.Fault {
	if p.root == "" || f.Pos.File == "" || filepath.IsAbs(f.Pos.File) {
		return f
	}
	start, err := filepath.Abs(".")
	if err != nil {
		return f
	}
	file, err := filepath.Rel(start, filepath.Join(p.root, filepath.FromSlash(f.Pos.File)))
	if err != nil {
		return f
	}
	moved := *f
	moved.Pos.File = filepath.ToSlash(file)
	return &moved
}

// count writes a number of things: "1 fault", "3 faults".
func count(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}
