package diffing

import (
	"iter"
	"slices"

	"rodlore/models"
)

// leaves are the leaves of one spec, or of parts or materials, ready to be looked
// up by path and by entry.
type leaves struct {
	stock   bool // of parts or materials, and not of a spec that names them
	all     []models.Field
	index   map[string]int           // of a leaf, by its path as text
	lists   []string                 // paths of the lists as text, in order
	entries map[string][]models.Path // entries of a list, in order
}

// read gathers the leaves of a spec and the lists they stand in.
func read(s *models.Spec) *leaves { return newLeaves(false, s) }

func newLeaves[T interface{ Fields() iter.Seq[models.Field] }](stock bool, all ...T) *leaves {
	l := &leaves{stock: stock, index: map[string]int{}, entries: map[string][]models.Path{}}
	for _, one := range all {
		l.add(one.Fields())
	}
	return l
}

func (l *leaves) add(fields iter.Seq[models.Field]) {
	var before models.Path
	for f := range fields {
		l.index[f.Path.String()] = len(l.all)
		l.all = append(l.all, f)
		for i, in := range f.Path {
			if entry := f.Path[:i+1]; in.Entry != "" && !entry.Leads(before) && !l.implied(entry) {
				l.enter(entry)
			}
		}
		before = f.Path
	}
}

// implied reports whether a leaf of a spec comes and goes with an entry that names it.
func (l *leaves) implied(path models.Path) bool {
	return !l.stock && (path[0].Key == "parts" || path[0].Key == "materials")
}

func (l *leaves) enter(entry models.Path) {
	n := len(entry) - 1
	list := entry[:n].To(entry[n].Key).String()
	if l.entries[list] == nil {
		l.lists = append(l.lists, list)
	}
	l.entries[list] = append(l.entries[list], entry)
}

func (l *leaves) at(path models.Path) (models.Field, bool) {
	i, ok := l.index[path.String()]
	if !ok {
		return models.Field{}, false
	}
	return l.all[i], true
}

// text is what the leaf at path says; "" where there is none.
func (l *leaves) text(path models.Path) string {
	f, _ := l.at(path)
	return f.Text
}

// place is where along the rod an entry stands; ok is false for entries that
// are kept by name.
func (l *leaves) place(entry models.Path) (models.Field, bool) {
	for _, key := range placeKeys {
		if f, ok := l.at(entry.To(key)); ok {
			return f, true
		}
	}
	return models.Field{}, false
}

// placeKeys are the leaves of an entry that say where along the rod it stands.
var placeKeys = []string{"at", "from"}

// isPlace reports whether a leaf is an entry's place along the rod.
func isPlace(path models.Path) bool {
	return len(path.Entry()) == len(path)-1 && len(path) > 1 && slices.Contains(placeKeys, path.Last())
}

// what tells what stands there: its part or its material.
func (l *leaves) what(entry models.Path) string {
	if part := l.text(entry.To("part")); part != "" {
		return part
	}
	return l.text(entry.To("material"))
}

// sum sums up an entry: what stands where, or all that it says; of a part or a
// material the numbers, without those of a ring's foot.
func (l *leaves) sum(entry models.Path) Content {
	if place, ok := l.place(entry); ok {
		return Content{What: l.what(entry), At: place.Quantity}
	}
	c := Content{Stock: l.stock}
	for _, f := range l.all {
		if slices.Equal(f.Path.Entry(), entry) && (!l.stock || !f.IsText() && len(f.Path) == 2) {
			c.Values = append(c.Values, valueOf(f))
		}
	}
	return c
}

// first is the index of the first leaf of an entry.
func (l *leaves) first(entry models.Path) int {
	return slices.IndexFunc(l.all, func(f models.Field) bool { return entry.Leads(f.Path) })
}
