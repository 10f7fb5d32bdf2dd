package gitstore

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// The reference of the tests in this package is native git itself: which states
// there are, what they changed and what the working tree looks like afterwards
// is asked of the git program.

// noFile is how native git writes that there is no file or no tree.
const noFile = "0000000000000000000000000000000000000000"

// sameAsNative fails unless the log has the states that native git reaches from
// HEAD, branches, remote-tracking branches and tags, with the same parents,
// and the same changes against every parent.
func (r *repo) sameAsNative(log *catalogue.Log, prefix string) {
	r.t.Helper()
	if diff := cmp.Diff(r.nativeLines(prefix), logLines(log)); diff != "" {
		r.t.Errorf("history differs from native git's (-native +here):\n%s", diff)
	}
	childrenFirst(r.t, log)
}

// logLines gives states with parents, and changes, one a line, sorted.
func logLines(log *catalogue.Log) []string {
	var lines []string
	for _, s := range log.States {
		lines = append(lines, strings.Join(append([]string{s.ID}, s.Parents...), " "))
		for _, c := range s.Changes {
			parent := "nothing"
			if len(s.Parents) > 0 {
				parent = s.Parents[c.Parent]
			}
			lines = append(lines, fmt.Sprintf("%s from %s: %s %s %s", s.ID, parent, c.Path, idOrNone(c.Old), idOrNone(c.New)))
		}
	}
	slices.Sort(lines)
	return lines
}

// nativeLines gives what logLines gives, by git log and git diff-tree.
func (r *repo) nativeLines(prefix string) []string {
	r.t.Helper()
	trees, parents := map[string]string{}, map[string][]string{}
	var lines []string
	for line := range strings.Lines(r.git("log", "HEAD", "--branches", "--remotes", "--tags", "--format=%H %T %P")) {
		f := strings.Fields(line)
		trees[f[0]], parents[f[0]] = f[1], f[2:]
		lines = append(lines, strings.Join(append([]string{f[0]}, f[2:]...), " "))
	}
	diffs := r.nativeDiffs(prefix, trees, parents)
	for id, above := range parents {
		if len(above) == 0 {
			for _, c := range diffs[r.emptyTree()+" "+trees[id]] {
				lines = append(lines, fmt.Sprintf("%s from nothing: %s", id, c))
			}
		}
		for _, p := range above {
			for _, c := range diffs[trees[p]+" "+trees[id]] {
				lines = append(lines, fmt.Sprintf("%s from %s: %s", id, p, c))
			}
		}
	}
	slices.Sort(lines)
	return lines
}

func (r *repo) emptyTree() string { return r.git("hash-object", "-w", "-t", "tree", "/dev/null") }

// nativeDiffs compares the trees of all states with those of their parents; the
// changes are by "old tree new tree".
func (r *repo) nativeDiffs(prefix string, trees map[string]string, parents map[string][]string) map[string][]string {
	r.t.Helper()
	var pairs strings.Builder
	empty := r.emptyTree()
	for id, above := range parents {
		if len(above) == 0 {
			fmt.Fprintln(&pairs, empty, trees[id])
		}
		for _, p := range above {
			fmt.Fprintln(&pairs, trees[p], trees[id])
		}
	}
	cmd := r.command("diff-tree", "--stdin", "-r", "--raw", "--no-renames", "--no-abbrev")
	cmd.Stdin = strings.NewReader(pairs.String())
	out, err := cmd.Output()
	if err != nil {
		r.t.Fatal(err)
	}
	diffs, pair := map[string][]string{}, ""
	for line := range strings.Lines(string(out)) {
		line = strings.TrimRight(line, "\n")
		if !strings.HasPrefix(line, ":") {
			pair = line
			diffs[pair] = nil // a pair that is asked twice is answered twice
			continue
		}
		if c := nativeChange(line, prefix); c != "" {
			diffs[pair] = append(diffs[pair], c)
		}
	}
	return diffs
}

// nativeChange is one line of git diff-tree as "path old new" in the range, or
// "" if it changes no content of one of its files. Symbolic links and submodules
// are no files.
func nativeChange(line, prefix string) string {
	head, path, _ := strings.Cut(line, "\t")
	path, inRange := strings.CutPrefix(path, prefix)
	f := strings.Fields(strings.TrimPrefix(head, ":"))
	side := func(mode, id string) string {
		if !strings.HasPrefix(mode, "100") || id == noFile {
			return "none"
		}
		return id
	}
	before, after := side(f[0], f[2]), side(f[1], f[3])
	if !inRange || before == after || !matchesRange(path) {
		return ""
	}
	return strings.Join([]string{path, before, after}, " ")
}

// matchesRange says again, in other words than the store, which files are those
// of a range.
func matchesRange(path string) bool {
	switch path {
	case "range.yaml", "parts.yaml", "materials.yaml":
		return true
	}
	for _, folder := range []string{"models/", "builds/", "bench/"} {
		if name, ok := strings.CutPrefix(path, folder); ok {
			return strings.HasSuffix(name, ".yaml") && !strings.ContainsAny(name, "/") && !strings.HasPrefix(name, ".")
		}
	}
	return false
}

// childrenFirst fails where a parent stands before its child, or where an older
// state stands before a newer one without need.
func childrenFirst(t testing.TB, log *catalogue.Log) {
	t.Helper()
	place := map[string]int{}
	for i, s := range log.States {
		place[s.ID] = i
	}
	children := map[string]int{} // the place of the last child
	for i, s := range log.States {
		for _, p := range s.Parents {
			if place[p] <= i {
				t.Errorf("state %s stands before its child %s", p, s.ID)
			}
			children[p] = i
		}
	}
	for i := 1; i < len(log.States); i++ {
		a, b := log.States[i-1], log.States[i]
		last, hasChild := children[b.ID]
		if a.When.Before(b.When) && (!hasChild || last < i-1) {
			t.Errorf("state %s stands before the newer %s without being its child", a.ID, b.ID)
		}
	}
}

func idOrNone(id string) string {
	if id == "" {
		return "none"
	}
	return id
}
