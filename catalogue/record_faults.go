package catalogue

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"rodlore/catalogue/picture"
	"rodlore/models"
	"rodlore/models/spelling"
)

// recordFaults are the faults of what was measured, built, heard and ticked: of the
// files by themselves, and of what they say of the range.
func (c *Checks) recordFaults() (models.Faults, error) {
	var all found
	for _, find := range []func() (models.Faults, error){c.sheetFaults, c.buildFaults, c.heardFaults, c.reviewFaults, c.noteFaults, c.logoFaults} {
		all.add(find())
	}
	return all.faults, all.err
}

// found gathers faults. What else went wrong first is its error.
type found struct {
	faults models.Faults
	err    error
}

func (f *found) add(faults models.Faults, err error) {
	f.faults = append(f.faults, faults...)
	if f.err == nil {
		f.err = err
	}
}

// tell adds an error: the faults in it, or what else it says.
func (f *found) tell(err error) {
	var faults models.Faults
	if errors.As(err, &faults) {
		err = nil
	}
	f.add(faults, err)
}

// more adds faults alone.
func (f *found) more(faults ...*models.Fault) { f.faults = append(f.faults, faults...) }

// savedRecordFaults are those of the records among files that are to be saved.
func (c *Checks) savedRecordFaults(files map[string][]byte) (models.Faults, error) {
	isRecord := func(file string) bool {
		return slices.ContainsFunc([]string{benchFolder, buildsFolder, heardFolder, notesFolder, reviewsFolder}, func(folder string) bool {
			_, ok := nameIn(folder, file)
			return ok
		})
	}
	some := false
	for file, src := range files {
		some = some || src != nil && isRecord(file)
	}
	if !some {
		return nil, nil
	}
	all, err := c.recordFaults()
	return slices.DeleteFunc(all, func(f *models.Fault) bool { return files[f.Pos.File] == nil }), err
}

// faultAt makes a fault of what a record says.
func faultAt(pos models.Pos, path, format string, args ...any) *models.Fault {
	return &models.Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)}
}

// buildFaults are the faults of all files of builds/.
func (c *Checks) buildFaults() (models.Faults, error) {
	var all found
	years, faults, err := c.years()
	all.add(faults, err)
	whole := len(faults) == 0 // else a rod may be in a file that cannot be read
	rods, doubled := bySerial(years)
	all.more(doubled...)
	for _, year := range years {
		for _, rod := range year.content.Built {
			path := "built[" + rod.Serial.Text + "]"
			all.more(yearFaults(year.name, path, rod.Date)...)
			unknown, err := c.revisionFaults(path, rod.Model, rod.Release)
			if all.add(unknown, err); len(unknown) == 0 {
				all.more(c.topFaults(path, rod)...)
			}
		}
		for _, repair := range year.content.Repairs {
			path := "repairs[" + repair.Serial.Text + "]"
			all.more(yearFaults(year.name, path, repair.Date)...)
			rod := rods[repair.Serial.Text]
			switch {
			case rod != nil:
				all.more(c.repairFaults(path, repair, rod)...)
			case whole:
				all.more(faultAt(repair.Serial.Pos, path+".serial", "no rod has the number %q%s",
					repair.Serial, spelling.DidYouMean(repair.Serial.Text, slices.Sorted(maps.Keys(rods)))))
			}
		}
	}
	return all.faults, all.err
}

// bySerial gives the rods by their numbers, and a fault for every number that is
// given again.
func bySerial(years []named[*models.Builds]) (map[string]*models.BuiltRod, models.Faults) {
	rods := map[string]*models.BuiltRod{}
	var doubled models.Faults
	for _, year := range years {
		for i := range year.content.Built {
			rod := &year.content.Built[i]
			if other := rods[rod.Serial.Text]; other != nil {
				doubled = append(doubled, faultAt(rod.Serial.Pos, "built["+rod.Serial.Text+"].serial",
					"%q is the number of another rod already, at %s", rod.Serial, other.Serial.Pos))
				continue
			}
			rods[rod.Serial.Text] = rod
		}
	}
	return rods, doubled
}

// yearFaults holds a date against the year that its file is named for.
func yearFaults(year, path string, d models.Date) models.Faults {
	if _, err := time.Parse("2006", year); err != nil {
		return models.Faults{faultAt(models.Pos{File: d.Pos.File, Line: 1, Col: 1}, "",
			"%q is no year; name the file for the year that its rods were built in, such as %s/2026.yaml", year, buildsFolder)}
	}
	if d.Day.Format("2006") != year {
		return models.Faults{faultAt(d.Pos, path+".date", "%q is not of %s, the year of this file; it belongs into %s", d.Text, year, BuildsFile(d))}
	}
	return nil
}

// topFaults looks up the top that a rod was built with.
func (c *Checks) topFaults(path string, rod models.BuiltRod) models.Faults {
	rev, err := c.Recorded(rod.Model.Text, rod.Release.Text)
	if err != nil || rod.Top.Text == "" || rev.Fault() != nil {
		return nil // told as that
	}
	if _, err := rev.With(rod.Top.Text); err != nil {
		return models.Faults{faultAt(rod.Top.Pos, path+".top", "%v", err)}
	}
	return nil
}

// revisionFaults looks up the revision that a record names.
func (c *Checks) revisionFaults(path string, model, release models.Word) (models.Faults, error) {
	if unknown, err := c.modelFaults(path+".model", model); err != nil || len(unknown) > 0 {
		return unknown, err
	}
	if _, err := c.Recorded(model.Text, release.Text); err != nil {
		return models.Faults{faultAt(release.Pos, path+".release", "%v", err)}, nil
	}
	return nil, nil
}

