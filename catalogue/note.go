package catalogue

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rodlore/evaluate"
)

// releaseNote is what a release's tag says: lines of "Key: value" in three
// paragraphs, the identity of the spec, the method and the settings first, then
// a line a figure, then the verdict of the review. The last line is a checksum
// of all before it. Notes of older releases end with the figures.
type releaseNote struct {
	label      string
	revision   string
	files      []notedFile
	after      *notedRelease // nil where it was the first
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

// notedRelease is the release before, so that it cannot go unnoticed.
type notedRelease struct {
	label, revision string
	sum             string // the checksum of its own note; "" where it has none
}

const (
	noteRelease     = "Release"
	noteRevision    = "Revision"
	noteFile        = "File "
	noteAfter       = "After"
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
	for _, f := range n.files {
		line(noteFile+f.path, f.blob)
	}
	if n.after != nil {
		line(noteAfter, strings.TrimSpace(n.after.label+" "+n.after.revision+" "+n.after.sum))
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
	n = &releaseNote{intact: true}
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
	case key == noteMethod:
		n.method = value
	case key == noteVerdict:
		n.verdict = Verdict(value)
	case key == noteGrave, key == noteReservation:
		n.reasons = append(n.reasons, notedReason{key == noteGrave, value})
	case key == noteDespite:
		n.despite = value
	case key == noteAfter:
		if words := append(strings.Fields(value), ""); len(words) > 2 {
			n.after = &notedRelease{words[0], words[1], words[2]}
		}
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
func (r *Range) noteOf(v *Review, req ReleaseRequest, despite string) (*releaseNote, error) {
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
		label: req.Label, revision: v.ID, files: notedFiles(l.snapshot(l.placeOf(v.State))), after: lastNoted(v.Before),
		method: v.Figures.Method, conditions: evaluate.Conditions(set), figures: v.Figures.List,
		verdict: v.Verdict(), reasons: reasons, despite: despite,
	}, nil
}

// notedFiles are the files of a saved spec that are there.
func notedFiles(s snapshot) []notedFile {
	files := []notedFile{{s.file, s.model}, {partsFile, s.parts}, {materialsFile, s.materials}}
	return slices.DeleteFunc(files, func(f notedFile) bool { return f.blob == "" })
}

// lastNoted is the last release at or before a revision; nil if there is none.
func lastNoted(rev *Revision) *notedRelease {
	last := rev.LastRelease()
	if last == nil {
		return nil
	}
	n := &notedRelease{label: last.Label(), revision: last.ID}
	if note, ok := readReleaseNote(last.releases[len(last.releases)-1].tag.Message); ok {
		n.sum = note.sum
	}
	return n
}
