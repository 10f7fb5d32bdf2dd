package models

import "rodlore/models/units"

// Builds is the content of a file of builds/: the rods built in one year, and
// what was mended in it.
type Builds struct {
	Built   []BuiltRod
	Repairs []Repair
}

// BuiltRod is a rod as it left the workshop. Nothing says who bought it.
type BuiltRod struct {
	Pos       Pos
	Serial    Word
	Model     Word // "skerry-10"
	Release   Word // the label, or the first characters of a revision's identity
	Top       Word // another top that is on it; "" for the main one
	Date      Date
	Weight    Given[units.Mass]  // unset where it was not weighed
	TestCurve Given[units.Force] // by the maker's own eye; unset where it was not pulled
	Blank     Word               // what the blank's maker or the workshop calls the batch
	Notes     Word
}

// Repair is work on a rod that was built in that or an earlier year.
type Repair struct {
	Pos     Pos
	Serial  Word
	Date    Date
	Done    Word
	Section Word              // "" for the whole rod, or where it does not matter
	Weight  Given[units.Mass] // of the rod afterwards; unset where it was not weighed
}

// Heard is the content of a file of heard/: what customers said of one model.
type Heard struct {
	File    string
	Remarks []Remark
}

// Remark is what somebody said of one revision.
type Remark struct {
	Pos     Pos
	Release Word // the label, or the first characters of a revision's identity
	Date    Date
	Said    Word
	Show    bool                // whether customers may read it
	Cast    Given[units.Length] // how far; unset where it is not of one cast
}

// ParseBuilds reads a file of builds/; see ParseModel. An empty src is a year
// without rods.
func ParseBuilds(file string, src []byte) (*Builds, error) {
	return parse(&Builds{}, file, src, &buildsTable)
}

// ParseHeard reads a file of heard/; see ParseModel. An empty src is a model of
// which nothing was said.
func ParseHeard(file string, src []byte) (*Heard, error) {
	return parse(&Heard{File: file}, file, src, &heardTable)
}

var buildsTable = table[Builds]{
	example: "the keys built and repairs",
	keys: []key[Builds]{
		{"built", optional, list(func(b *Builds) *[]BuiltRod { return &b.Built }, &builtRodTable)},
		{"repairs", optional, list(func(b *Builds) *[]Repair { return &b.Repairs }, &repairTable)},
	},
}

var builtRodTable = table[BuiltRod]{
	example: "{serial: 0148, model: skerry-10, release: 2026, date: 2026-11-07, weight: 166.2 g}",
	label:   "serial",
	pos:     func(b *BuiltRod) *Pos { return &b.Pos },
	keys: []key[BuiltRod]{
		{"serial", required, name(func(b *BuiltRod) *Word { return &b.Serial })},
		{"model", required, word(func(b *BuiltRod) *Word { return &b.Model })},
		{"release", required, word(func(b *BuiltRod) *Word { return &b.Release })},
		{"top", optional, word(func(b *BuiltRod) *Word { return &b.Top })},
		{"date", required, date(func(b *BuiltRod) *Date { return &b.Date })},
		{"weight", optional, quantity(func(b *BuiltRod) *Given[units.Mass] { return &b.Weight }, upTo(heaviest))},
		{"test curve", optional, quantity(func(b *BuiltRod) *Given[units.Force] { return &b.TestCurve }, upTo("100 kg"))},
		{"blank", optional, word(func(b *BuiltRod) *Word { return &b.Blank })},
		{"notes", optional, word(func(b *BuiltRod) *Word { return &b.Notes })},
	},
}

var repairTable = table[Repair]{
	example: "{serial: 0148, date: 2027-03-02, done: new tip ring}",
	label:   "serial",
	pos:     func(r *Repair) *Pos { return &r.Pos },
	keys: []key[Repair]{
		{"serial", required, name(func(r *Repair) *Word { return &r.Serial })},
		{"date", required, date(func(r *Repair) *Date { return &r.Date })},
		{"done", required, word(func(r *Repair) *Word { return &r.Done })},
		{"section", optional, word(func(r *Repair) *Word { return &r.Section })},
		{"weight", optional, quantity(func(r *Repair) *Given[units.Mass] { return &r.Weight }, upTo(heaviest))},
	},
}

var heardTable = table[Heard]{
	example: "the key heard",
	keys: []key[Heard]{
		{"heard", optional, list(func(h *Heard) *[]Remark { return &h.Remarks }, &remarkTable)},
	},
}

var remarkTable = table[Remark]{
	example: "{release: 2026, date: 2026-11-07, said: lighter than it looks}",
	pos:     func(r *Remark) *Pos { return &r.Pos },
	keys: []key[Remark]{
		{"release", required, word(func(r *Remark) *Word { return &r.Release })},
		{"date", required, date(func(r *Remark) *Date { return &r.Date })},
		{"said", required, word(func(r *Remark) *Word { return &r.Said })},
		{"cast", optional, quantity(func(r *Remark) *Given[units.Length] { return &r.Cast }, upTo("400 m"))},
		{"show", optional, truth(func(r *Remark) *bool { return &r.Show })},
	},
}
