package catalogue

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"
)

// A release is an annotated tag named MODEL/LABEL.

var labelRule = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._-]{0,39}$`)

// words that MODEL@REV reads otherwise.
var reserved = map[string]bool{"draft": true, "saved": true}

func tagName(model, label string) string { return model + "/" + label }

func cutLabel(model, tag string) (label string, ok bool) {
	label, ok = strings.CutPrefix(tag, model+"/")
	return label, ok && !strings.Contains(label, "/")
}

// Release puts a saved revision on sale under a label, which then stays with
// it. The tag's message holds the identity of the spec and its figures.
func (r *Range) Release(ctx context.Context, rev *Revision, label, author string, when time.Time) error {
	switch {
	case !labelRule.MatchString(label) || strings.HasSuffix(label, ".") || strings.Contains(label, "..") || strings.HasSuffix(label, ".lock"):
		return fmt.Errorf("label %q: use letters, digits, points and dashes, such as 2025 or 2025-b", label)
	case reserved[label]:
		return fmt.Errorf("label %q: this word means something else after the @; take another, such as %d", label, rev.When.Year())
	case rev.Status == Draft:
		return fmt.Errorf("%s has edits that are not saved; save them first with \"rodlore save %s --why …\", or release %s@saved",
			rev.Model, rev.Model, rev.Model)
	case rev.Fault != nil:
		return fmt.Errorf("%s cannot be released with faults in its spec:\n%w", rev.Model, rev.Fault)
	}
	l, err := r.lineage(rev.Model)
	if err != nil {
		return err
	}
	for _, other := range l.revisions {
		for _, taken := range other.Labels {
			if taken == label {
				return fmt.Errorf("%s %s: %w: it was given to revision %s of %s and is never moved; take another label",
					rev.Model, label, ErrTagTaken, other.ShortID(), other.When.Format(time.DateOnly))
			}
		}
	}
	figs, err := r.FiguresWithTolerances(rev)
	if err != nil {
		return err
	}
	set, err := r.Settings()
	if err != nil {
		return err
	}
	note := newReleaseNote(rev, figs, set).write(rev.Spec.Name.Text + " " + label)
	tag := Tag{Name: tagName(rev.Model, label), State: rev.State, When: when, Author: author, Message: note}
	err = r.src.Tag(ctx, tag)
	if errors.Is(err, ErrTagTaken) {
		return fmt.Errorf("%s %s: %w; take another label", rev.Model, label, err)
	}
	if err == nil {
		rev.Labels, rev.Status = append(rev.Labels, label), Released
		rev.releases = append(rev.releases, release{label, tag})
	}
	return err
}
