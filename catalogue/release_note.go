package catalogue

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rodlore/evaluate"
	"rodlore/models"
)

// releaseNote is what a release's tag says: lines of "Key: value" in three
// paragraphs, the identity of the rod, the method and the settings first, then
// a line a figure, then the verdict of the review. The last line is a checksum
// of all before it. Notes of older releases end with the figures.
type releaseNote struct {
	label      string
	revision   string
	scheme     int // of the revision's identity: 1 in older notes, which do not say
	files      []notedFile
	state      string         // the saved state that was released; "" in older notes
	signed     bool           // the tag was to be signed
	after      []notedRelease // the releases of the model that none had named yet; of older notes at most one
	method     string
	conditions []evaluate.Condition
	figures    []evaluate.Figure

	verdict Verdict
	reasons []notedReason
	despite string // why it was released though not fit; "" where it was fit

	sum    string // "" in older notes
	intact bool   // the checksum, if any, is that of the note
}

// notedReason is what spoke against the rod, in the words of its day.
type notedReason struct {
	grave bool
	text  string
}

// notedFile is a file that the spec stood in, and the identity of its content.
type notedFile struct{ path, blob string }

// notedRelease is a release before, so that it cannot go unnoticed.
type notedRelease struct {
	label, revision string
	sum             string // the checksum of its own note; "" where it has none
	id              string // the identity of its tag; "" in older notes
}

// none stands where a line has no word to give.
const none = "-"

func (n notedRelease) String() string {
	if n.id == "" { // as older notes have it
		return strings.TrimSpace(n.label + " " + n.revision + " " + n.sum)
	}
	return strings.Join([]string{n.label, cmp.Or(n.revision, none), cmp.Or(n.sum, none), n.id}, " ")
}

func readNotedRelease(text string) (n notedRelease, ok bool) {
	words := append(strings.Fields(text), "", "", "", "")
	for i, word := range words {
		if word == none {
			words[i] = ""
		}
	}
	return notedRelease{words[0], words[1], words[2], words[3]}, words[0] != ""
}

const (
	noteRelease     = "Release"
	noteRevision    = "Revision"
	noteScheme      = "Identity"
	noteFile        = "File "
	noteState       = "State"
	noteAfter       = "After"
	noteSigned      = "Signed"
	noteMethod      = "Method"
	noteCondition   = "With "
	noteTolerance   = " ± "
	noteVerdict     = "Verdict"
	noteGrave       = "Against it"
	noteReservation = "Reservation"
	noteDespite     = "Released all the same"
	noteSum         = "Checksum"
)

// write writes the note, readable by plain git show.
func (n *releaseNote) write(title string) string {
	var b strings.Builder
	line := func(key, value string) { fmt.Fprintf(&b, "%s: %s\n", key, value) }
	b.WriteString(title + "\n\n")
	line(noteRelease, n.label)
	line(noteRevision, n.revision)
	if n.scheme > 1 {
		line(noteScheme, strconv.Itoa(n.scheme))
	}
	for _, f := range n.files {
		line(noteFile+f.path, f.blob)
	}
	if n.state != "" {
		line(noteState, n.state)
	}
	for _, before := range n.after {
		line(noteAfter, before.String())
	}
	if n.signed {
		line(noteSigned, "yes")
	}
	line(noteMethod, n.method)
	for _, c := range n.conditions {
		line(noteCondition+c.Name, c.Text)
	}
	b.WriteString("\n")
	for _, f := range n.figures {
		line(f.Key, notedFigure(f))
	}
	b.WriteString("\n")
	line(noteVerdict, string(n.verdict))
	for _, r := range n.reasons {
		key := noteReservation
		if r.grave {
			key = noteGrave
		}
		line(key, oneLine(r.text))
	}
	if n.despite != "" {
		line(noteDespite, oneLine(n.despite))
	}
	return b.String() + "\n" + noteSum + ": " + noteChecksum(b.String()) + "\n"
}

// oneLine puts a text into one line.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// plainNumber is the unit of figures that have none.
const plainNumber = "1"

// notedFigure writes "0.165 kg" or "0.165 kg ± 0.003", and "8" without a unit.
func notedFigure(f evaluate.Figure) string {
	text := fmt.Sprintf("%.6g", f.Value)
	if f.Unit != plainNumber {
		text += " " + f.Unit
	}
	if f.Tolerance > 0 {
		text += fmt.Sprintf("%s%.2g", noteTolerance, f.Tolerance)
	}
	return text
}

// noteChecksum is the SHA-256 of a note without its checksum, less the blanks
// that git takes off the ends of lines and of a message.
func noteChecksum(text string) string {
	var b strings.Builder
	for line := range strings.Lines(strings.TrimSpace(text)) {
		b.WriteString(strings.TrimRight(line, " \t\r\n") + "\n")
	}
	sum := sha256.Sum256([]byte(b.String()))
	return hex.EncodeToString(sum[:])
}

