package catalogue

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"time"

	"rodlore/models"
)

// ErrUnchanged is returned where there is nothing to save.
var ErrUnchanged = errors.New("nothing has changed since it was saved")

// SaveRequest is what a maker says with a save.
type SaveRequest struct {
	Models []string // whose edits to save, with those of the shared files
	Files  []string // to save besides, "builds/2026.yaml"; without models and files it is the whole range
	Why    string   // the reason; required
	Tell   string   // words for customers
	Author string   // "" means the user's own git identity
	When   time.Time
	Now    time.Time // when it is saved, where When is an earlier day; else zero
}

// Saved is what a save did.
type Saved struct {
	State  string
	Files  []string // that were recorded
	Models []string // that have a new revision by it
	Same   []string // models whose rod it leaves as it was, and of which it says something else
	Gone   []string // models that it takes out of the range
	Left   []string // models that stay in it, though their files are gone: they were not named
}

// Save records the edits of the range, or of some of its models with what was
// built, measured and heard of their rods, as a new saved state. Edits of shared
// files always go with a model, since a revision needs the parts it was made
// with. A model whose file is gone is taken out where it was named. Files with
// faults are refused: the error is then a models.Faults with
// every fault.
func (r *Range) Save(ctx context.Context, req SaveRequest) (*Saved, error) {
	if strings.TrimSpace(req.Why) == "" {
		return nil, Advise(GiveReason, nil, "say why")
	}
	if err := checkReason(req.Why, req.Tell); err != nil {
		return nil, err
	}
	before := r.index.savedFiles()
	for range saveTries {
		saved, err := r.saveOnce(ctx, req, before)
		if !errors.Is(err, ErrMoved) || errors.As(err, new(*Advised)) {
			return saved, err
		}
		if err := r.Refresh(ctx); err != nil {
			return nil, err
		}
	}
	return nil, fmt.Errorf("%w, %d times in a row; nothing of yours is saved yet: save again", ErrMoved, saveTries)
}

// saveTries is how often a save begins again where others save at the same time.
// Each time one of them succeeds, so it takes as many as there are others.
const saveTries = 50

// Refresh reads the history again, as it stands now.
func (r *Range) Refresh(ctx context.Context) error {
	log, err := r.src.Log(ctx)
	if err != nil {
		return err
	}
	r.take(log)
	return nil
}

// saveOnce saves on top of the last state known. before are the range's files as
// they were saved when the save began.
func (r *Range) saveOnce(ctx context.Context, req SaveRequest, before map[string]string) (*Saved, error) {
	scope, err := r.scopeOf(req)
	if err != nil {
		return nil, err
	}
	files, err := r.edits(ctx, scope)
	if err != nil {
		return nil, err
	}
	left, err := r.Gone(ctx)
	if err != nil {
		return nil, err
	}
	left = slices.DeleteFunc(left, func(model string) bool { return scope.names(modelFile(model)) })
	for _, model := range left {
		delete(files, modelFile(model))
	}
	if len(files) == 0 {
		return nil, r.unchanged(slices.Concat(req.Models, req.Files))
	}
	saved := r.index.savedFiles()
	for _, f := range slices.Sorted(maps.Keys(files)) {
		if saved[f] != before[f] {
			// On top of theirs, a save would undo what they did.
			return nil, Advise(SeeTheirs, []string{f}, "%w: %s is another one in it", ErrMoved, f)
		}
	}
	touched, same, err := r.touched(files)
	if err != nil {
		return nil, err
	}
	if err := r.checkDay(touched, req); err != nil {
		return nil, err
	}
	id, err := r.src.Save(ctx, Save{
		Parent: r.index.Head, Files: files, Message: Message(req.Why, req.Tell),
		Author: req.Author, When: req.When, Now: req.Now,
	})
	if err != nil {
		return nil, err
	}
	return &Saved{State: id, Files: slices.Sorted(maps.Keys(files)), Models: touched, Same: same, Gone: goneModels(files), Left: left}, nil
}

