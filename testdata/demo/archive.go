package demo

import (
	"bytes"
	"strings"
)

// archive is a text with files after it, in the form that Go's own tests use
// and call txtar: each file begins with a line "-- name --".
type archive struct {
	comment string
	files   []file
}

type file struct {
	name string
	data []byte
}

func parseArchive(src []byte) archive {
	var a archive
	for line := range bytes.Lines(src) {
		if name, ok := marker(string(line)); ok {
			a.files = append(a.files, file{name: name, data: []byte{}})
			continue
		}
		if len(a.files) == 0 {
			a.comment += string(line)
			continue
		}
		last := &a.files[len(a.files)-1]
		last.data = append(last.data, line...)
	}
	return a
}

// marker gives the name in a line that begins a file.
func marker(line string) (name string, ok bool) {
	rest, ok := strings.CutPrefix(strings.TrimRight(line, "\n"), "-- ")
	name, closed := strings.CutSuffix(rest, " --")
	return name, ok && closed && strings.TrimSpace(name) != ""
}
