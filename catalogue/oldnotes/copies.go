package oldnotes

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"rodlore/models"
)

// dated finds the day in a file's name: 2019, 2019-03, 2019-03-14 or 20190314,
// and not within a longer number.
var dated = regexp.MustCompile(`(?:^|\D)((?:19|20)\d\d)(?:-?(\d\d)(?:-?(\d\d))?)?(?:\D|$)`)

// Copies reads copies of a spec that have the day in their names, such as
// "skerry-2019.yaml" or "2021-03-14 shorter.yaml". A name that has a year alone is
// that of a release; the comment that a copy begins with is its reason. The error,
// if any, is a models.Faults.
func Copies(names []string, o Options) ([]Entry, error) {
	var entries []Entry
	var faults models.Faults
	for _, name := range slices.Sorted(slices.Values(names)) {
		e, err := readCopy(name, o)
		if err != nil {
			faults = append(faults, &models.Fault{Pos: models.Pos{File: name}, Msg: err.Error()})
			continue
		}
		entries = append(entries, e)
	}
	entries, doubled := inOrder(entries)
	if faults = append(faults, doubled...); len(faults) > 0 {
		return nil, faults.Sorted()
	}
	return entries, nil
}

func readCopy(name string, o Options) (Entry, error) {
	e := Entry{Pos: models.Pos{File: name}, SpecFile: name}
	m := dated.FindStringSubmatch(path.Base(name))
	if m == nil {
		return e, fmt.Errorf("its name has no day; call it, say, 2019-03-14.yaml, or list it in a table with columns date and spec")
	}
	day := m[1]
	for _, part := range m[2:] {
		if part != "" {
			day += "-" + part
		}
	}
	var err error
	if e.Day, e.Exact, err = readDay(day, o.Now); err != nil {
		return e, err
	}
	if m[2] == "" {
		e.Label = models.Word{Text: m[1], Pos: e.Pos}
	}
	if e.Spec, err = o.Open(name); err != nil {
		return e, err
	}
	if e.Why = firstComment(e.Spec); e.Why == "" {
		e.Why = "as kept in " + path.Base(name)
	}
	return e, nil
}

// firstComment is what a text says in the comment that it begins with.
func firstComment(src []byte) string {
	var said []string
	for line := range strings.Lines(strings.TrimPrefix(string(src), "\ufeff")) {
		text, ok := strings.CutPrefix(strings.TrimSpace(line), "#")
		if !ok {
			break
		}
		said = append(said, strings.TrimSpace(text))
	}
	return strings.TrimSpace(strings.Join(said, "\n"))
}
