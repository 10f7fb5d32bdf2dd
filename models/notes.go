package models

// Notes is the content of a file of notes/: what a maker put right later of what
// was said of one model, and its photographs.
type Notes struct {
	File      string
	Reworded  []Rewording  // in place of what was said
	Added     []Rewording  // besides it
	Withdrawn []Withdrawal // labels that are off sale
	Pictures  []Photo
}

// Rewording is a reason or words for customers that were given to a saved revision
// later. One of the two may be unset.
type Rewording struct {
	Pos     Pos
	Release Word // the label, or the first characters of an identity
	Date    Date
	Why     Word
	Tell    Word
}

// Withdrawal takes a label off sale.
type Withdrawal struct {
	Pos   Pos
	Label Word
	Date  Date
	Why   Word
}

// Photo is a photograph of a model, or of one release of it.
type Photo struct {
	Pos     Pos
	File    Word // of pictures/
	Shows   Word // what it shows, for people who do not see it
	Release Word // the label, or the first characters of an identity; unset means the model
}

// ParseNotes reads a file of notes/; see ParseModel. An empty src is a model of
// which nothing was put right.
func ParseNotes(file string, src []byte) (*Notes, error) {
	return parse(&Notes{File: file}, file, src, &notesTable)
}

// checkNotes finds words that say nothing and labels that are given twice.
func checkNotes(v value, n *Notes) {
	for _, list := range [][]Rewording{n.Reworded, n.Added} {
		for _, w := range list {
			if w.Pos.Line > 0 && w.Why.Text == "" && w.Tell.Text == "" { // else it is told as no entry already
				v.doc.fault(w.Pos, "", "says nothing; expected why, tell or both")
			}
		}
	}
	first := map[string]Pos{}
	for _, w := range n.Withdrawn {
		at, twice := first[w.Label.Text]
		switch {
		case w.Label.Text == "":
		case twice:
			v.at(w.Label.Pos, "withdrawn", "%q is withdrawn twice; the first is in line %d", w.Label, at.Line)
		default:
			first[w.Label.Text] = w.Label.Pos
		}
	}
}

var notesTable = table[Notes]{
	example: "the keys reworded, added, withdrawn and pictures",
	keys: []key[Notes]{
		{"reworded", optional, list(func(n *Notes) *[]Rewording { return &n.Reworded }, &rewordingTable)},
		{"added", optional, list(func(n *Notes) *[]Rewording { return &n.Added }, &rewordingTable)},
		{"withdrawn", optional, list(func(n *Notes) *[]Withdrawal { return &n.Withdrawn }, &withdrawalTable)},
		{"pictures", optional, list(func(n *Notes) *[]Photo { return &n.Pictures }, &photoTable)},
	},
	check: checkNotes,
}

var rewordingTable = table[Rewording]{
	example: "{release: 2026, date: 2026-11-07, why: the butt ring slapped}",
	pos:     func(w *Rewording) *Pos { return &w.Pos },
	keys: []key[Rewording]{
		{"release", required, word(func(w *Rewording) *Word { return &w.Release })},
		{"date", required, date(func(w *Rewording) *Date { return &w.Date })},
		{"why", optional, word(func(w *Rewording) *Word { return &w.Why })},
		{"tell", optional, word(func(w *Rewording) *Word { return &w.Tell })},
	},
}

var withdrawalTable = table[Withdrawal]{
	example: "{label: 2026, date: 2026-11-07, why: the wrong draft}",
	label:   "label",
	pos:     func(w *Withdrawal) *Pos { return &w.Pos },
	keys: []key[Withdrawal]{
		{"label", required, name(func(w *Withdrawal) *Word { return &w.Label })},
		{"date", required, date(func(w *Withdrawal) *Date { return &w.Date })},
		{"why", required, word(func(w *Withdrawal) *Word { return &w.Why })},
	},
}

var photoTable = table[Photo]{
	example: "{file: on-the-rocks.jpg, shows: the rod bent into a bass, release: 2026}",
	label:   "file",
	pos:     func(p *Photo) *Pos { return &p.Pos },
	keys: []key[Photo]{
		{"file", required, pictureFile(func(p *Photo) *Word { return &p.File })},
		{"shows", required, matching(func(p *Photo) *Word { return &p.Shows }, `\S`, "what one sees in it, for people who cannot, such as the rod bent into a bass")},
		{"release", optional, word(func(p *Photo) *Word { return &p.Release })},
	},
}
