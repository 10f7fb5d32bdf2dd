package diffing

import (
	"slices"

	"rodlore/models"
	"rodlore/models/units"
)

// Kind is what happened to one place of a spec.
type Kind string

const (
	Altered   Kind = "altered"   // another value
	Added     Kind = "added"     // only in the new spec
	Removed   Kind = "removed"   // only in the old spec
	Moved     Kind = "moved"     // the same thing at another place along the rod
	Respelled Kind = "respelled" // the same value in other words: 9 ft, 2743.2 mm
)

// Change is one place that differs between two specs.
type Change struct {
	Kind Kind
	// Path is where in the spec, as models.Field has it: in the new spec, or in
	// the old one for what was removed.
	Path models.Path
	// Old and New are what was written there; empty on a side that lacks it.
	Old, New Content
	Group    Group
}

// Content is what a spec says at one place.
type Content struct {
	// What and At are, of an entry that was added, removed or moved, its part or
	// material, if it names one, and its place along the rod.
	What string
	At   units.Quantity
	// Values are what stands there otherwise: one value, or those of an entry
	// without a place.
	Values []Value
	Stock  bool        // the values are those of a part or a material
	Want   models.Want // of a want, which is written as one text
}

// Value is a leaf of a spec.
type Value struct {
	Key string // "wall"
	units.Quantity
}

func valueOf(f models.Field) Value { return Value{f.Path.Last(), f.Quantity} }

func contentOf(f models.Field) Content { return Content{Values: []Value{valueOf(f)}} }

// Specs lists what differs between two resolved specs, in the order of the
// format. Entries of a list are paired by name or by place and part, so that an
// inserted ring is one ring added and not a change of all that follow. A part
// that comes into use or goes out of it is told by the entry that names it and
// not again.
func Specs(old, now *models.Spec) []Change { return Compare(old, now).Changes() }

func changes(old, now *models.Spec, a, b *leaves) []Change {
	changes := pair(a, b)
	by := grouping{old, now, divided(old, now), map[string]Group{}}
	for i := range changes {
		c := &changes[i]
		c.Group = by.groupOf(c.Path)
		if old.Bare != now.Bare && slices.Contains([]string{"bare", "rings", "handle", "held", "reel", "finish"}, c.Path[0].Key) {
			c.Group = Mounted
		}
	}
	return foldWants(changes, old.Wants, now.Wants)
}

// Parts lists what differs between the parts of a range at two times: those that
// came or went as a whole, the others leaf by leaf, in the order of the new file.
func Parts(old, now *models.Parts) []Change {
	return stock(newLeaves(true, old.All...), newLeaves(true, now.All...))
}

// Materials does with materials what Parts does with parts.
func Materials(old, now *models.Materials) []Change {
	return stock(newLeaves(true, old.All...), newLeaves(true, now.All...))
}

func stock(old, now *leaves) []Change {
	changes := pair(old, now)
	for i := range changes {
		changes[i].Group = SharedBy(changes[i].Path[0].Entry)
	}
	return changes
}

// foldWants makes one change of those of both ends of a want, which are written
// as one text: "1.2 lb to 1.8 lb". An end that kept its value is no respelling
// where the other did not.
func foldWants(changes []Change, before, after []models.Want) []Change {
	var out []Change
	for _, c := range changes {
		if c.Path[0].Key == "wants" {
			c.Path = c.Path[:2] // without the end
			c.Old, c.New = wantOf(before, c, c.Old), wantOf(after, c, c.New)
			if n := len(out); n > 0 && slices.Equal(out[n-1].Path, c.Path) && out[n-1].Old.Want == c.Old.Want && out[n-1].New.Want == c.New.Want {
				if out[n-1].Kind == Respelled {
					out[n-1].Kind = c.Kind
				}
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

// wantOf is the want of which an end is on one side of a change, if it is.
func wantOf(wants []models.Want, c Change, end Content) Content {
	i := slices.IndexFunc(wants, func(w models.Want) bool { return w.Figure == c.Path.Last() })
	if end.Values == nil || i < 0 {
		return Content{}
	}
	want := wants[i]
	want.Pos = models.Pos{}
	return Content{Want: want}
}

// found is a change and its place in the listing.
type found struct {
	Change
	order int
}

// pair lists what differs between the leaves of two specs, or of two stocks.
func pair(old, now *leaves) []Change {
	p := pairing{old: old, new: now}
	p.pairEntries()
	p.pairLeaves()
	slices.SortStableFunc(p.found, func(x, y found) int { return x.order - y.order })
	changes := make([]Change, len(p.found))
	for i, f := range p.found {
		changes[i] = f.Change
	}
	return changes
}

// pairing compares the leaves of two specs.
type pairing struct {
	old, new *leaves
	found    []found
	// told are entries of lists that are told as a whole, as text, by side.
	toldOld, toldNew map[string]bool
	was, became      entryMap // from entries of the new spec to those they were, and back
}

// entryMap leads from entries, as text, to their partners in the other spec.
type entryMap map[string]models.Path

// of is the path of a leaf in the other spec.
func (m entryMap) of(leaf models.Path) models.Path {
	entry := leaf.Entry()
	if other, ok := m[entry.String()]; ok {
		return slices.Concat(other, leaf[len(entry):])
	}
	return leaf
}

// pairLeaves tells the leaves that differ, entry by entry.
func (p *pairing) pairLeaves() {
	seen := map[string]bool{}
	for i, f := range p.new.all {
		if p.toldNew[f.Path.Entry().String()] {
			continue
		}
		was := p.was.of(f.Path)
		seen[was.String()] = true
		if old, ok := p.old.at(was); ok {
			p.compare(old, f, i)
		} else if !p.new.implied(f.Path) {
			p.add(Change{Kind: Added, Path: f.Path, New: contentOf(f)}, i)
		}
	}
	for i, f := range p.old.all {
		if !seen[f.Path.String()] && !p.toldOld[f.Path.Entry().String()] && !p.new.implied(f.Path) {
			p.add(Change{Kind: Removed, Path: f.Path, Old: contentOf(f)}, p.orderOfOld(i))
		}
	}
}

// compare tells how one leaf differs, if it does. The place of an entry that
// moved has been told with the move.
func (p *pairing) compare(old, now models.Field, order int) {
	same := old.Unit == now.Unit && old.Value == now.Value
	if old.IsText() && now.IsText() {
		same = old.Text == now.Text
	}
	switch {
	case !same && isPlace(now.Path):
	case !same:
		p.add(Change{Kind: Altered, Path: now.Path, Old: contentOf(old), New: contentOf(now)}, order)
	case old.Text != now.Text:
		p.add(Change{Kind: Respelled, Path: now.Path, Old: contentOf(old), New: contentOf(now)}, order)
	}
}

// orderOfOld is where leaf i of the old spec belongs in the listing of the new
// one: behind the nearest leaf before it that is there still.
func (p *pairing) orderOfOld(i int) int {
	for ; i >= 0; i-- {
		if at, ok := p.new.index[p.became.of(p.old.all[i].Path).String()]; ok {
			return at
		}
	}
	return -1
}

func (p *pairing) add(c Change, order int) {
	p.found = append(p.found, found{c, order})
}
