package diffing

import (
	"math"
	"slices"

	"rodlore/models"
)

// What pairing two entries of a list costs, in units of one added or removed
// entry: a metre moved, and another part or material in the same place. A ring
// is rather moved by a good part of a metre than taken off and put on again.
const (
	costOfMetre = 2.0
	costOfOther = 0.6
)

// pairEntries pairs the entries of every list, tells what was added, removed
// and moved, and remembers the partners for pairLeaves.
func (p *pairing) pairEntries() {
	p.toldOld, p.toldNew = map[string]bool{}, map[string]bool{}
	p.was, p.became = entryMap{}, entryMap{}
	lists := slices.Clone(p.new.lists)
	for _, list := range p.old.lists {
		if !slices.Contains(lists, list) {
			lists = append(lists, list)
		}
	}
	for _, list := range lists {
		p.pairList(p.old.entries[list], p.new.entries[list])
	}
}

// pairs pairs the entries of one list: by name, or by place where they have one.
func (p *pairing) pairs(old, now []models.Path) []models.Match {
	if p.placed(old, now) {
		return models.Align(len(old), len(now), func(i, j int) float64 { return p.cost(old[i], now[j]) })
	}
	return byName(old, now)
}

// pairList pairs the entries of one list and tells what became of each.
func (p *pairing) pairList(old, now []models.Path) {
	for _, pair := range p.pairs(old, now) {
		switch {
		case pair.New < 0:
			p.tellWhole(Removed, p.old, p.toldOld, old[pair.Old])
		case pair.Old < 0:
			p.tellWhole(Added, p.new, p.toldNew, now[pair.New])
		default:
			p.was[now[pair.New].String()], p.became[old[pair.Old].String()] = old[pair.Old], now[pair.New]
			p.tellMove(old[pair.Old], now[pair.New])
		}
	}
}

// placed reports whether the entries are kept by their place along the rod.
func (p *pairing) placed(old, now []models.Path) (ok bool) {
	if len(old) > 0 {
		_, ok = p.old.place(old[0])
	} else if len(now) > 0 {
		_, ok = p.new.place(now[0])
	}
	return ok
}

// cost is what it takes to make new out of old.
func (p *pairing) cost(old, now models.Path) float64 {
	a, _ := p.old.place(old)
	b, _ := p.new.place(now)
	cost := costOfMetre * math.Abs(a.Value-b.Value)
	if p.old.what(old) != p.new.what(now) {
		cost += costOfOther
	}
	return cost
}

// tellWhole tells an entry that was added or removed, once and for everything
// in it.
func (p *pairing) tellWhole(kind Kind, side *leaves, told map[string]bool, entry models.Path) {
	inside := told[entry[:len(entry)-1].Entry().String()]
	told[entry.String()] = true
	if inside {
		return
	}
	c := Change{Kind: kind, Path: entry}
	order := 0
	if kind == Added {
		c.New = side.sum(entry)
		order = side.first(entry)
	} else {
		c.Old = side.sum(entry)
		order = p.orderOfOld(side.first(entry))
	}
	p.add(c, order)
}

// tellMove tells a move of an entry along the rod.
func (p *pairing) tellMove(old, now models.Path) {
	a, ok := p.old.place(old)
	b, _ := p.new.place(now)
	if ok && a.Value != b.Value {
		p.add(Change{Kind: Moved, Path: now, Old: p.old.sum(old), New: p.new.sum(now)}, p.new.first(now))
	}
}

// byName pairs equal names, in the new order with what was removed behind.
func byName(old, now []models.Path) []models.Match {
	var pairs []models.Match
	for j, name := range now {
		pairs = append(pairs, models.Match{Old: indexOf(old, name), New: j})
	}
	for i, name := range old {
		if indexOf(now, name) < 0 {
			pairs = append(pairs, models.Match{Old: i, New: -1})
		}
	}
	return pairs
}

func indexOf(entries []models.Path, entry models.Path) int {
	return slices.IndexFunc(entries, func(e models.Path) bool { return slices.Equal(e, entry) })
}

// ringPairs pairs the rings of two specs.
func ringPairs(old, now *leaves) []models.Match {
	p := pairing{old: old, new: now}
	return p.pairs(old.entries["rings"], now.entries["rings"])
}
