package catalogue

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"time"

	"rodlore/models"
)

// Saves puts the files as they stand, and old notes, into the history.
type Saves struct{ *Checks }

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
func (s *Saves) Save(ctx context.Context, req SaveRequest) (*Saved, error) {
	if strings.TrimSpace(req.Why) == "" {
		return nil, Advise(GiveReason, nil, "say why")
	}
	if err := checkReason(req.Why, req.Tell); err != nil {
		return nil, err
	}
	before := s.index.savedFiles()
	for range saveTries {
		saved, err := s.saveOnce(ctx, req, before)
		if !errors.Is(err, ErrMoved) || errors.As(err, new(*Advised)) {
			return saved, err
		}
		if err := s.Refresh(ctx); err != nil {
			return nil, err
		}
	}
	return nil, fmt.Errorf("%w, %d times in a row; nothing of yours is saved yet: save again", ErrMoved, saveTries)
}

// saveTries is how often a save begins again where others save at the same time.
// Each time one of them succeeds, so it takes as many as there are others.
const saveTries = 50

// saveOnce saves on top of the last state known. before are the range's files as
// they were saved when the save began.
func (s *Saves) saveOnce(ctx context.Context, req SaveRequest, before map[string]string) (*Saved, error) {
	scope, err := s.scopeOf(req)
	if err != nil {
		return nil, err
	}
	files, err := s.edits(ctx, scope)
	if err != nil {
		return nil, err
	}
	left, err := s.Gone(ctx)
	if err != nil {
		return nil, err
	}
	left = slices.DeleteFunc(left, func(model string) bool { return scope.names(modelFile(model)) })
	for _, model := range left {
		delete(files, modelFile(model))
	}
	if len(files) == 0 {
		return nil, s.unchanged(slices.Concat(req.Models, req.Files))
	}
	saved := s.index.savedFiles()
	for _, f := range slices.Sorted(maps.Keys(files)) {
		if saved[f] != before[f] {
			// On top of theirs, a save would undo what they did.
			return nil, Advise(SeeTheirs, []string{f}, "%w: %s is another one in it", ErrMoved, f)
		}
	}
	touched, same, err := s.touched(files)
	if err != nil {
		return nil, err
	}
	if err := s.checkDay(touched, req); err != nil {
		return nil, err
	}
	id, err := s.src.Save(ctx, Save{
		Parent: s.index.Head, Files: files, Message: Message(req.Why, req.Tell),
		Author: req.Author, When: req.When, Now: req.Now,
	})
	if err != nil {
		return nil, err
	}
	return &Saved{State: id, Files: slices.Sorted(maps.Keys(files)), Models: touched, Same: same, Gone: goneModels(files), Left: left}, nil
}

// checkDay refuses a day that lies before that of a revision which the save
// follows.
func (s *Saves) checkDay(touched []string, req SaveRequest) error {
	if req.Now.IsZero() {
		return nil
	}
	for _, model := range touched {
		if before, err := s.At(model, s.index.Head); err == nil && before != nil && req.When.Format(time.DateOnly) < before.Day() {
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
func (s *Saves) unchanged(names []string) error {
	what := "the range"
	if len(names) > 0 {
		what = strings.Join(names, ", ")
	}
	return fmt.Errorf("%s: %w", what, ErrUnchanged)
}

// edits are the files of a scope that stand otherwise than they were saved.
func (s *Saves) edits(ctx context.Context, scope *scope) (map[string][]byte, error) {
	saved := s.index.savedFiles()
	now, err := s.workingFiles()
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, f := range now {
		src, err := s.src.Working(f)
		if err != nil {
			return nil, err
		}
		edited, err := s.edited(ctx, scope, f, src, saved[f])
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
		taken, err := s.takesSaved(ctx, scope, f, blob)
		if err != nil {
			return nil, err
		}
		if !taken {
			continue
		}
		switch _, err := s.src.Working(f); {
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
func (s *Saves) takesSaved(ctx context.Context, scope *scope, file, blob string) (bool, error) {
	if blob == "" || scope.takes(file, nil) || !ofSeveral[path.Dir(file)] {
		return blob != "" && scope.takes(file, nil), nil
	}
	was, err := s.src.Blob(ctx, blob)
	return err == nil && scope.takes(file, was), err
}

// ofSeveral are the folders of files whose content, and not their name, says which
// models they are about.
var ofSeveral = map[string]bool{benchFolder: true, buildsFolder: true}

// edited reports whether a file is of a scope and stands otherwise than it was
// saved. What git is to leave alone goes along with nothing.
func (s *Saves) edited(ctx context.Context, scope *scope, file string, now []byte, blob string) (bool, error) {
	if !scope.takes(file, now) {
		if taken, err := s.takesSaved(ctx, scope, file, blob); err != nil || !taken {
			return false, err
		}
	}
	if blob != "" {
		same, err := s.asSaved(ctx, blob, now)
		return !same, err
	}
	ignored, err := s.src.Ignored(file)
	if err == nil && ignored && scope.names(file) {
		err = Advise(FindIgnored, []string{file}, "%s is not saved, since it is to be left alone", file)
	}
	return !ignored, err
}

// touched checks everything that a save of those files would record, and lists
// the models that have a new revision by it, and those of whose rod it only says
// something else. A model that has had a fault for long does not keep others from
// being saved.
func (s *Saves) touched(files map[string][]byte) (touched, same []string, err error) {
	var all found
	all.add(s.sharedFaults(files))
	all.add(s.savedRecordFaults(files))
	all.add(s.newNames(files))
	saved := s.index.savedFiles()
	for _, name := range savedModels(saved, files) {
		before := s.specs.of(s.snapshotOf(name, saved, nil))
		after := s.specs.of(s.snapshotOf(name, saved, files))
		if before.whole == after.whole {
			continue
		}
		if before.id == after.id {
			same = append(same, name)
			continue
		}
		touched = append(touched, name)
		all.tell(after.slip())
	}
	if err := models.Together(all.err, all.faults); err != nil {
		return nil, nil, err
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
