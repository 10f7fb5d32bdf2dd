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
func reviewFile(model string) string { return "reviews/" + model + ".yaml" }

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

// Ticked gives the file of a model's ticks as it stands, which may be none, and
// as it is with one more: a check of a revision, by somebody, on a day.
func (r *Range) Ticked(rev *Revision, check, by string, on time.Time) (file string, old, new []byte, err error) {
	file = reviewFile(rev.Model)
	if rev.Fault != nil {
		return file, nil, nil, rev.Fault
	}
	checks, err := r.ByHand(rev)
	if err != nil {
		return file, nil, nil, err
	}
	var names []string
	for _, c := range checks {
		names = append(names, c.Check.Text)
	}
	i := slices.Index(names, check)
	switch {
	case i < 0:
		return file, nil, nil, fmt.Errorf("no check by hand is called %q%s; there is %s", check, models.DidYouMean(check, names), strings.Join(names, ", "))
	case checks[i].Tick != nil:
		t := checks[i].Tick
		return file, nil, nil, fmt.Errorf("%s: %w: by %s on %s, for this very revision", check, ErrTicked, t.By, t.Date.Text)
	case strings.TrimSpace(by) == "":
		return file, nil, nil, errors.New("say with --by whose eye it was: initials will do")
	}
	old, err = r.src.Working(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return file, nil, nil, err
	}
	new, err = models.Append(file, old, "ticked", []models.Pair{
		{Key: "check", Value: check}, {Key: "revision", Value: rev.ShortID()},
		{Key: "date", Value: on.Format(time.DateOnly)}, {Key: "by", Value: strings.TrimSpace(by)},
	})
	return file, old, new, err
}

// ErrTicked is returned, wrapped with who and when, where a check was ticked
// already.
var ErrTicked = errors.New("is ticked already")
