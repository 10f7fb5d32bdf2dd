package catalogue

import (
	"context"
	"errors"
	"slices"
	"strings"

	"rodlore/catalogue/seen"
	"rodlore/evaluate"
	"rodlore/models"
)

// Recall has the range know which releases were seen of it on this computer, at the
// place where it lies, and adds those that are new to what is remembered. That they
// cannot be is the error, and the range is as it was without it. Where it was made just
// now, what was seen at the place before was of another, and it is no copy of any.
func (r *Releases) Recall(book *seen.Book, place, today string, made bool) error {
	root := r.root()
	if made {
		root = ""
		if _, err := book.Forget(place, ""); err != nil {
			return err
		}
	}
	r.seen, r.seenElsewhere = book.Here(place, root)
	var found []seen.Release
	for _, t := range r.index.Tags {
		if isReleaseTag(t) {
			found = append(found, seen.Release{Place: place, Root: root, Tag: t.Name, ID: t.ID, State: t.State, Day: today})
		}
	}
	return book.Add(found)
}

// isReleaseTag reports whether a tag has the record of a release, or the name of one
// that another model's would have.
func isReleaseTag(t Tag) bool {
	_, label, ok := strings.Cut(t.Name, "/")
	return ok && !strings.Contains(label, "/") &&
		strings.Contains(t.Message, "\n"+noteRevision+": ") && strings.Contains(t.Message, "\n"+noteMethod+": ")
}

// root is the first saved state of the history.
func (h *History) root() string {
	for _, st := range slices.Backward(h.index.States) {
		if len(st.Parents) == 0 {
			return st.ID
		}
	}
	return ""
}

// remembered holds the releases against what was seen of them before, here and in
// other copies of the same history. Of those nobody can tell which copy is right: one
// may be there to try things out, and one that is missing may only not have come yet.
func (h *hearing) remembered() {
	for _, then := range h.seen {
		label, ok := h.lineage.labelOf(then.Tag)
		if !ok || h.isWrong(label) {
			continue
		}
		now := h.named(then.Tag)
		switch {
		case now == nil:
			key := "altered.gone since"
			if model, _, _ := strings.Cut(then.Tag, "/"); model != h.model {
				key = "altered.gone since renamed"
			}
			h.sayInstead(label, then.Tag, key, "day", then.Day, "id", then.ID, "lost", then.Tag)
		case now.tag.ID != then.ID:
			h.sayInstead(label, then.Tag, "altered.other since", "day", then.Day, "id", then.ID)
		}
	}
	for _, then := range h.seenElsewhere {
		label, ok := h.lineage.labelOf(then.Tag)
		if now := h.named(then.Tag); ok && now != nil && now.tag.ID != then.ID && !h.isWrong(label) {
			h.doubt(label, then.Tag, "altered.other elsewhere", "day", then.Day, "place", then.Place, "id", then.ID)
		}
	}
}

// named is the release of a tag.
func (h *hearing) named(tag string) *heardRelease {
	i := slices.IndexFunc(h.heard, func(o heardRelease) bool { return o.tag.Name == tag })
	if i < 0 {
		return nil
	}
	return &h.heard[i]
}

// twice are revisions that were released twice by people who did not know of each
// other: neither record names the other release.
func (h *hearing) twice() {
	knows := func(a, b heardRelease) bool {
		return slices.ContainsFunc(a.note.after, func(n notedRelease) bool { return n.label == b.label })
	}
	for i, b := range h.heard {
		for _, a := range h.heard[:i] {
			if a.note == nil || b.note == nil || a.note.revision != b.note.revision || h.isWrong(a.label) || h.isWrong(b.label) {
				continue
			}
			if !h.follows(a, b) && !h.follows(b, a) && !knows(a, b) && !knows(b, a) {
				h.doubt(b.label, b.tag.Name, "altered.twice", "other", a.label)
			}
		}
	}
}

// follows reports whether the record of a release leads back to another.
func (h *hearing) follows(later, first heardRelease) bool {
	return h.reached([]heardRelease{later}, func(_, one heardRelease, before notedRelease) bool { return one.label == before.label })[first.tag.ID]
}

// reached are the releases that records lead back to from some, these included, by the
// identities of their tags; is says whether by its record a release names another.
func (h *hearing) reached(from []heardRelease, is func(by, one heardRelease, before notedRelease) bool) map[string]bool {
	reached := map[string]bool{}
	for len(from) > 0 {
		one := from[0]
		from = from[1:]
		if reached[one.tag.ID] {
			continue
		}
		reached[one.tag.ID] = true
		if one.note == nil {
			continue
		}
		for _, before := range one.note.after {
			for _, o := range h.heard {
				if is(one, o, before) {
					from = append(from, o)
				}
			}
		}
	}
	return reached
}