// checkDay refuses a day that lies before that of a revision which the save
// follows.
func (r *Range) checkDay(touched []string, req SaveRequest) error {
	if req.Now.IsZero() {
		return nil
	}
	for _, model := range touched {
		if before, err := r.At(model, r.index.Head); err == nil && before != nil && req.When.Format(time.DateOnly) < before.Day() {
			return fmt.Errorf("%s lies before %s, the day of the revision of %s that this one follows", req.When.Format(time.DateOnly), before.Day(), model)
		}
	}
	return nil
}

// goneModels are the models whose files a save takes away, without those whose
// spec it puts under another name.
func goneModels(files map[string][]byte) []string {
	renamed := map[string]bool{}
	for f, src := range files {
		if m, err := models.ParseModel(f, src); src != nil && err == nil {
			renamed[m.Was.Text] = true
		}
	}
	var gone []string
	for f, src := range files {
		if name, ok := modelName(f); ok && src == nil && !renamed[name] {
			gone = append(gone, name)
		}
	}
	slices.Sort(gone)
	return gone
}

// unchanged says what is as it was.
func (r *Range) unchanged(names []string) error {
	what := "the range"
	if len(names) > 0 {
		what = strings.Join(names, ", ")
	}
	return fmt.Errorf("%s: %w", what, ErrUnchanged)
}

// edits are the files of a scope that stand otherwise than they were saved.
func (r *Range) edits(ctx context.Context, scope *scope) (map[string][]byte, error) {
	saved := r.index.savedFiles()
	now, err := r.workingFiles()
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, f := range now {
		src, err := r.src.Working(f)
		if err != nil {
			return nil, err
		}
		edited, err := r.edited(ctx, scope, f, src, saved[f])
		if err != nil {
			return nil, err
		}
		if edited {
			files[f] = src
		}
	}
	for f, blob := range saved {
		if slices.Contains(now, f) {
			continue
		}
		taken, err := r.takesSaved(ctx, scope, f, blob)
		if err != nil {
			return nil, err
		}
		if !taken {
			continue
		}
		switch _, err := r.src.Working(f); {
		case errors.Is(err, fs.ErrNotExist):
			files[f] = nil
		case err != nil:
			return nil, err
		}
	}
	return files, nil
}

// takesSaved reports whether a file is taken along for what it was saved as: of a
// record that is gone or was moved nothing else says whose it is.
func (r *Range) takesSaved(ctx context.Context, scope *scope, file, blob string) (bool, error) {
	if blob == "" || scope.takes(file, nil) || !isRecordOfSeveral(file) {
		return blob != "" && scope.takes(file, nil), nil
	}
	was, err := r.src.Blob(ctx, blob)
	return err == nil && scope.takes(file, was), err
}

// isRecordOfSeveral reports whether a file's content, and not its name, says
// which models it is about.
func isRecordOfSeveral(file string) bool {
	_, bench := nameIn(benchFolder, file)
	_, builds := nameIn(buildsFolder, file)
	return bench || builds
}

// edited reports whether a file is of a scope and stands otherwise than it was
// saved. What git is to leave alone goes along with nothing.
func (r *Range) edited(ctx context.Context, scope *scope, file string, now []byte, blob string) (bool, error) {
	if !scope.takes(file, now) {
		if taken, err := r.takesSaved(ctx, scope, file, blob); err != nil || !taken {
			return false, err
		}
	}
	if blob != "" {
		same, err := r.asSaved(ctx, blob, now)
		return !same, err
	}
	ignored, err := r.src.Ignored(file)
	if err == nil && ignored && scope.names(file) {
		err = Advise(FindIgnored, []string{file}, "%s is not saved, since git is told to leave it alone", file)
	}
	return !ignored, err
}

// asSaved reports whether a file stands as it was saved; line ends do not
// count.
func (r *Range) asSaved(ctx context.Context, blob string, now []byte) (bool, error) {
	old, err := r.src.Blob(ctx, blob)
	if err != nil {
		return false, err
	}
	return bytes.Equal(unixLines(old), unixLines(now)), nil
}

