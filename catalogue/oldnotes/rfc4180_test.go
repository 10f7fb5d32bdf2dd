package oldnotes

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestRFC4180 reads the example rows of RFC 4180 (Shafranovich 2005, Common Format and
// MIME Type for Comma-Separated Values Files, section 2, rules 1 to 7), where CRLF
// stands for a line break. One within a cell is read as a line feed, and spaces around
// a cell, of which rule 4 makes a part of it, are taken off: nothing noted begins with
// one.
func TestRFC4180(t *testing.T) {
	for rule, c := range map[string]struct {
		file string
		want [][]string
	}{
		"1": {"aaa,bbb,ccc CRLF\nzzz,yyy,xxx CRLF\n", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"2": {"aaa,bbb,ccc CRLF\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"3": {"field_name,field_name,field_name CRLF\naaa,bbb,ccc CRLF\nzzz,yyy,xxx CRLF\n",
			[][]string{{"field_name", "field_name", "field_name"}, {"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"4": {"aaa,bbb,ccc", [][]string{{"aaa", "bbb", "ccc"}}},
		"5": {`"aaa","bbb","ccc" CRLF` + "\nzzz,yyy,xxx", [][]string{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"6": {`"aaa","b CRLF` + "\n" + `bb","ccc" CRLF` + "\nzzz,yyy,xxx", [][]string{{"aaa", "b\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}},
		"7": {`"aaa","b""bb","ccc"`, [][]string{{"aaa", `b"bb`, "ccc"}}},
	} {
		t.Run("rule "+rule, func(t *testing.T) {
			file := strings.ReplaceAll(c.file, " CRLF\n", "\r\n")
			rows, faults := readRows("notes.csv", []byte(file))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			var got [][]string
			for _, row := range rows {
				var texts []string
				for _, cell := range row {
					texts = append(texts, cell.text)
				}
				got = append(got, texts)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}
