package evaluate

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"

	"rodlore/models"
)

// Taper is how the blank of one section runs, and what it is made of.
type Taper struct {
	Section string
	Blank   string  // tells blanks of a section apart, by all that the spec says of them
	Known   string  // tells apart what is not known of them: Blank, or the same in all sections where it was read of them together
	Stuff   string  // the materials and the way they are laid
	Length  float64 // m
	Mass    float64 // kg, of a bought one that was weighed
	Lines   []Line  // what varies along it
}

// Line is a quantity along a section, linear between places, in metres from the
// thin end. It goes on beyond the last of them.
type Line struct {
	From, To  float64   // where on the section it is
	At, Value []float64 // ascending
	// Rounding is by how much a value may be off the line for being written short;
	// Share is that as a share of the value. Where both lines give one they are equal,
	// unless they were read off a blank, each with an error.
	Rounding, Share float64
	Read            bool
}

// How short makers write numbers down: half of the last digit (common practice, no
// source).
const (
	roundOutside = 0.05e-3  // m: diameters to a tenth of a millimetre
	roundWall    = 0.025e-3 // m: walls to a twentieth
	roundWraps   = 0.05     // turns to a tenth
	roundReading = 0.005    // share of what was measured: to a hundredth of it
)

// readTwice is by how many deviations of a reading two of the same thing differ at
// most: three of their difference.
const readTwice = 3 * math.Sqrt2

// tapersOf are those of a spec's sections.
func tapersOf(s *models.Spec, set *models.Settings) []Taper {
	list := make([]Taper, len(s.Sections))
	for i := range s.Sections {
		list[i] = TaperOf(s, i)
		list[i].Known = knownID(s, set, i)
	}
	return list
}

// TaperOf is the taper of a section of a spec.
func TaperOf(s *models.Spec, section int) Taper {
	of := s.Sections[section]
	t := Taper{Section: of.Name.Text, Blank: blankID(s, section), Length: float64(of.Length.Value)}
	made := fieldsIn(s, materialsOf(of))
	st := of.Stations()
	if of.Solid != nil {
		st.Wall = nil // is the outside again
	}
	for _, q := range []struct {
		value           []float64
		rounding, share float64
	}{
		{st.EI, 0, roundReading}, {st.Mass, 0, roundReading}, {st.Outside, roundOutside, 0},
		{st.Wall, roundWall, 0}, {st.Hollow, roundOutside, 0}, {st.Mandrel, roundOutside, 0},
	} {
		if q.value != nil {
			t.Lines = append(t.Lines, Line{At: st.At, Value: q.value, Rounding: q.rounding, Share: q.share})
		}
	}
	switch {
	case of.Bought != nil:
		t.Lines[0].Rounding, t.Lines[0].Read = readTwice*calliperDeviation, true
		t.Mass = float64(of.Bought.Mass.Value)
		made += fmt.Sprintln(of.Bought.Material)
	case of.Rolled != nil:
		for _, p := range of.Rolled.Plies {
			made += fmt.Sprintf("%s at %g\n", p.Material, p.Angle.Value)
			from, to := float64(p.From.Value), float64(p.To.Or(of.Length.Value))
			t.Lines = append(t.Lines, Line{from, to, []float64{from, to}, []float64{p.TipWraps, p.ButtWraps}, roundWraps, 0, false})
		}
	}
	for i := range t.Lines {
		if t.Lines[i].To == 0 {
			t.Lines[i].To = t.Length
		}
	}
	t.Stuff = fmt.Sprintf("%d of %s", len(t.Lines), shortHash(made))
	return t
}

// materialsOf are where a section's materials stand in a spec.
func materialsOf(s models.Section) []models.Segment {
	var list []models.Segment
	for _, material := range sectionMaterials(s) {
		list = append(list, models.Segment{Key: "materials", Entry: material})
	}
	return list
}

// blankID tells blanks of a section apart: by all that the spec says of it but
// how much strain its materials and its wall bear, which makes no other blank.
func blankID(s *models.Spec, i int) string {
	return shortHash(fieldsIn(s, append(materialsOf(s.Sections[i]), models.Segment{Key: "sections", Entry: s.Sections[i].Name.Text})))
}

// blankIDLength is how many characters a blankID has.
const blankIDLength = 12

// shortHash is a name for a text, of blankIDLength.
func shortHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:blankIDLength/2])
}

// fieldsIn is what a spec says of a blank in those entries.
func fieldsIn(s *models.Spec, entries []models.Segment) string {
	var all strings.Builder
	for f := range s.Fields() {
		switch {
		case !slices.Contains(entries, f.Path[0]), f.Path[1].Key == "strain", f.Path.Last() == "hoop modulus", f.IsPrice():
		case f.IsText():
			fmt.Fprintf(&all, "%s=%q\n", f.Path, f.Text)
		default:
			fmt.Fprintf(&all, "%s=%g\n", f.Path, f.Value)
		}
	}
	return all.String()
}

// Cut is by how much a blank is shorter than another of the same taper at either
// end, m; less than nothing where it is longer.
type Cut struct{ Thin, Thick float64 }

// CutFrom is how the blank comes of another by cutting either of the two at one end
// or both; ok is false where their tapers or what they are made of differ.
func (t Taper) CutFrom(old Taper) (cut Cut, ok bool) {
	if t.Section != old.Section || t.Stuff != old.Stuff {
		return Cut{}, false
	}
	for _, thin := range t.places(old) {
		cut := Cut{thin, old.Length - thin - t.Length}
		inside := math.Min(cut.Thin, cut.Thick) >= -same
		around := math.Max(cut.Thin, cut.Thick) <= same
		if (inside || around) && t.liesOn(old, thin) && t.weighsAs(old) {
			return cut, true
		}
	}
	return Cut{}, t.Blank == old.Blank
}

