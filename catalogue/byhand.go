package catalogue

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"rodlore/models"
)

// HandCheck is a check by hand with its tick for one revision, if it has one.
type HandCheck struct {
	models.HandCheck
	Tick *models.Tick // the last one; nil where it was not ticked
}

// reviewFile is the file of what was ticked of a model.
func reviewFile(model string) string { return reviewsFolder + "/" + model + ".yaml" }

// inSeveral are checks that only a rod of several sections can be put to.
var inSeveral = map[string]bool{"joints": true}

// ByHand lists what to check by hand on rods of a revision, with what was ticked
// of that very revision. A tick for another one counts for nothing here: what was
// altered may have undone it.
func (r *Range) ByHand(rev *Revision) ([]HandCheck, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, err
	}
	ticked, err := r.ticked(rev)
	if err != nil {
		return nil, err
	}
	var list []HandCheck
	for _, c := range set.ByHand {
		if inSeveral[c.Check.Text] && len(rev.Spec.Sections) < 2 {
			continue
		}
		list = append(list, HandCheck{c, ticked[c.Check.Text]})
	}
	return list, nil
}

// ticked are the last ticks for a revision by the names of the checks.
func (r *Range) ticked(rev *Revision) (map[string]*models.Tick, error) {
	file := reviewFile(rev.Model)
	src, err := r.working(file)
	if err != nil {
		return nil, err
	}
	reviews, err := models.ParseReviews(file, src)
	if err != nil {
		return nil, err
	}
	ticked := map[string]*models.Tick{}
	for i := range reviews.Ticked {
		t := &reviews.Ticked[i]
		if strings.HasPrefix(rev.ID, t.Revision.Text) {
			ticked[t.Check.Text] = t
		}
	}
	return ticked, nil
}

// TickedFile is the file of a model's ticks as it stands, nil where it is not
// there, and as it is with more of them.
type TickedFile struct {
	Path     string
	Old, New []byte
}

// Tick ticks checks of a revision, by somebody and on a day. Nothing is written;
// the caller has the file to write.
func (r *Range) Tick(rev *Revision, checks []string, by string, on time.Time) (*TickedFile, error) {
	if rev.Fault != nil {
		return nil, rev.Fault
	}
	list, err := r.ByHand(rev)
	if err != nil {
		return nil, err
	}
	file := &TickedFile{Path: reviewFile(rev.Model)}
	file.Old, err = r.src.Working(file.Path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	file.New = file.Old
	for _, check := range checks {
		if err := tickable(list, check); err != nil {
			return nil, err
		}
		file.New, err = models.Append(file.Path, file.New, "ticked", []models.Pair{
			{Key: "check", Value: check}, {Key: "revision", Value: rev.ShortID()},
			{Key: "date", Value: on.Format(time.DateOnly)}, {Key: "by", Value: by},
		})
		if err != nil {
			return nil, err
		}
	}
	return file, nil
}

// tickable says why a check cannot be ticked.
func tickable(list []HandCheck, check string) error {
	var names []string
	for _, c := range list {
		names = append(names, c.Check.Text)
	}
	i := slices.Index(names, check)
	if i < 0 {
		return fmt.Errorf("no check by hand is called %q%s; there is %s", check, models.DidYouMean(check, names), strings.Join(names, ", "))
	}
	if t := list[i].Tick; t != nil {
		return fmt.Errorf("%s: %w: by %s on %s, for this very revision", check, ErrTicked, t.By, t.Date.Text)
	}
	return nil
}

// ErrTicked is returned, wrapped with who and when, where a check was ticked
// already.
var ErrTicked = errors.New("is ticked already")
