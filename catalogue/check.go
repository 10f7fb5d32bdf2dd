package catalogue

import (
	"context"
	"errors"
	"slices"

	"rodlore/catalogue/working"
	"rodlore/models"
)

// Checks finds what is wrong with the files of a range and what became of its history.
type Checks struct {
	*Records
	checkWords func(file string, src []byte) error
}

// CheckWords says how words.yaml is held against the sentences that there are.
func (c *Checks) CheckWords(check func(file string, src []byte) error) { c.checkWords = check }

// Lost lists what of the saved states is not there any more, beyond what the
// Notes say.
func (c *Checks) Lost(ctx context.Context) ([]error, error) {
	keeper, ok := c.src.(Keeper)
	if !ok {
		return nil, nil
	}
	lost, err := keeper.Missing(ctx)
	told := map[string]bool{}
	for _, n := range c.Notes() {
		told[n.Error()] = true
	}
	return slices.DeleteFunc(lost, func(n error) bool { return told[n.Error()] }), err
}

// Check gives every fault of the models named, as their files stand now, of the
// shared files and of what was measured, built and heard; of all models where
// none is named. It is nil where all is well. An error is one of the range
// itself, such as a model that is not there.
func (c *Checks) Check(ctx context.Context, names ...string) (models.Faults, error) {
	if len(names) == 0 {
		var err error
		if names, err = c.Models(); err != nil {
			return nil, err
		}
	}
	if err := c.Follow(ctx, names...); err != nil {
		return nil, err
	}
	shared := map[string][]byte{}
	for _, file := range []string{rangeFile, partsFile, materialsFile, wordsFile} {
		src, err := c.working(file)
		if errors.Is(err, working.ErrUnusable) {
			continue // told below
		}
		if err != nil {
			return nil, err
		}
		shared[file] = src
	}
	var all found
	all.add(c.sharedFaults(shared))
	obstacles, err := c.src.Obstacles()
	all.add(nil, err)
	for _, o := range obstacles {
		all.at(models.Pos{File: o.Path, Line: 1, Col: 1}, "", "%s", o.Why)
	}
	for _, name := range names {
		rev, err := c.Draft(name)
		if err != nil {
			return nil, err
		}
		all.tell(rev.Fault())
	}
	c.recordFaults(&all)
	c.refusedFaults(&all)
	all.add(c.checkedNames(names))
	if len(all.faults) == 0 || all.err != nil {
		return nil, all.err
	}
	return all.faults.Sorted(), nil
}

// refusedFaults are the files that could not be saved as they stand.
func (c *Checks) refusedFaults(all *found) {
	files, err := c.workingFiles()
	all.add(nil, err)
	for _, file := range files {
		if err := c.src.Refused(file); err != nil {
			all.at(models.Pos{File: file, Line: 1, Col: 1}, "", "%v", err)
		}
	}
}

// sharedFaults are the faults of the files that all models share.
func (c *Checks) sharedFaults(files map[string][]byte) (models.Faults, error) {
	checks := map[string]func(string, []byte) error{
		rangeFile:     func(f string, b []byte) error { _, err := models.ParseSettings(f, b); return err },
		partsFile:     c.checkParts,
		materialsFile: func(f string, b []byte) error { _, err := models.ParseMaterials(f, b); return err },
		wordsFile:     c.checkWords,
	}
	var all found
	for file, check := range checks {
		if src := files[file]; src != nil {
			all.tell(check(file, src))
		}
	}
	return all.faults, all.err
}

// checkParts reads the parts, whose prices are added up and so are of one currency.
func (c *Checks) checkParts(file string, src []byte) error {
	parts, err := models.ParseParts(file, src)
	if err != nil {
		return err
	}
	set, err := c.Settings()
	if err != nil {
		return nil //nolint:nilerr // told of its own file
	}
	return set.CheckPrices(parts)
}
