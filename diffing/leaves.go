package diffing

import (
	"strings"

	"rodlore/models"
)

// leaves are the leaves of one spec, ready to be looked up by path and by
// entry.
type leaves struct {
	all     []models.Field
	index   map[string]int
	lists   []string            // paths of the lists, in order
	entries map[string][]string // entries of a list, in order
}

// read gathers the leaves of a spec and the lists they stand in.
func read(s *models.Spec) *leaves {
	l := &leaves{index: map[string]int{}, entries: map[string][]string{}}
	seen := map[string]bool{}
	for f := range s.Fields() {
		l.index[f.Path] = len(l.all)
		l.all = append(l.all, f)
		for _, entry := range entriesOf(f.Path) {
			if seen[entry] || implied(entry) {
				continue
			}
			seen[entry] = true
			list := listOf(entry)
			if l.entries[list] == nil {
				l.lists = append(l.lists, list)
			}
			l.entries[list] = append(l.entries[list], entry)
		}
	}
	return l
}

func (l *leaves) at(path string) (models.Field, bool) {
	i, ok := l.index[path]
	if !ok {
		return models.Field{}, false
	}
	return l.all[i], true
}

// text is what the leaf at path says; "" where there is none.
func (l *leaves) text(path string) string {
	f, _ := l.at(path)
	return f.Text
}

// place is where along the rod an entry stands; ok is false for entries that
// are kept by name.
func (l *leaves) place(entry string) (models.Field, bool) {
	for _, leaf := range []string{".at", ".from"} {
		if f, ok := l.at(entry + leaf); ok {
			return f, true
		}
	}
	return models.Field{}, false
}

// what tells what stands there: its part or its material.
func (l *leaves) what(entry string) string {
	if part := l.text(entry + ".part"); part != "" {
		return part
	}
	return l.text(entry + ".material")
}

// sum sums up an entry: what stands where, or all that it says.
func (l *leaves) sum(entry string) Content {
	if place, ok := l.place(entry); ok {
		return Content{What: l.what(entry), At: place.Text}
	}
	var texts []string
	for _, f := range l.all {
		if e, _ := splitEntry(f.Path); e == entry {
			texts = append(texts, f.Text)
		}
	}
	return Content{Text: strings.Join(texts, ", ")}
}

// splitEntry divides a path behind its last list entry:
// "sections[tip].tube[at 0 mm]" and ".wall". A path outside any list has no
// entry.
func splitEntry(path string) (entry, leaf string) {
	i := strings.LastIndexByte(path, ']') + 1
	return path[:i], path[i:]
}

// entriesOf gives the entries that a path lies in, the outermost first.
func entriesOf(path string) []string {
	var entries []string
	for i := range len(path) {
		if path[i] == ']' {
			entries = append(entries, path[:i+1])
		}
	}
	return entries
}

// listOf is the list that an entry stands in: "sections[tip].tube".
func listOf(entry string) string {
	return entry[:strings.LastIndexByte(entry, '[')]
}

// isPlace reports whether a leaf is an entry's place along the rod.
func isPlace(path string) bool {
	entry, leaf := splitEntry(path)
	return entry != "" && (leaf == ".at" || leaf == ".from")
}
