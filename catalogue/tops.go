package catalogue

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"rodlore/diffing"
	"rodlore/models"
	"rodlore/models/spelling"
)

// With is the revision with another of its tops. It is the same revision, so what it
// is called and what it rests on stays; what is measured on rods is of the main top.
func (r *Revision) With(top string) (*Revision, error) {
	if r.Fault() != nil {
		return nil, r.Fault()
	}
	spec, ok := r.Spec().Top(top)
	if !ok {
		return nil, r.noTop(top)
	}
	with := r.of(spec)
	with.Top, with.releases = top, nil
	return with, nil
}

// of is the revision with another spec: that of one of its tops, or with what is known
// of it besides.
func (r *Revision) of(spec *models.Spec) *Revision {
	is, of := newResolved(spec), *r
	of.whole, of.content, of.outcome = is.whole, contentOf(is), &outcomes{}
	return &of
}

// AsKnown is the revision with what a later one says of the same blank: what was read
// of it or fitted since made no other rod, and would look like a change of it.
// since is false where there is nothing of that.
func (r *Revision) AsKnown(later *Revision) (known *Revision, since bool) {
	if r.Fault() != nil || later.Fault() != nil {
		return r, false
	}
	spec := diffing.AsKnown(r.Spec(), later.Spec())
	if spec == nil {
		return r, false
	}
	return r.of(spec), true
}

func (r *Revision) noTop(top string) error {
	tops, asked := r.Spec().TopNames(), r.Model
	if r.Status == Released {
		asked += "@" + r.Label()
	}
	if len(tops) == 0 {
		return fmt.Errorf("%s+%s: %w: it has no other tops; they stand under tops in its spec", asked, top, ErrNotFound)
	}
	return fmt.Errorf("%s+%s: %w; its other tops are %s", asked, top, ErrNotFound, spelling.List(tops, "and"))
}

// Tops are the revision with each of its other tops, in the order of the spec.
func (r *Revision) Tops() []*Revision {
	var list []*Revision
	if r.Fault() == nil {
		for _, name := range r.Spec().TopNames() {
			if with, err := r.With(name); err == nil {
				list = append(list, with)
			}
		}
	}
	return list
}

// FindRod gives what FindArg does, and by MODEL+TOP or MODEL+TOP@REV the revision
// with another of its tops.
func (h *History) FindRod(arg string) (*Revision, error) {
	name, top := h.CutTop(arg)
	found, err := h.FindArg(name)
	if err != nil || top == "" {
		return found, err
	}
	return found.With(top)
}

// CutTop parts an argument from the top that it names; "" where it names none.
func (h *History) CutTop(arg string) (rest, top string) {
	model, rev, _ := strings.Cut(arg, "@")
	if rev, top, ok := strings.Cut(rev, "+"); ok {
		return model + "@" + rev, top
	}
	name, top, ok := strings.Cut(model, "+")
	if _, err := h.lineage(model); !ok || err == nil { // files had such names once
		return arg, ""
	}
	return name + strings.TrimPrefix(arg, model), top
}

// ofMainTop is what a spec says with its main top alone. A rod with another top has
// none of it, which is no edit.
var ofMainTop = map[string]bool{"name": true, "wants": true, "tops": true, "blank": true}

// ByFamily puts models of one family together, where its name would stand among
// those of models without.
func ByFamily[T any](list []T, family, model func(T) string) {
	slices.SortStableFunc(list, func(a, b T) int {
		return cmp.Compare(cmp.Or(family(a), model(a)), cmp.Or(family(b), model(b)))
	})
}

// Family is what the model is grouped by; "" where it stands alone.
func (r *Revision) Family() string {
	if r.Fault() != nil {
		return ""
	}
	return r.Spec().Family.Text
}
