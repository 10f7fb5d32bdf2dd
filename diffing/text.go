package diffing

import (
	"fmt"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"
)

// around is how many unchanged lines stand around each change of a text diff.
const around = 3

// Text is a unified diff of two files, line by line; "" if they are equal. The
// layout is that of POSIX diff -u.
func Text(oldName, old, newName, now string) string {
	if old == now {
		return ""
	}
	lines := edits(old, now)
	var b strings.Builder
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", oldName, newName)
	for _, h := range hunks(lines) {
		h.write(&b)
	}
	return b.String()
}

// edit is one line of either file: kept ' ', taken '-' or put '+'.
type edit struct {
	op   byte
	text string // with its line end, if it has one
}

// edits is the shortest way from old to new in whole lines.
func edits(old, now string) []edit {
	dmp := diffmatchpatch.New()
	dmp.DiffTimeout = 0 // specs are small, and a diff cut short by the clock would differ from run to run
	a, b, lines := dmp.DiffLinesToRunes(old, now)
	ops := map[diffmatchpatch.Operation]byte{
		diffmatchpatch.DiffEqual: ' ', diffmatchpatch.DiffDelete: '-', diffmatchpatch.DiffInsert: '+',
	}
	var out []edit
	for _, d := range dmp.DiffCharsToLines(dmp.DiffMainRunes(a, b, false), lines) {
		for _, text := range strings.SplitAfter(d.Text, "\n") {
			if text != "" {
				out = append(out, edit{ops[d.Type], text})
			}
		}
	}
	return out
}

// hunk is a stretch of lines around changes, with the line numbers it starts
// at, from 1.
type hunk struct {
	lines    []edit
	old, new int
}

// hunks cuts the stretches out, with context around them; changes whose
// contexts touch share one.
func hunks(lines []edit) []hunk {
	var out []hunk
	end := 0 // of the last hunk
	old, now := lineNumbers(lines)
	for i, e := range lines {
		if e.op == ' ' {
			continue
		}
		from, to := max(i-around, end), min(i+around+1, len(lines))
		if n := len(out); n > 0 && i-around <= end {
			out[n-1].lines = append(out[n-1].lines, lines[end:max(end, to)]...)
		} else {
			out = append(out, hunk{append([]edit(nil), lines[from:to]...), old[from], now[from]})
		}
		end = max(end, to)
	}
	return out
}

// lineNumbers gives each edit's line number in both files.
func lineNumbers(lines []edit) (old, now []int) {
	a, b := 1, 1
	for _, e := range lines {
		old, now = append(old, a), append(now, b)
		if e.op != '+' {
			a++
		}
		if e.op != '-' {
			b++
		}
	}
	return old, now
}

func (h hunk) write(b *strings.Builder) {
	var old, now int
	for _, e := range h.lines {
		if e.op != '+' {
			old++
		}
		if e.op != '-' {
			now++
		}
	}
	fmt.Fprintf(b, "@@ -%s +%s @@\n", lineRange(h.old, old), lineRange(h.new, now))
	for _, e := range h.lines {
		b.WriteByte(e.op)
		b.WriteString(e.text)
		if !strings.HasSuffix(e.text, "\n") {
			b.WriteString("\n\\ No newline at end of file\n")
		}
	}
}

// lineRange is the range of a hunk header; an empty one names the line before
// it.
func lineRange(start, count int) string {
	switch count {
	case 0:
		return fmt.Sprintf("%d,0", start-1)
	case 1:
		return fmt.Sprint(start)
	}
	return fmt.Sprintf("%d,%d", start, count)
}
