package catalogue

import (
	"errors"
	"fmt"
	"maps"
	"path"
	"slices"
	"time"

	"rodlore/catalogue/picture"
	"rodlore/models"
	"rodlore/models/spelling"
)

// recordFaults are the faults of what was measured, built, heard and ticked: of the
// files by themselves, and of what they say of the range.
func (c *Checks) recordFaults(all *found) {
	for _, find := range []func(*found){c.sheetFaults, c.buildFaults, c.heardFaults, c.reviewFaults, c.noteFaults, c.logoFaults} {
		find(all)
	}
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

// at adds a fault of what stands at a place.
func (f *found) at(pos models.Pos, path, format string, args ...any) {
	f.faults = append(f.faults, faultAt(pos, path, format, args...))
}

// savedRecordFaults are those of the records among files that are to be saved.
func (c *Checks) savedRecordFaults(files map[string][]byte) (models.Faults, error) {
	some := false
	for file, src := range files {
		some = some || src != nil && slices.Contains(recordFolders, path.Dir(file))
	}
	if !some {
		return nil, nil
	}
	var all found
	c.recordFaults(&all)
	return slices.DeleteFunc(all.faults, func(f *models.Fault) bool { return files[f.Pos.File] == nil }), all.err
}

// faultAt makes a fault of what a record says.
func faultAt(pos models.Pos, path, format string, args ...any) *models.Fault {
	return &models.Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)}
}

// buildFaults are the faults of all files of builds/.
func (c *Checks) buildFaults(all *found) {
	years, faults, err := c.years()
	all.add(faults, err)
	whole := len(faults) == 0 // else a rod may be in a file that cannot be read
	rods, doubled := bySerial(years)
	all.add(doubled, nil)
	for _, year := range years {
		for _, rod := range year.Built {
			path := "built[" + rod.Serial.Text + "]"
			all.otherYear(path, rod.Date)
			if c.knowsRevision(all, path, rod.Model, rod.Release) {
				c.topFaults(all, path, rod)
			}
		}
		for _, repair := range year.Repairs {
			path := "repairs[" + repair.Serial.Text + "]"
			all.otherYear(path, repair.Date)
			rod := rods[repair.Serial.Text]
			switch {
			case rod != nil:
				c.repairFaults(all, path, repair, rod)
			case whole:
				all.at(repair.Serial.Pos, path+".serial", "no rod has the number %q%s",
					repair.Serial, spelling.DidYouMean(repair.Serial.Text, slices.Sorted(maps.Keys(rods))))
			}
		}
	}
}

