package oldnotes

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"rodlore/catalogue/visible"
	"rodlore/models"
	"rodlore/models/spelling"
)

// Example is a table to begin with.
const Example = `release,date,why,tell,ring 1,ring 2,ring 3,ring 4,ring 5,ring 6,ring 7,ring 8,part 8
2019,2019-02,"as it first went on sale",,90,195,320,475,670,920,1250,1640,two-foot-25
2021,2021-01-17,"butt ring smaller, and further up","Casts a touch easier.",90,195,320,475,670,900,1190,1560,two-foot-16
,2021-11,"tried seven rings",,110,240,400,600,850,1160,1560,,
`

// The largest table that is read, in bytes: no notebook comes near it.
const most = 1 << 20

// cell is one value of a table, and where it stands.
type cell struct {
	text string
	pos  models.Pos
}

// Table reads a table, a rod a row. Its first line names the columns:
//
//	release   the label it was sold under; left empty where it was not on sale
//	date      the day, the month or the year; where there is none, the release is the year
//	why, tell the reason, and words for customers
//	ring 1 …  the rings' places from the tip; a tip ring at 0 may be left out
//	part 1 …  the ring's part, where it is not that of the spec
//	rings     all places in one cell, parted by spaces or slashes
//	spec      the file with a copy of the whole spec, instead of rings
//
// The columns are parted by commas, semicolons or tabs, decimals stand behind a
// point or a comma. The error, if any, is a models.Faults; the rows without a
// fault are given all the same, so that what else is wrong with them can be told
// along.
func Table(file string, src []byte, o Options) ([]Entry, error) {
	if len(src) > most {
		return nil, models.Faults{{Pos: models.Pos{File: file}, Msg: fmt.Sprintf("it has %d bytes; a table of notes has at most %d", len(src), most)}}
	}
	rows, faults := readRows(file, src)
	if len(faults) > 0 {
		return nil, faults
	}
	t := &table{file: file, options: o}
	if len(rows) == 0 {
		t.fault(models.Pos{File: file}, "", "it is empty; its first line names the columns: release, date, why, ring 1, ring 2 …")
		return nil, t.faults
	}
	t.name(rows[0])
	for _, row := range rows[1:] {
		before := len(t.faults)
		if e := t.row(row); len(t.faults) == before {
			t.entries = append(t.entries, e)
		}
	}
	if len(rows) == 1 && len(t.faults) == 0 {
		t.fault(rows[0][0].pos, "", "there is no row below the names of the columns")
	}
	entries, faults := inOrder(t.entries)
	if faults = append(t.faults, faults...); len(faults) > 0 {
		return entries, faults.Sorted()
	}
	return entries, nil
}

// readRows takes a table apart; rows with nothing in them are left out.
func readRows(file string, src []byte) (rows [][]cell, faults models.Faults) {
	fault := func(line, col int, msg string) ([][]cell, models.Faults) {
		return nil, models.Faults{{Pos: models.Pos{File: file, Line: line, Col: col}, Msg: msg}}
	}
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	if bytes.HasPrefix(src, []byte{0xff, 0xfe}) || bytes.HasPrefix(src, []byte{0xfe, 0xff}) || bytes.IndexByte(src, 0) >= 0 {
		return fault(1, 1, "it is not written in UTF-8; export it again as CSV in UTF-8")
	}
	if at := invalid(src); at >= 0 {
		line := bytes.Count(src[:at], []byte("\n")) + 1
		col := utf8.RuneCount(src[bytes.LastIndexByte(src[:at], '\n')+1:at]) + 1
		return fault(line, col, "a letter here is not written in UTF-8; export it again as CSV in UTF-8")
	}
	r := csv.NewReader(bytes.NewReader(src))
	r.Comma, r.FieldsPerRecord = separator(src), -1
	lines := bytes.Split(src, []byte("\n"))
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			return fault(wrong.Line, wrong.Column, "the quotes here do not pair; a quote within quotes is written twice")
		}
		if strings.TrimSpace(strings.Join(record, "")) == "" {
			continue
		}
		row := make([]cell, len(record))
		for i, text := range record {
			line, col := r.FieldPos(i)
			col = utf8.RuneCount(lines[line-1][:min(col-1, len(lines[line-1]))]) + 1
			row[i] = cell{strings.TrimSpace(text), models.Pos{File: file, Line: line, Col: col}}
			if visible.Steers(row[i].text) {
				return fault(line, col, "there is a character here that does not show; take it out")
			}
		}
		rows = append(rows, row)
	}
}

