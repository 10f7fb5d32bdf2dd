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
	e := edit{files, map[string][]byte{}}
	for _, o := range orders {
		if err := e.apply(o); err != nil {
			return nil, err
		}
	}
	return e.changed, nil
}

// edit is a change in the making: the files before it and those changed so far.
type edit struct {
	files, changed map[string][]byte
}

func (e edit) apply(o txtar.File) error {
	words := strings.Fields(o.Name)
	if len(words) == 1 {
		e.changed[o.Name] = o.Data
		return nil
	}
	switch order := words[0]; {
	case order == "base64" && len(words) == 2:
		data, err := base64.StdEncoding.DecodeString(strings.Join(strings.Fields(string(o.Data)), ""))
		e.changed[words[1]] = data
		return err
	case order == "edit" && len(words) == 2:
		return e.patch(words[1], string(o.Data))
	case order == "remove" && len(words) == 2:
		_, err := e.take(words[1])
		return err
	case order == "move" && len(words) == 3:
		data, err := e.take(words[1])
		e.changed[words[2]] = data
		return err
	}
	return fmt.Errorf("%q is not a path, nor base64, edit, remove or move with their paths", o.Name)
}

// current is a file as changed so far.
func (e edit) current(path string) ([]byte, error) {
	data, ok := e.changed[path]
	if !ok {
		data = e.files[path]
	}
	if data == nil {
		return nil, fmt.Errorf("%s is not there to be changed", path)
	}
	return data, nil
}

// take removes a file and gives what was in it.
func (e edit) take(path string) ([]byte, error) {
	data, err := e.current(path)
	if err == nil {
		e.changed[path] = nil
	}
	return data, err
}

func (e edit) patch(path, hunks string) error {
	old, err := e.current(path)
	if err != nil {
		return err
	}
	text, err := patched(string(old), hunks)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	e.changed[path] = []byte(text)
	return nil
}

// patched applies every hunk of a patch to a text.
func patched(text, patch string) (string, error) {
	for h := range strings.SplitSeq(strings.TrimSpace(patch), "\n\n") {
		from, to, err := hunk(h)
		if err != nil {
			return "", err
		}
		if text, err = replaced(text, from, to); err != nil {
			return "", err
		}
	}
	return text, nil
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