// witnessed holds the releases against what the repository can say of them beyond
// the history: whether it is whole, and who signed.
func (h *hearing) witnessed(ctx context.Context) error {
	w, ok := h.src.(Witness)
	if !ok {
		return nil
	}
	errs := make([]error, len(h.heard))
	err := evaluate.InParallel(ctx, len(h.heard), func(i int) { // each runs a program
		if one := &h.heard[i]; one.tag.State != "" {
			one.signature, errs[i] = w.Signature(ctx, one.tag)
		}
	})
	if err := errors.Join(append(errs, err)...); err != nil {
		return err
	}
	for i := range h.heard {
		one := &h.heard[i]
		if one.tag.State == "" { // what it was on cannot be read
			continue
		}
		if err := w.Intact(ctx, one.tag.State); err != nil {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if !h.isWrong(one.label) {
				h.sayInstead(one.label, one.tag.Name, "altered.not whole", "why", err)
			}
		}
		if !h.isWrong(one.label) {
			h.signed(one)
		}
	}
	return h.vouched()
}

// signed looks at the signature of a release by itself.
func (h *hearing) signed(one *heardRelease) {
	switch {
	case one.signature.Broken:
		h.sayInstead(one.label, one.tag.Name, "altered.broken signature", "why", one.signature.Why)
	case one.signature.Format == "" && one.note != nil && one.note.signed:
		h.sayInstead(one.label, one.tag.Name, "altered.signature gone")
	}
}

// vouched holds the releases to those whom range.yaml names as signers. A release
// that one of them signed vouches for all that its record names by their identities,
// and these for what theirs name. Where nobody is named, it is only told of whom a
// signature is not known to be.
func (h *hearing) vouched() error {
	set, err := h.Settings()
	if err != nil || len(set.Signers) == 0 {
		for _, one := range h.heard {
			if one.signature.Format != "" && len(one.signature.By) == 0 && !h.isWrong(one.label) {
				h.doubt(one.label, one.tag.Name, "altered.unknown signature", "why", one.signature.Why)
			}
		}
		return nil //nolint:nilerr // faults in range.yaml are told among the faults
	}
	signer := func(by string) bool {
		return slices.ContainsFunc(set.Signers, func(s models.Word) bool { return strings.EqualFold(s.Text, by) })
	}
	var bySigners []heardRelease
	for _, one := range h.heard {
		if slices.ContainsFunc(one.signature.By, signer) {
			bySigners = append(bySigners, one)
		}
	}
	good := h.reached(bySigners, func(by, one heardRelease, before notedRelease) bool {
		return by.note.intact && before.id != "" && one.tag.ID == before.id
	})
	for _, one := range h.heard {
		switch {
		case good[one.tag.ID] || h.isWrong(one.label):
		case one.signature.Format == "":
			h.sayInstead(one.label, one.tag.Name, "altered.unsigned")
		case len(one.signature.By) == 0:
			h.sayInstead(one.label, one.tag.Name, "altered.foreign signature", "why", one.signature.Why)
		default:
			h.sayInstead(one.label, one.tag.Name, "altered.other signer", "by", strings.Join(one.signature.By, ", "))
		}
	}
	return nil
}

// AgainstRemote holds the releases against those that another repository has, which
// is asked for by the name of a remote; "" is the one there is.
func (r *Releases) AgainstRemote(ctx context.Context, remote string) (found []Alteration, err error) {
	w, ok := r.src.(Witness)
	if !ok {
		return nil, ErrNoHistory
	}
	name, ids, err := w.RemoteTags(ctx, remote)
	if err != nil {
		return nil, err
	}
	here := map[string]bool{}
	for _, t := range r.index.Tags {
		model, label, _ := strings.Cut(t.Name, "/")
		if !isReleaseTag(t) {
			continue
		}
		here[t.Name] = true
		switch id := ids[t.Name]; id {
		case t.ID:
		case "":
			found = append(found, Alteration{model, label, t.Name, note("altered.not remote", "remote", name), true})
		default:
			found = append(found, Alteration{model, label, t.Name, note("altered.other remote", "remote", name, "id", id), false})
		}
	}
	for tag, id := range ids {
		model, label, ok := strings.Cut(tag, "/")
		if !ok || here[tag] || strings.Contains(label, "/") {
			continue
		}
		if _, err := r.lineage(model); err == nil {
			found = append(found, Alteration{model, label, tag, note("altered.only remote", "remote", name, "id", id), true})
		}
	}
	slices.SortFunc(found, func(a, b Alteration) int { return strings.Compare(a.Tag, b.Tag) })
	return found, nil
}