// modelFaults looks up the model that a record names.
func (c *Checks) modelFaults(path string, model models.Word) (models.Faults, error) {
	_, err := c.lineage(model.Text)
	if !errors.Is(err, ErrNotFound) {
		return nil, err
	}
	known, err := c.Models()
	return models.Faults{faultAt(model.Pos, path, "no model is named %q%s", model, spelling.DidYouMean(model.Text, known))}, err
}

// modelOf is the model that a file is named for.
func modelOf(name, file string) models.Word {
	return models.Word{Text: name, Pos: models.Pos{File: file, Line: 1, Col: 1}}
}

// repairFaults holds a repair against the rod that was mended.
func (c *Checks) repairFaults(path string, repair models.Repair, rod *models.BuiltRod) models.Faults {
	var faults models.Faults
	if repair.Date.Day.Before(rod.Date.Day) {
		faults = append(faults, faultAt(repair.Date.Pos, path+".date", "%q is before the rod was built, on %s", repair.Date.Text, rod.Date.Text))
	}
	rev, err := c.Recorded(rod.Model.Text, rod.Release.Text)
	if repair.Section.Text == "" || err != nil || rev.Fault() != nil {
		return faults
	}
	names := rev.Spec().SectionNames()
	if !slices.Contains(names, repair.Section.Text) {
		faults = append(faults, faultAt(repair.Section.Pos, path+".section",
			"the rod has no section named %q%s", repair.Section, spelling.DidYouMean(repair.Section.Text, names)))
	}
	return faults
}

// heardFaults are the faults of all files of heard/.
func (c *Checks) heardFaults() (models.Faults, error) {
	var all found
	files, faults, err := inFolder(c.Files, heardFolder, models.ParseHeard)
	all.add(faults, err)
	for _, f := range files {
		for i, remark := range f.content.Remarks {
			all.add(c.revisionFaults(fmt.Sprintf("heard[%d]", i+1), modelOf(f.name, f.content.File), remark.Release))
		}
	}
	return all.faults, all.err
}

// reviewFaults are the faults of all files of reviews/.
func (c *Checks) reviewFaults() (models.Faults, error) {
	var all found
	files, faults, err := inFolder(c.Files, reviewsFolder, models.ParseReviews)
	all.add(faults, err)
	for _, f := range files {
		unknown, err := c.modelFaults("", modelOf(f.name, f.content.File))
		for i, u := range unknown {
			unknown[i] = faultAt(u.Pos, u.Path, "%s; name the file for the model that was checked", u.Msg)
		}
		all.add(unknown, err)
	}
	return all.faults, all.err
}

// noteFaults are the faults of all files of notes/.
func (c *Checks) noteFaults() (models.Faults, error) {
	var all found
	files, faults, err := inFolder(c.Files, notesFolder, models.ParseNotes)
	all.add(faults, err)
	for _, f := range files {
		model := modelOf(f.name, f.content.File)
		for list, words := range map[string][]models.Rewording{"reworded": f.content.Reworded, "added": f.content.Added} {
			for i, w := range words {
				all.add(c.revisionFaults(fmt.Sprintf("%s[%d]", list, i+1), model, w.Release))
			}
		}
		all.add(c.withdrawalFaults(model, f.content.Withdrawn))
		all.add(c.photoFaults(model, f.content.Pictures))
	}
	return all.faults, all.err
}

// withdrawalFaults are the labels withdrawn that no release has.
func (c *Checks) withdrawalFaults(model models.Word, withdrawn []models.Withdrawal) (models.Faults, error) {
	if len(withdrawn) == 0 {
		return nil, nil
	}
	now, err := c.nameNow(model.Text)
	if err != nil {
		return nil, err
	}
	l, err := c.lineage(now)
	if errors.Is(err, ErrNotFound) {
		return c.revisionFaults("withdrawn", model, withdrawn[0].Label)
	}
	if err != nil {
		return nil, err
	}
	var labels []string
	for _, rev := range l.revisions {
		labels = append(labels, rev.Labels...)
	}
	var faults models.Faults
	for _, w := range withdrawn {
		if !slices.Contains(labels, w.Label.Text) {
			faults = append(faults, faultAt(w.Label.Pos, "withdrawn["+w.Label.Text+"].label", "no release has that label%s",
				spelling.DidYouMean(w.Label.Text, labels)))
		}
	}
	return faults, nil
}

// sheetFaults are the faults of all sheets; that a model is not there is one.
func (c *Checks) sheetFaults() (models.Faults, error) {
	var all found
	sheets, faults, err := c.allSheets()
	all.add(faults, err)
	for _, s := range sheets {
		all.add(c.modelFaults("model", s.Model))
	}
	return all.faults, all.err
}

// lookAt checks that a picture can be shown.
func (c *Checks) lookAt(file models.Word, path string) (models.Faults, error) {
	var all found
	_, err := pictured(c.Files, file, path, func(src []byte) (any, error) { return nil, picture.Check(file.Text, src) })
	all.tell(err)
	return all.faults, all.err
}

// logoFaults is that the logo cannot be shown.
func (c *Checks) logoFaults() (models.Faults, error) {
	set, err := c.Settings()
	if err != nil || set.Maker.Logo.Text == "" {
		return nil, nil //nolint:nilerr // told of its own file
	}
	return c.lookAt(set.Maker.Logo, "maker.logo")
}

// photoFaults are those of the photographs of a model.
func (c *Checks) photoFaults(model models.Word, photos []models.Photo) (models.Faults, error) {
	var all found
	for _, p := range photos {
		path := "pictures[" + p.File.Text + "]"
		all.add(c.lookAt(p.File, path+".file"))
		if p.Release.Text != "" {
			all.add(c.revisionFaults(path, model, p.Release))
		}
	}
	return all.faults, all.err
}