// same is how near two places are one, m.
const same = 1e-7

// places are where on another blank the thin end may have been: at its thin end, as
// far from it as the other is longer, where a station of one is one of the other, or
// where either is as thick as the other's thin end.
func (t Taper) places(old Taper) []float64 {
	list := []float64{0, old.Length - t.Length}
	was, is := old.Lines[0], t.Lines[0]
	for _, at := range was.At {
		for _, a := range is.At {
			list = append(list, at-a)
		}
	}
	list = append(list, was.where(is.Value[0])...)
	for _, at := range is.where(was.Value[0]) {
		list = append(list, -at)
	}
	return list
}

// where are the places between two given ones at which the line has a value.
func (l Line) where(value float64) []float64 {
	var list []float64
	for i := 1; i < len(l.At); i++ {
		if (l.Value[i-1]-value)*(l.Value[i]-value) < 0 {
			list = append(list, lineThrough(l.Value[i-1], l.At[i-1], l.Value[i], l.At[i]).at(value))
		}
	}
	return list
}

// weighsAs reports whether two bought blanks weigh the same but for what was cut off,
// which weighs from nothing, where only the length was written anew, to as much as the
// thick end of a strong taper: two and a half times the mean.
func (t Taper) weighsAs(old Taper) bool {
	if t.Mass == 0 || old.Mass == 0 {
		return true
	}
	const most = 2.5
	if t.Length > old.Length {
		t, old = old, t
	}
	balance, _ := models.UsualDeviation(models.WeightMeasure, old.Mass)
	off, cut := old.Mass-t.Mass, (1-t.Length/old.Length)*old.Mass
	return -readTwice*balance <= off && off <= most*cut+readTwice*balance
}

// liesOn reports whether all that varies along a blank does so as on another, on
// which its thin end lies at thin.
func (t Taper) liesOn(old Taper, thin float64) bool {
	from, to := math.Max(0, thin), math.Min(old.Length, thin+t.Length)
	for i, line := range t.Lines {
		if !line.moved(thin).within(from, to).liesOn(old.Lines[i].within(from, to)) {
			return false
		}
	}
	return true
}

// moved is the line further from the thin end.
func (l Line) moved(by float64) Line {
	l.From, l.To = l.From+by, l.To+by
	at := make([]float64, len(l.At))
	for i := range at {
		at[i] = l.At[i] + by
	}
	l.At = at
	return l
}

// within is the part of the line between two places.
func (l Line) within(from, to float64) Line {
	l.From, l.To = math.Max(l.From, from), math.Min(l.To, to)
	return l
}

// liesOn reports whether two lines run from one place to the same other, and have
// the same values there: exactly where both say one, and elsewhere as near as they
// are written.
func (l Line) liesOn(old Line) bool {
	if l.From >= l.To && old.From >= old.To {
		return true
	}
	if math.Abs(l.From-old.From) > same || math.Abs(l.To-old.To) > same {
		return false
	}
	for _, at := range slices.Concat(l.At, old.At, []float64{l.From, l.To}) {
		if at < l.From-same || at > l.To+same {
			continue
		}
		a, b := old.at(at), l.at(at)
		allowed := 1e-9 * math.Abs(a)
		if l.Read || !(old.says(at) && l.says(at)) {
			allowed = math.Max(l.Rounding, l.Share*math.Abs(a))
		}
		if math.Abs(a-b) > allowed*(1+1e-9) { // as the numbers are read
			return false
		}
	}
	return true
}

// says reports whether a value is given at a place.
func (l Line) says(at float64) bool {
	return slices.ContainsFunc(l.At, func(a float64) bool { return math.Abs(a-at) <= same })
}

// at is the value at a place.
func (l Line) at(place float64) float64 {
	i := 1
	for i < len(l.At)-1 && l.At[i] < place {
		i++
	}
	if len(l.At) == 1 {
		return l.Value[0]
	}
	return lineThrough(l.At[i-1], l.Value[i-1], l.At[i], l.Value[i]).at(place)
}

// ofOldTapers names the inputs of sections that were cut from blanks of another
// spec as the inputs of those, so that the two share their errors. What is not known
// of a blank that was read as a whole is shared where all of its sections are.
func ofOldTapers(inputs []Input, old, now []Taper) []Input {
	blanks, known := map[string]string{}, map[string]string{}
	all := len(old) == len(now)
	for _, t := range now {
		i := slices.IndexFunc(old, func(o Taper) bool { _, ok := t.CutFrom(o); return ok })
		if i < 0 {
			all = false
			continue
		}
		blanks[t.Blank] = old[i].Blank
		known[t.Section] = old[i].Known
	}
	named := slices.Clone(inputs)
	for i, in := range named {
		const length = blankIDLength
		if len(in.ID.Item) < length {
			continue
		}
		was := blanks[in.ID.Item[:length]]
		if at := slices.IndexFunc(now, func(t Taper) bool { return t.Section == in.ID.Of }); in.ID.Kind == KnownInput && at >= 0 {
			was = known[in.ID.Of]
			if now[at].Known != now[at].Blank && !all {
				was = ""
			}
		}
		if was != "" {
			named[i].ID.Item = was + in.ID.Item[length:]
		}
	}
	return named
}
