package models

// Fault is one thing wrong in one file.
type Fault struct {
	Pos  Pos
	Path string // "sections[tip].tube[at 0 mm].wall"; "" where the file did not parse
	Msg  string // lower case, no full stop: what was written, what was expected
}

// Error gives file:line:col: path: message.
func (f *Fault) Error() string { panic("not yet") }

// Faults is every fault found, by position. It is never empty when returned.
type Faults []*Fault

// Error gives every fault, one a line.
func (fs Faults) Error() string { panic("not yet") }