// bySerial gives the rods by their numbers, and a fault for every number that is
// given again.
func bySerial(years []*models.Builds) (map[string]*models.BuiltRod, models.Faults) {
	rods := map[string]*models.BuiltRod{}
	var doubled models.Faults
	for _, year := range years {
		for i := range year.Built {
			rod := &year.Built[i]
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

// otherYear holds a date against the year that its file is named for.
func (f *found) otherYear(path string, d models.Date) {
	year := nameOf(d.Pos.File)
	if _, err := time.Parse("2006", year); err != nil {
		f.at(models.Pos{File: d.Pos.File, Line: 1, Col: 1}, "",
			"%q is no year; name the file for the year that its rods were built in, such as %s/2026.yaml", year, buildsFolder)
	} else if d.Day.Format("2006") != year {
		f.at(d.Pos, path+".date", "%q is not of %s, the year of this file; it belongs into %s", d.Text, year, BuildsFile(d))
	}
}

// topFaults looks up the top that a rod was built with.
func (c *Checks) topFaults(all *found, path string, rod models.BuiltRod) {
	rev, err := c.Recorded(rod.Model.Text, rod.Release.Text)
	if err != nil || rod.Top.Text == "" || rev.Fault() != nil {
		return // told as that
	}
	if _, err := rev.With(rod.Top.Text); err != nil {
		all.at(rod.Top.Pos, path+".top", "%v", err)
	}
}

// knowsRevision looks up the revision that a record names.
func (c *Checks) knowsRevision(all *found, path string, model, release models.Word) bool {
	if !c.knowsModel(all, path+".model", model) {
		return false
	}
	_, err := c.Recorded(model.Text, release.Text)
	if err != nil {
		all.at(release.Pos, path+".release", "%v", err)
	}
	return err == nil
}

// knowsModel looks up the model that a record names.
func (c *Checks) knowsModel(all *found, path string, model models.Word) bool {
	_, err := c.lineage(model.Text)
	if errors.Is(err, ErrNotFound) {
		var known []string
		known, err = c.Models()
		all.at(model.Pos, path, "no model is named %q%s", model, spelling.DidYouMean(model.Text, known))
		all.add(nil, err)
		return false
	}
	all.add(nil, err)
	return err == nil
}

// modelOf is the model that a file is named for.
func modelOf(file string) models.Word {
	return models.Word{Text: nameOf(file), Pos: models.Pos{File: file, Line: 1, Col: 1}}
}

// repairFaults holds a repair against the rod that was mended.
func (c *Checks) repairFaults(all *found, path string, repair models.Repair, rod *models.BuiltRod) {
	if repair.Date.Day.Before(rod.Date.Day) {
		all.at(repair.Date.Pos, path+".date", "%q is before the rod was built, on %s", repair.Date.Text, rod.Date.Text)
	}
	rev, err := c.Recorded(rod.Model.Text, rod.Release.Text)
	if repair.Section.Text == "" || err != nil || rev.Fault() != nil {
		return
	}
	if names := rev.Spec().SectionNames(); !slices.Contains(names, repair.Section.Text) {
		all.at(repair.Section.Pos, path+".section", "the rod has no section named %q%s", repair.Section, spelling.DidYouMean(repair.Section.Text, names))
	}
}

// heardFaults are the faults of all files of heard/.
func (c *Checks) heardFaults(all *found) {
	files, faults, err := inFolder(c.Files, heardFolder, models.ParseHeard)
	all.add(faults, err)
	for _, f := range files {
		for i, remark := range f.Remarks {
			c.knowsRevision(all, fmt.Sprintf("heard[%d]", i+1), modelOf(f.File), remark.Release)
		}
	}
}

// reviewFaults are the faults of all files of reviews/.
func (c *Checks) reviewFaults(all *found) {
	files, faults, err := inFolder(c.Files, reviewsFolder, models.ParseReviews)
	all.add(faults, err)
	for _, f := range files {
		var unknown found
		c.knowsModel(&unknown, "", modelOf(f.File))
		for _, fault := range unknown.faults {
			all.at(fault.Pos, fault.Path, "%s; name the file for the model that was checked", fault.Msg)
		}
		all.add(nil, unknown.err)
	}
}

// noteFaults are the faults of all files of notes/.
func (c *Checks) noteFaults(all *found) {
	files, faults, err := inFolder(c.Files, notesFolder, models.ParseNotes)
	all.add(faults, err)
	for _, f := range files {
		model := modelOf(f.File)
		for list, words := range map[string][]models.Rewording{"reworded": f.Reworded, "added": f.Added} {
			for i, w := range words {
				c.knowsRevision(all, fmt.Sprintf("%s[%d]", list, i+1), model, w.Release)
			}
		}
		c.withdrawalFaults(all, model, f.Withdrawn)
		for _, p := range f.Pictures {
			path := "pictures[" + p.File.Text + "]"
			c.lookAt(all, p.File, path+".file")
			if p.Release.Text != "" {
				c.knowsRevision(all, path, model, p.Release)
			}
		}
	}
}

// withdrawalFaults are the labels withdrawn that no release has.
func (c *Checks) withdrawalFaults(all *found, model models.Word, withdrawn []models.Withdrawal) {
	if len(withdrawn) == 0 {
		return
	}
	now, err := c.nameNow(model.Text)
	if err != nil {
		all.add(nil, err)
		return
	}
	l, err := c.lineage(now)
	switch {
	case errors.Is(err, ErrNotFound):
		c.knowsModel(all, "withdrawn.model", model)
		return
	case err != nil:
		all.add(nil, err)
		return
	}
	var labels []string
	for _, rev := range l.revisions {
		labels = append(labels, rev.Labels...)
	}
	for _, w := range withdrawn {
		if !slices.Contains(labels, w.Label.Text) {
			all.at(w.Label.Pos, "withdrawn["+w.Label.Text+"].label", "no release has that label%s", spelling.DidYouMean(w.Label.Text, labels))
		}
	}
}

// sheetFaults are the faults of all sheets; that a model is not there is one.
func (c *Checks) sheetFaults(all *found) {
	sheets, faults, err := c.allSheets()
	all.add(faults, err)
	for _, s := range sheets {
		c.knowsModel(all, "model", s.Model)
	}
}

// lookAt checks that a picture can be shown.
func (c *Checks) lookAt(all *found, file models.Word, path string) {
	_, err := pictured(c.Files, file, path, func(src []byte) (any, error) { return nil, picture.Check(file.Text, src) })
	all.tell(err)
}

// logoFaults is that the logo cannot be shown.
func (c *Checks) logoFaults(all *found) {
	if set, err := c.Settings(); err == nil && set.Maker.Logo.Text != "" { // an error is told of its own file
		c.lookAt(all, set.Maker.Logo, "maker.logo")
	}
}