// invalid is where bytes are no UTF-8; −1 where all are.
func invalid(src []byte) int {
	for at := 0; at < len(src); {
		r, size := utf8.DecodeRune(src[at:])
		if r == utf8.RuneError && size == 1 {
			return at
		}
		at += size
	}
	return -1
}

// separator is what parts the columns: of comma, semicolon and tab the one that
// the first line has most of outside of quotes.
func separator(src []byte) rune {
	first, _, _ := bytes.Cut(src, []byte("\n"))
	counts := map[rune]int{}
	quoted := false
	for _, r := range string(first) {
		if r == '"' {
			quoted = !quoted
		}
		if !quoted {
			counts[r]++
		}
	}
	best := ','
	for _, r := range ";\t" {
		if counts[r] > counts[best] {
			best = r
		}
	}
	return best
}

// table is a table that is being read.
type table struct {
	file    string
	options Options
	columns []string // what each column is, "" for one that is passed over
	entries []Entry
	faults  models.Faults
}

func (t *table) fault(pos models.Pos, path, format string, args ...any) {
	t.faults = append(t.faults, &models.Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)})
}

// known are the names of columns; a ring's or a part's has a number.
var known = []string{"release", "date", "why", "tell", "spec", "rings"}

var numbered = regexp.MustCompile(`^(ring|part) ([1-9]\d?)$`)

// name finds out what the columns are.
func (t *table) name(header []cell) {
	taken := map[string]models.Pos{}
	for _, c := range header {
		name := t.meant(c.text)
		t.columns = append(t.columns, name)
		switch {
		case name == "":
		case !slices.Contains(known, name) && !numbered.MatchString(name):
			t.fault(c.pos, "", "what the column %q is, is not known%s: name it release, date, why, tell, ring 1, part 1, rings or spec, "+
				"or say with --column %q what it is, or pass it over with --ignore %q",
				c.text, spelling.DidYouMean(name, known), c.text+"=NAME", c.text)
		case taken[name].Line > 0:
			t.fault(c.pos, "", "there are two columns for %s; pass one over", name)
		}
		taken[name] = c.pos
	}
	has := func(names ...string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return taken[n].Line > 0 })
	}
	at := models.Pos{File: t.file, Line: 1, Col: 1}
	if !has("date", "release") {
		t.fault(at, "", "no column says when it was: one named date or release is missing")
	}
	if !has("rings", "ring 1", "spec") {
		t.fault(at, "", "no column says what the rod was: ring 1, ring 2 and so on, rings, or spec is missing")
	}
}

// meant is what a column is, by its name in the file: "" is passed over.
func (t *table) meant(text string) string {
	if text == "" || slices.Contains(t.options.Ignore, text) {
		return ""
	}
	for theirs, ours := range t.options.Columns {
		before, after, starred := strings.Cut(theirs, "*")
		switch {
		case !starred && theirs == text:
			return ours
		case starred && len(text) > len(before)+len(after) && strings.HasPrefix(text, before) && strings.HasSuffix(text, after):
			digits := text[len(before) : len(text)-len(after)]
			if strings.Trim(digits, "0123456789") == "" {
				return strings.ReplaceAll(ours, "*", strings.TrimLeft(digits, "0"))
			}
		}
	}
	return strings.ToLower(strings.Join(strings.Fields(text), " "))
}
