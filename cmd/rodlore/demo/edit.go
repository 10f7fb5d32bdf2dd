package demo

import (
	"encoding/base64"
	"fmt"
	"strings"

	"golang.org/x/tools/txtar"
)

// edited applies the orders, in turn, to the files and gives those that came
// out changed. files stays as it is.
func edited(files map[string][]byte, orders []txtar.File) (map[string][]byte, error) {
	changed := map[string][]byte{}
	for _, o := range orders {
		words := strings.Fields(o.Name)
		order, path := strings.Join(words[:len(words)-1], " "), words[len(words)-1]
		var err error
		switch from, moves := strings.CutPrefix(order, "move "); {
		case order == "":
			changed[path] = o.Data
		case order == "base64":
			changed[path], err = base64.StdEncoding.DecodeString(strings.Join(strings.Fields(string(o.Data)), ""))
		case order == "edit":
			changed[path], err = patched(current(files, changed, path), string(o.Data))
		case moves:
			changed[path], changed[from] = current(files, changed, from), nil
		default:
			err = fmt.Errorf("is not a path, nor base64, edit or move with their paths")
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", o.Name, err)
		}
	}
	return changed, nil
}

// current is a file as changed so far; nil where there is none.
func current(files, changed map[string][]byte, path string) []byte {
	if data, ok := changed[path]; ok {
		return data
	}
	return files[path]
}

// patched applies every hunk of a patch to a text.
func patched(text []byte, patch string) ([]byte, error) {
	out := string(text)
	for h := range strings.SplitSeq(strings.TrimSpace(patch), "\n\n") {
		from, to, err := hunk(h)
		if err != nil {
			return nil, err
		}
		if out, err = replaced(out, from, to); err != nil {
			return nil, err
		}
	}
	return []byte(out), nil
}

// replaced puts the lines to where the lines from stand, which must be one
// place.
func replaced(text, from, to string) (string, error) {
	// With the line break before them, from cannot match the tail of a line.
	all, lines := "\n"+text, "\n"+from
	at := strings.Index(all, lines)
	switch {
	case at < 0:
		return "", fmt.Errorf("the old lines are not in the file:\n%s", from)
	case strings.Contains(all[at+1:], lines):
		return "", fmt.Errorf("the old lines are in the file more than once:\n%s", from)
	}
	return all[1:at+1] + to + all[at+len(lines):], nil
}

// hunk splits a hunk into its old and its new lines, each with its line break.
func hunk(text string) (from, to string, err error) {
	for line := range strings.Lines(text + "\n") {
		mark, rest := line[:1], strings.TrimPrefix(line[1:], " ")
		switch {
		case mark == "-" && to == "":
			from += rest
		case mark == "+" && from != "":
			to += rest
		default:
			return "", "", fmt.Errorf("a hunk is lines %q and then lines %q, not %q", "- old", "+ new", line)
		}
	}
	return from, to, nil
}
