package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"strings"
	"time"

	"golang.org/x/tools/txtar"
)

//go:embed history/*.txt draft.txt
var content embed.FS

// State is one saved state of the range.
type State struct {
	When     time.Time
	Author   string            // "Name <address>"
	Why      string            // a line and, after an empty one, more lines if any
	Tell     string            // words for customers; "" where there are none
	Files    map[string][]byte // what changed, by path: the whole new content; nil means the file is gone
	Releases []Release         // what went on sale as it stands in this state
}

// Release is a model put on sale.
type Release struct {
	Model, Label string // "skerry-10", "2024"
}

// States gives every saved state, oldest first. An error names the file of the
// history that is wrong.
func States() ([]State, error) {
	states, _, err := replay(content)
	return states, err
}

// Draft gives the files that were edited after the last saved state.
func Draft() (map[string][]byte, error) {
	_, files, err := replay(content)
	if err != nil {
		return nil, err
	}
	src, err := fs.ReadFile(content, "draft.txt")
	if err != nil {
		return nil, err
	}
	draft, err := edited(files, txtar.Parse(src).Files)
	if err != nil {
		return nil, fmt.Errorf("draft.txt: %w", err)
	}
	return draft, nil
}

// replay reads the history and gives its states and the files as the last one
// leaves them.
func replay(fsys fs.FS) ([]State, map[string][]byte, error) {
	names, err := fs.Glob(fsys, "history/*.txt") // sorted, so by day
	if err != nil {
		return nil, nil, err
	}
	files := map[string][]byte{}
	var states []State
	for _, name := range names {
		src, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, nil, err
		}
		s, err := parseState(files, txtar.Parse(src))
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", path.Base(name), err)
		}
		for p, data := range s.Files {
			files[p] = data
		}
		maps.DeleteFunc(files, func(_ string, data []byte) bool { return data == nil })
		states = append(states, s)
	}
	return states, files, nil
}

func parseState(files map[string][]byte, a *txtar.Archive) (State, error) {
	s, err := parseHeader(string(a.Comment))
	if err != nil {
		return State{}, err
	}
	s.Files, err = edited(files, a.Files)
	return s, err
}

func parseHeader(text string) (State, error) {
	var s State
	for _, field := range fields(text) {
		key, value, _ := strings.Cut(field, ":")
		value = strings.TrimSpace(value)
		switch key {
		case "date":
			when, err := time.Parse(time.RFC3339, value)
			if err != nil {
				return State{}, fmt.Errorf("date %q is not such as 2021-01-17T10:40:00+00:00", value)
			}
			s.When = when
		case "author":
			s.Author = value
		case "why":
			// An empty line after the first, as git has its messages.
			s.Why = strings.Replace(value, "\n", "\n\n", 1)
		case "tell":
			s.Tell = value
		case "release":
			model, label, _ := strings.Cut(value, " ")
			s.Releases = append(s.Releases, Release{Model: model, Label: label})
		default:
			return State{}, fmt.Errorf("header %q is not one of date, author, why, tell, release", field)
		}
	}
	if s.When.IsZero() || s.Author == "" || s.Why == "" {
		return State{}, fmt.Errorf("header wants date, author and why")
	}
	return s, nil
}

// fields splits a header into one string a key, its further lines joined
// without their indent.
func fields(text string) []string {
	var list []string
	for line := range strings.Lines(strings.TrimSpace(text)) {
		line = strings.TrimRight(line, "\n")
		if more, ok := strings.CutPrefix(line, "  "); ok && len(list) > 0 {
			list[len(list)-1] += "\n" + more
			continue
		}
		list = append(list, line)
	}
	return list
}
