package diffing

import (
	"fmt"
	"iter"
	"strings"

	"github.com/sergi/go-diff/diffmatchpatch"
)

// around is how many unchanged lines stand around each change of a text diff.
const around = 3

// noLineEnd follows a last line without one, in the words that programs look for.
const noLineEnd = "\n\\ No newline at end of file\n"

// Text is a unified diff of two files, line by line; "" if they are equal. The
// layout is that of POSIX diff -u.
func Text(oldName, old, newName, now string) string {
	if old == now {
		return ""
	}
	lines := edits(old, now)
	var b strings.Builder
	fmt.Fprintf(&b, "--- %s\n+++ %s\n", oldName, newName)
	for from, to := range stretches(lines) {
		oldBefore, newBefore := counts(lines[:from])
		oldShown, newShown := counts(lines[from:to])
		fmt.Fprintf(&b, "@@ -%s +%s @@\n", lineRange(oldBefore+1, oldShown), lineRange(newBefore+1, newShown))
		for _, e := range lines[from:to] {
			b.WriteByte(e.op)
			b.WriteString(e.text)
			if !strings.HasSuffix(e.text, "\n") {
				b.WriteString(noLineEnd)
			}
		}
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

// stretches yields where the lines that are shown begin and end: changes with what
// stands around them, those whose surroundings touch as one.
func stretches(lines []edit) iter.Seq2[int, int] {
	return func(yield func(from, to int) bool) {
		from, to := 0, 0
		for i, e := range lines {
			if e.op == ' ' {
				continue
			}
			if i-around > to && to > 0 {
				if !yield(from, to) {
					return
				}
				to = 0
			}
			if to == 0 {
				from = max(i-around, 0)
			}
			to = min(i+around+1, len(lines))
		}
		if to > 0 {
			yield(from, to)
		}
	}
}

// counts is how many lines of the old and of the new file there are.
func counts(lines []edit) (old, now int) {
	for _, e := range lines {
		if e.op != '+' {
			old++
		}
		if e.op != '-' {
			now++
		}
	}
	return old, now
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