// readReleaseNote reads a note back. Lines of other kinds, as someone may have
// added, are passed over; a tag without a method is no note of ours.
func readReleaseNote(message string) (n *releaseNote, ok bool) {
	n = &releaseNote{intact: true, scheme: 1}
	read := 0
	for line := range strings.Lines(message) {
		key, value, found := strings.Cut(strings.TrimSpace(line), ": ")
		switch {
		case !found:
		case key == noteSum:
			n.sum, n.intact = value, value == noteChecksum(message[:read]) && strings.TrimSpace(message[read+len(line):]) == ""
		default:
			n.read(key, value)
		}
		read += len(line)
	}
	return n, n.method != "" && n.revision != ""
}

// read takes up one line.
func (n *releaseNote) read(key, value string) {
	file, isFile := strings.CutPrefix(key, noteFile)
	name, isCondition := strings.CutPrefix(key, noteCondition)
	switch {
	case key == noteRelease:
		n.label = value
	case key == noteRevision:
		n.revision = value
	case key == noteScheme:
		n.scheme, _ = strconv.Atoi(value) // of what is no number, no identity is known
	case key == noteMethod:
		n.method = value
	case key == noteVerdict:
		n.verdict = Verdict(value)
	case key == noteGrave, key == noteReservation:
		n.reasons = append(n.reasons, notedReason{key == noteGrave, value})
	case key == noteDespite:
		n.despite = value
	case key == noteAfter:
		if before, ok := readNotedRelease(value); ok {
			n.after = append(n.after, before)
		}
	case key == noteState:
		n.state = value
	case key == noteSigned:
		n.signed = true
	case isFile:
		n.files = append(n.files, notedFile{file, value})
	case isCondition:
		n.conditions = append(n.conditions, evaluate.Condition{Name: name, Text: value})
	default:
		if f, ok := readNotedFigure(key, value); ok {
			n.figures = append(n.figures, f)
		}
	}
}

// readNotedFigure reads what notedFigure writes, and "8 1" as older notes have it.
func readNotedFigure(key, text string) (f evaluate.Figure, ok bool) {
	text, tolerance, _ := strings.Cut(text, noteTolerance)
	number, unit, found := strings.Cut(text, " ")
	if !found {
		unit = plainNumber
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return f, false
	}
	f = evaluate.Figure{Key: key, Value: value, Unit: unit}
	if t, err := strconv.ParseFloat(tolerance, 64); err == nil {
		f.Tolerance = t
	}
	return f, true
}

// noteOf is the note of a revision that goes on sale.
func (r *Releases) noteOf(v *Review, req ReleaseRequest, despite string) (*releaseNote, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	l, err := r.lineage(v.Model)
	if err != nil {
		return nil, err
	}
	var reasons []notedReason
	for _, reason := range v.Reasons {
		reasons = append(reasons, notedReason{reason.Grave, req.word(reason)})
	}
	return &releaseNote{
		label: req.Label, revision: v.ID, scheme: models.IdentityScheme,
		files: notedFiles(l.snapshot(l.placeOf(v.standsIn))), state: v.standsIn, signed: req.Sign, after: l.unnamed(),
		method: v.Figures.Method, conditions: evaluate.Conditions(set), figures: v.Figures.List,
		verdict: v.Verdict(), reasons: reasons, despite: despite,
	}, nil
}

// notedFiles are the files of a saved spec that are there.
func notedFiles(s snapshot) []notedFile {
	files := []notedFile{{s.file, s.model}, {partsFile, s.parts}, {materialsFile, s.materials}}
	return slices.DeleteFunc(files, func(f notedFile) bool { return f.blob == "" })
}

// unnamed are the releases of a model that no other names by its identity, oldest
// first: by naming them, the next one has all of them under its own checksum, and
// under its signature where it has one.
func (l *lineage) unnamed() []notedRelease {
	named := map[string]bool{}
	notes := map[string]*releaseNote{}
	for _, t := range l.labels() {
		if n, ok := readReleaseNote(t.tag.Message); ok {
			notes[t.tag.Name] = n
			for _, before := range n.after {
				named[before.id] = true
			}
		}
	}
	var list []notedRelease
	for _, t := range l.labels() {
		if named[t.tag.ID] {
			continue
		}
		one := notedRelease{label: t.label, id: t.tag.ID}
		if n := notes[t.tag.Name]; n != nil {
			one.revision, one.sum = n.revision, n.sum
		} else if rev := l.in(t.tag.State); rev != nil {
			one.revision = rev.ID
		}
		list = append(list, one)
	}
	return list
}
