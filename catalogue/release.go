package catalogue

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"rodlore/catalogue/seen"
	"rodlore/models"
)

// Releases puts revisions on sale, and says whether their tags stand as they were made.
// A release is an annotated tag named MODEL/LABEL.
type Releases struct {
	*Reviews
	tagged              bool           // since the history was read
	seen, seenElsewhere []seen.Release // releases of it, here and in other copies, as they were seen first
}

var labelRule = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$`)

const labelHelp = "use letters, digits, points and dashes, such as 2025 or 2025-b"

// isLabel reports whether a text can be the label of a release; git takes some
// endings for its own.
func isLabel(text string) bool {
	return labelRule.MatchString(text) && !strings.HasSuffix(text, ".") && !strings.Contains(text, "..") && !strings.HasSuffix(text, ".lock")
}

// words that MODEL@REV reads otherwise.
var reserved = map[string]bool{"draft": true, "saved": true}

func tagName(model, label string) string { return model + "/" + label }

func cutLabel(model, tag string) (label string, ok bool) {
	label, ok = strings.CutPrefix(tag, model+"/")
	return label, ok && !strings.Contains(label, "/")
}

// ErrNotFit is returned, wrapped with the reasons, where a rod that is not fit
// is to go on sale and no reason is given why it should all the same.
var ErrNotFit = errors.New("not fit to go on sale")

// ReleaseRequest is what a maker says with a release.
type ReleaseRequest struct {
	Label   string
	Despite string // why it goes on sale though it is not fit
	Sign    bool   // the tag, as the user's git settings say
	Author  string // "" means the user's own git identity
	When    time.Time
	// Word puts what speaks against the rod into the words that stay with the tag.
	Word func(Reason) string
}

// word puts a reason into words, or names its rule where there are none.
func (req ReleaseRequest) word(reason Reason) string {
	if req.Word == nil {
		return reason.Rule
	}
	return req.Word(reason)
}

// Release reviews a saved revision and puts it on sale under a label, which then
// stays with it. The tag's message holds the identity of the spec, its figures
// and the verdict. A rod that is not fit is an ErrNotFit unless the request says
// why it goes on sale; the review is given with it.
func (r *Releases) Release(ctx context.Context, rev *Revision, req ReleaseRequest) (*Review, error) {
	if r.tagged { // the record names the releases before it by what became of them
		if err := r.Refresh(ctx); err != nil {
			return nil, err
		}
		r.tagged = false
	}
	if err := r.releasable(rev, req.Label); err != nil {
		return nil, err
	}
	if on := req.When.Format(time.DateOnly); !req.When.IsZero() && on < rev.Day() {
		return nil, fmt.Errorf("%s lies before %s, the day that revision %s of %s was saved", on, rev.Day(), rev.ShortID(), rev.Model)
	}
	signs, err := r.SignsReleases()
	if err != nil {
		return nil, err
	}
	req.Sign = req.Sign || signs
	if err := r.mustSign(req.Sign); err != nil {
		return nil, err
	}
	review, err := r.Review(ctx, rev)
	if err != nil {
		return nil, err
	}
	despite := oneLine(req.Despite)
	switch {
	case review.Verdict() != NotFit:
		despite = ""
	case despite == "":
		return review, fmt.Errorf("%s %s: %w", rev.Model, req.Label, ErrNotFit)
	}
	note, err := r.noteOf(review, req, despite)
	if err != nil {
		return review, err
	}
	tag := Tag{
		Name: tagName(rev.Model, req.Label), State: rev.standsIn, When: req.When, Author: req.Author, Sign: req.Sign,
		Message: note.write(rev.Spec().Name.Text + " " + req.Label),
	}
	err = r.src.Tag(ctx, tag)
	if errors.Is(err, ErrTagTaken) {
		return review, fmt.Errorf("%s %s: %w; take another label", rev.Model, req.Label, err)
	}
	if err == nil {
		r.tagged = true
		rev.Labels, rev.Status = append(rev.Labels, req.Label), Released
		rev.releases = append(rev.releases, release{req.Label, tag})
	}
	return review, err
}

// releasable says why a revision cannot go on sale under a label, whatever its
// rod is like.
func (r *Releases) releasable(rev *Revision, label string) error {
	switch {
	case !isLabel(label):
		return fmt.Errorf("label %q: %s", label, labelHelp)
	case reserved[label]:
		return fmt.Errorf("label %q: this word means something else after the @; take another, such as %d", label, rev.When.Year())
	case rev.Status == Draft, rev.Edited:
		return rev.unsaved()
	case rev.Fault() != nil:
		return fmt.Errorf("%s cannot be released with faults in its spec:\n%w", rev.Model, rev.Fault())
	}
	l, err := r.lineage(rev.Model)
	if err != nil {
		return err
	}
	for _, other := range l.revisions {
		// Records name revisions that are not on sale so.
		if len(label) >= models.LeastIdentity && l.wentBy(other, label) {
			return fmt.Errorf("label %q: so begins the identity of the revision of %s; take another", label, other.When.Format(time.DateOnly))
		}
		if slices.Contains(other.Labels, label) {
			return fmt.Errorf("%s %s: %w: it was given to revision %s of %s and is never moved; take another label",
				rev.Model, label, ErrTagTaken, other.ShortID(), other.When.Format(time.DateOnly))
		}
	}
	return nil
}

// unsaved refuses a draft that is to be released. What was saved last is offered
// where it is not on sale already.
func (rev *Revision) unsaved() error {
	do := SaveFirst
	if rev.Status == Draft && rev.Before != nil && len(rev.Before.Labels) == 0 {
		do = OrRelease
	}
	return Advise(do, []string{rev.Model}, "%s has edits that are not saved", rev.Model)
}

// SignsReleases reports whether releases are signed unasked.
func (r *Releases) SignsReleases() (bool, error) {
	w, ok := r.src.(Witness)
	if !ok {
		return false, nil
	}
	return w.SignsTags()
}

// ErrUnsigned is returned where a release is not to be signed and range.yaml names
// who signs releases.
var ErrUnsigned = errors.New("range.yaml names who signs releases, and this one would not be signed")

func (r *Releases) mustSign(signed bool) error {
	set, err := r.Settings()
	if err == nil && len(set.Signers) > 0 && !signed {
		err = ErrUnsigned
	}
	return err
}
