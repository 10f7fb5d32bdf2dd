package catalogue

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"rodlore/models"
	"rodlore/models/spelling"
)

// HandCheck is a check by hand with its tick for one revision, if it has one.
type HandCheck struct {
	models.HandCheck
	Tick *models.Tick // the last one; nil where it was not ticked
}

// ReviewFile is the file of what was ticked of a model.
func ReviewFile(model string) string { return reviewsFolder + "/" + model + ".yaml" }

// ofBare are the checks that a blank can be put to while it is bare.
var ofBare = map[string]bool{"joints": true, "spine": true, "curve": true}

// inSeveral are checks that only a rod of several sections can be put to.
var inSeveral = map[string]bool{"joints": true}

// ByHand lists what to check by hand on rods of a revision, with what was ticked
// of that very revision. A tick for another one counts for nothing here: what was
// altered may have undone it.
func (r *Records) ByHand(rev *Revision) ([]HandCheck, error) {
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
		if s := rev.Spec(); inSeveral[c.Check.Text] && s.Pieces() < 2 || s.Bare && !ofBare[c.Check.Text] {
			continue
		}
		list = append(list, HandCheck{c, ticked[c.Check.Text]})
	}
	return list, nil
}

// ticked are the last ticks for a revision, under any name that the model had, by
// the names of the checks.
func (r *Records) ticked(rev *Revision) (map[string]*models.Tick, error) {
	ticked := map[string]*models.Tick{}
	l, err := r.lineage(rev.Model)
	if err != nil {
		return nil, err
	}
	all, err := ofModel(r.History, rev.Model, ReviewFile, models.ParseReviews)
	if err != nil {
		return nil, err
	}
	for _, reviews := range slices.Backward(all) {
		for i := range reviews.Ticked {
			t := &reviews.Ticked[i]
			if l.wentBy(rev, t.Revision.Text) {
				ticked[t.Check.Text] = t
			}
		}
	}
	return ticked, nil
}

// Tickable says why a check of a revision cannot be ticked: there is none of that
// name, or it is ticked already.
func (r *Records) Tickable(rev *Revision, check string) error {
	if rev.Fault() != nil {
		return rev.Fault()
	}
	list, err := r.ByHand(rev)
	if err != nil {
		return err
	}
	var names []string
	for _, c := range list {
		names = append(names, c.Check.Text)
	}
	i := slices.Index(names, check)
	if i < 0 {
		return fmt.Errorf("no check by hand is called %q%s; there is %s", check, spelling.DidYouMean(check, names), strings.Join(names, ", "))
	}
	if t := list[i].Tick; t != nil {
		return fmt.Errorf("%s: %w: by %s on %s, for this very revision", check, errTicked, t.By, t.Date.Text)
	}
	return nil
}

// errTicked is returned, wrapped with who and when, where a check was ticked
// already.
var errTicked = errors.New("is ticked already")
