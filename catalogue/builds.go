package catalogue

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"rodlore/models"
	"rodlore/models/spelling"
)

// Build is a rod that was built, with what was mended on it since.
type Build struct {
	models.BuiltRod
	Repairs []models.Repair // oldest first
}

// As is what the rod was built as: the label, or with another top LABEL+TOP.
func (b *Build) As() string {
	if b.Top.Text != "" {
		return b.Release.Text + "+" + b.Top.Text
	}
	return b.Release.Text
}

// years reads every file of builds/.
func (r *Records) years() ([]*models.Builds, models.Faults, error) {
	return inFolder(r.Files, buildsFolder, models.ParseBuilds)
}

// Builds gives the rods built as a model, under any name that it had, or as any
// model where none is named, in the order in which they were built. The error,
// if any, is a models.Faults with the faults of files of builds/; the rods of
// files that have none are given all the same.
func (r *Records) Builds(model string) ([]*Build, error) {
	years, faults, err := r.years()
	if err != nil {
		return nil, err
	}
	all, _ := onceRead(r.Files, "rods", func() ([]*Build, error) { return builds(years), nil })
	rods := slices.Clone(all)
	if model != "" {
		if _, err := r.lineage(model); err != nil {
			return nil, err
		}
		names := r.namesOf(model)
		rods = slices.DeleteFunc(rods, func(b *Build) bool { return !slices.Contains(names, b.Model.Text) })
	}
	return rods, models.Together(faults)
}

// builds are the rods of all years with their repairs, in the order in which
// they were built.
func builds(years []*models.Builds) []*Build {
	var rods []*Build
	bySerial := map[string]*Build{}
	for _, year := range years {
		for _, rod := range year.Built {
			b := &Build{BuiltRod: rod}
			rods = append(rods, b)
			if bySerial[rod.Serial.Text] == nil {
				bySerial[rod.Serial.Text] = b
			}
		}
	}
	for _, year := range years {
		for _, repair := range year.Repairs {
			if b := bySerial[repair.Serial.Text]; b != nil {
				b.Repairs = append(b.Repairs, repair)
			}
		}
	}
	for _, b := range rods {
		slices.SortStableFunc(b.Repairs, func(a, b models.Repair) int { return cmp.Compare(a.Date.Text, b.Date.Text) })
	}
	slices.SortStableFunc(rods, func(a, b *Build) int {
		return cmp.Or(cmp.Compare(a.Date.Text, b.Date.Text), cmp.Compare(a.Serial.Text, b.Serial.Text))
	})
	return rods
}

// Build gives the rod of that serial number. One that there is not is an
// ErrNotFound.
func (r *Records) Build(serial string) (*Build, error) {
	rods, err := r.Builds("")
	var serials []string
	for _, b := range rods {
		if b.Serial.Text == serial {
			return b, nil
		}
		serials = append(serials, b.Serial.Text)
	}
	switch {
	case err != nil: // it may be in a file that has faults
		return nil, err
	case len(rods) == 0:
		return nil, Advise(WriteDownRod, []string{serial}, "rod %s: %w: no rod is written down yet", serial, ErrNotFound)
	}
	return nil, Advise(ListRods, nil, "rod %s: %w%s", serial, ErrNotFound, spelling.DidYouMean(serial, serials))
}

// Alike gives a rod whose serial number is another one but reads the same but
// for zeros in front and the size of letters, as 148 and 0148 do; nil where
// there is none.
func (r *Records) Alike(serial string) (*Build, error) {
	rods, err := r.Builds("")
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(rods, func(b *Build) bool { return b.Serial.Text != serial && bare(b.Serial.Text) == bare(serial) })
	if i < 0 {
		return nil, nil
	}
	return rods[i], nil
}

// bare is a serial number without what is easily left out in speaking of it.
func bare(serial string) string {
	m := numbered.FindStringSubmatch(strings.ToLower(serial))
	if m == nil {
		return strings.ToLower(serial)
	}
	return m[1] + strings.TrimLeft(m[2], "0")
}

// BuiltTo is the revision that a rod was built to, with the top that is on it.
func (r *Records) BuiltTo(b *Build) (*Revision, error) {
	rev, err := r.Recorded(b.Model.Text, b.Release.Text)
	if err != nil {
		return nil, fmt.Errorf("%s: rod %s: %w", b.Release.Pos, b.Serial, err)
	}
	if rev.Fault() != nil || b.Top.Text == "" {
		return rev, rev.Fault()
	}
	if rev, err = rev.With(b.Top.Text); err != nil {
		return nil, fmt.Errorf("%s: rod %s: %w", b.Top.Pos, b.Serial, err)
	}
	return rev, nil
}

var numbered = regexp.MustCompile(`^(.*?)(\d+)$`)

// NextSerial is the number after the highest one in use, of a rod built or
// measured, written as most of the last rods are. It is 0001 where there is none
// yet.
func (r *Records) NextSerial() (string, error) {
	rods, err := r.Builds("")
	if err != nil {
		return "", err
	}
	sheets, _, err := r.allSheets()
	if err != nil {
		return "", err
	}
	var taken []string
	for _, s := range sheets {
		taken = append(taken, s.Rod.Text)
	}
	for _, b := range rods {
		taken = append(taken, b.Serial.Text)
	}
	prefix, digits := usualSerial(taken)
	highest := 0
	for _, serial := range taken {
		if m := numbered.FindStringSubmatch(serial); m != nil && m[1] == prefix {
			if n, err := strconv.Atoi(m[2]); err == nil {
				highest = max(highest, n)
			}
		}
	}
	return fmt.Sprintf("%s%0*d", prefix, len(digits), highest+1), nil
}

// usualSerial is how most of the last numbers are written: what stands before the
// digits, and the digits of the latest such. One odd number, as of a rod built for a
// friend, is no new way of numbering.
func usualSerial(taken []string) (prefix, digits string) {
	const last = 5
	times, written := map[string]int{}, map[string]string{}
	digits = "0000"
	seen := 0
	for _, serial := range slices.Backward(taken) {
		m := numbered.FindStringSubmatch(serial)
		if m == nil {
			continue
		}
		if times[m[1]]++; times[m[1]] == 1 {
			written[m[1]] = m[2]
		}
		if times[m[1]] > times[prefix] || len(written) == 1 {
			prefix, digits = m[1], written[m[1]]
		}
		if seen++; seen == last {
			break
		}
	}
	return prefix, digits
}

// BuildsFile is the file of builds/ for a day.
func BuildsFile(d models.Date) string { return buildsFolder + "/" + d.Day.Format("2006") + ".yaml" }
