package diffing

import (
	"iter"
	"slices"
	"strings"

	"rodlore/models"
)

// Parts lists what differs between the parts of a range at two times: those that
// came or went as a whole, the others leaf by leaf, in the order of the new file
// with what is gone behind.
func Parts(old, now *models.Parts) []Change { return stock(itemsOf(old.All), itemsOf(now.All)) }

// Materials does with materials what Parts does with parts.
func Materials(old, now *models.Materials) []Change {
	return stock(itemsOf(old.All), itemsOf(now.All))
}

// item is one part or material with its leaves.
type item struct {
	path   models.Path // "parts[SL-6]"
	leaves []models.Field
}

func itemsOf[T interface{ Fields() iter.Seq[models.Field] }](all []T) []item {
	var items []item
	for _, one := range all {
		if leaves := slices.Collect(one.Fields()); len(leaves) > 0 {
			items = append(items, item{leaves[0].Path[:1], leaves})
		}
	}
	return items
}

func stock(old, now []item) []Change {
	var p pairing
	for _, b := range now {
		if a, ok := itemAt(old, b.path); ok {
			p.compareItems(a, b)
		} else {
			p.add(Change{Kind: Added, Path: b.path, New: Content{Text: b.sum()}}, 0)
		}
	}
	for _, a := range old {
		if _, ok := itemAt(now, a.path); !ok {
			p.add(Change{Kind: Removed, Path: a.path, Old: Content{Text: a.sum()}}, 0)
		}
	}
	changes := make([]Change, len(p.found))
	for i, f := range p.found {
		f.Group = SharedBy(f.Path[0].Entry)
		changes[i] = f.Change
	}
	return changes
}

func itemAt(items []item, path models.Path) (item, bool) {
	i := slices.IndexFunc(items, func(it item) bool { return slices.Equal(it.path, path) })
	if i < 0 {
		return item{}, false
	}
	return items[i], true
}

// compareItems tells the leaves of one item that differ or are on one side only,
// such as a price.
func (p *pairing) compareItems(old, now item) {
	for _, b := range now.leaves {
		if a, ok := old.leaf(b.Path); ok {
			p.compare(a, b, 0)
		} else {
			p.add(Change{Kind: Added, Path: b.Path, New: Content{Text: b.Text}}, 0)
		}
	}
	for _, a := range old.leaves {
		if _, ok := now.leaf(a.Path); !ok {
			p.add(Change{Kind: Removed, Path: a.Path, Old: Content{Text: a.Text}}, 0)
		}
	}
}

func (it item) leaf(path models.Path) (models.Field, bool) {
	i := slices.IndexFunc(it.leaves, func(f models.Field) bool { return slices.Equal(f.Path, path) })
	if i < 0 {
		return models.Field{}, false
	}
	return it.leaves[i], true
}

// sum sums an item up by its numbers, without those of a ring's foot: "size 6 mm,
// mass 0.32 g, price 2.10".
func (it item) sum() string {
	var said []string
	for _, f := range it.leaves {
		if !f.IsText() && len(f.Path) == 2 {
			said = append(said, f.Path.Last()+" "+f.Text)
		}
	}
	return strings.Join(said, ", ")
}
