package catalogue

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"rodlore/models"
	"rodlore/models/spelling"
)

// recordFaults are the faults of what was measured, built, heard and ticked: of the
// files by themselves, and of what they say of the range.
func (r *Range) recordFaults() (models.Faults, error) {
	var all models.Faults
	for _, find := range []func() (models.Faults, error){r.sheetFaults, r.buildFaults, r.heardFaults, r.reviewFaults, r.noteFaults, r.logoFaults} {
		faults, err := find()
		if err != nil {
			return nil, err
		}
		all = append(all, faults...)
	}
	return all, nil
}

// savedRecordFaults are those of the records among files that are to be saved.
func (r *Range) savedRecordFaults(files map[string][]byte) (models.Faults, error) {
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
	all, err := r.recordFaults()
	return slices.DeleteFunc(all, func(f *models.Fault) bool { return files[f.Pos.File] == nil }), err
}

// faultAt makes a fault of what a record says.
func faultAt(pos models.Pos, path, format string, args ...any) *models.Fault {
	return &models.Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)}
}

// buildFaults are the faults of all files of builds/.
func (r *Range) buildFaults() (models.Faults, error) {
	years, faults, err := r.years()
	if err != nil {
		return nil, err
	}
	whole := len(faults) == 0 // else a rod may be in a file that cannot be read
	rods, doubled := bySerial(years)
	faults = append(faults, doubled...)
	for _, year := range years {
		for _, rod := range year.content.Built {
			path := "built[" + rod.Serial.Text + "]"
			faults = append(faults, yearFaults(year.name, path, rod.Date)...)
			found, err := r.revisionFaults(path, rod.Model, rod.Release)
			if err != nil {
				return nil, err
			}
			faults = append(faults, found...)
		}
		for _, repair := range year.content.Repairs {
			path := "repairs[" + repair.Serial.Text + "]"
			faults = append(faults, yearFaults(year.name, path, repair.Date)...)
			rod := rods[repair.Serial.Text]
			switch {
			case rod != nil:
				faults = append(faults, r.repairFaults(path, repair, rod)...)
			case whole:
				faults = append(faults, faultAt(repair.Serial.Pos, path+".serial", "no rod has the number %q%s",
					repair.Serial, spelling.DidYouMean(repair.Serial.Text, slices.Sorted(maps.Keys(rods)))))
			}
		}
	}
	return faults, nil
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

// revisionFaults looks up the revision that a record names.
func (r *Range) revisionFaults(path string, model, release models.Word) (models.Faults, error) {
	_, err := r.lineage(model.Text)
	switch {
	case errors.Is(err, ErrNotFound):
		known, err := r.Models()
		if err != nil {
			return nil, err
		}
		return models.Faults{faultAt(model.Pos, path+".model", "no model is named %q%s", model, spelling.DidYouMean(model.Text, known))}, nil
	case err != nil:
		return nil, err
	}
	if _, err := r.Recorded(model.Text, release.Text); err != nil {
		return models.Faults{faultAt(release.Pos, path+".release", "%v", err)}, nil
	}
	return nil, nil
}

// repairFaults holds a repair against the rod that was mended.
func (r *Range) repairFaults(path string, repair models.Repair, rod *models.BuiltRod) models.Faults {
	var faults models.Faults
	if repair.Date.Day.Before(rod.Date.Day) {
		faults = append(faults, faultAt(repair.Date.Pos, path+".date", "%q is before the rod was built, on %s", repair.Date.Text, rod.Date.Text))
	}
	rev, err := r.Recorded(rod.Model.Text, rod.Release.Text)
	if repair.Section.Text == "" || err != nil || rev.Fault() != nil {
		return faults
	}
	var names []string
	for _, s := range rev.Spec().Sections {
		names = append(names, s.Name.Text)
	}
	if !slices.Contains(names, repair.Section.Text) {
		faults = append(faults, faultAt(repair.Section.Pos, path+".section",
			"the rod has no section named %q%s", repair.Section, spelling.DidYouMean(repair.Section.Text, names)))
	}
	return faults
}

// heardFaults are the faults of all files of heard/.
func (r *Range) heardFaults() (models.Faults, error) {
	files, faults, err := inFolder(r, heardFolder, models.ParseHeard)
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		model := models.Word{Text: f.name, Pos: models.Pos{File: f.content.File, Line: 1, Col: 1}}
		for i, remark := range f.content.Remarks {
			found, err := r.revisionFaults(fmt.Sprintf("heard[%d]", i+1), model, remark.Release)
			if err != nil {
				return nil, err
			}
			faults = append(faults, found...)
		}
	}
	return faults.Sorted(), nil
}

// reviewFaults are the faults of all files of reviews/.
func (r *Range) reviewFaults() (models.Faults, error) {
	files, faults, err := inFolder(r, reviewsFolder, models.ParseReviews)
	if err != nil {
		return nil, err
	}
	known, err := r.Models()
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if _, err := r.lineage(f.name); errors.Is(err, ErrNotFound) {
			faults = append(faults, faultAt(models.Pos{File: f.content.File, Line: 1, Col: 1}, "",
				"no model is named %q%s; name the file for the model that was checked", f.name, spelling.DidYouMean(f.name, known)))
		}
	}
	return faults, nil
}