func unixLines(b []byte) []byte { return bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n")) }

// touched checks everything that a save of those files would record, and lists
// the models that have a new revision by it, and those of whose rod it only says
// something else. A model that has had a fault for long does not keep others from
// being saved.
func (r *Range) touched(files map[string][]byte) (touched, same []string, err error) {
	faults, err := r.sharedFaults(files)
	if err != nil {
		return nil, nil, err
	}
	recorded, err := r.savedRecordFaults(files)
	if err != nil {
		return nil, nil, err
	}
	unfit, err := r.newNames(files)
	if err != nil {
		return nil, nil, err
	}
	faults = slices.Concat(faults, recorded, unfit)
	saved := r.index.savedFiles()
	for _, name := range savedModels(saved, files) {
		before := r.specs.of(r.snapshotOf(name, saved, nil))
		after := r.specs.of(r.snapshotOf(name, saved, files))
		if before.whole == after.whole {
			continue
		}
		if before.id == after.id {
			same = append(same, name)
			continue
		}
		touched = append(touched, name)
		var found models.Faults
		switch {
		case errors.As(after.fault, &found):
			faults = append(faults, found...)
		case after.fault != nil:
			return nil, nil, after.fault
		}
	}
	if len(faults) > 0 {
		return nil, nil, faults.Sorted()
	}
	return touched, same, nil
}

// savedModels are the models that the range has once files are saved.
func savedModels(saved map[string]string, files map[string][]byte) []string {
	names := map[string]bool{}
	for f := range saved {
		if name, ok := modelName(f); ok {
			names[name] = true
		}
	}
	for f, src := range files {
		if name, ok := modelName(f); ok {
			names[name] = src != nil
		}
	}
	maps.DeleteFunc(names, func(_ string, there bool) bool { return !there })
	return slices.Sorted(maps.Keys(names))
}

// snapshotOf is what a model is made of in the state saved last, with files put
// over it.
func (r *Range) snapshotOf(name string, saved map[string]string, files map[string][]byte) snapshot {
	blob := func(file string) string {
		if src, ok := files[file]; ok && src != nil {
			return r.specs.draft(file, src)
		}
		return saved[file]
	}
	file := modelFile(name)
	return snapshot{file, blob(file), blob(partsFile), blob(materialsFile)}
}

// sharedFaults are the faults of the files that all models share.
func (r *Range) sharedFaults(files map[string][]byte) (models.Faults, error) {
	checks := map[string]func(string, []byte) error{
		rangeFile:     func(f string, b []byte) error { _, err := models.ParseSettings(f, b); return err },
		partsFile:     r.checkParts,
		materialsFile: func(f string, b []byte) error { _, err := models.ParseMaterials(f, b); return err },
		wordsFile:     r.checkWords,
	}
	var faults models.Faults
	for file, check := range checks {
		src := files[file]
		if src == nil {
			continue
		}
		err := check(file, src)
		var found models.Faults
		if err != nil && !errors.As(err, &found) {
			return nil, err
		}
		faults = append(faults, found...)
	}
	return faults, nil
}

// checkParts reads the parts, whose prices are added up and so are of one currency.
func (r *Range) checkParts(file string, src []byte) error {
	parts, err := models.ParseParts(file, src)
	if err != nil {
		return err
	}
	set, err := r.Settings()
	if err != nil {
		return nil //nolint:nilerr // told of its own file
	}
	return set.CheckPrices(parts)
}

// Head is the identity of the last saved state; "" before the first.
func (r *Range) Head() string { return r.index.Head }

// IsSaved reports whether a file of the range stands as it was saved last.
func (r *Range) IsSaved(ctx context.Context, file string) (bool, error) {
	now, err := r.src.Working(file)
	if err != nil {
		return false, err
	}
	blob := r.index.savedFiles()[file]
	if blob == "" {
		return false, nil
	}
	return r.asSaved(ctx, blob, now)
}

// Refused says why a file of the range could not be saved as it stands, or once it
// is there; nil where it can be.
func (r *Range) Refused(file string) error { return r.src.Refused(file) }
