package oldnotes_test

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue/oldnotes"
)

func options() oldnotes.Options {
	return oldnotes.Options{
		Unit: "mm",
		Now:  time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC),
		Open: func(name string) ([]byte, error) {
			if name != "old.yaml" {
				return nil, fs.ErrNotExist
			}
			return []byte("# shorter\n# and lighter\nname: Gull 9\n"), nil
		},
	}
}

// told writes entries a line each: day, label, reason, words, rings with parts.
func told(entries []oldnotes.Entry) []string {
	var lines []string
	for _, e := range entries {
		parts := []string{e.Day.Format(time.DateOnly), e.Label.Text, e.Why, e.Tell, e.SpecFile}
		for _, r := range e.Rings {
			parts = append(parts, strings.TrimSpace(r.At.Text+" "+r.Part.Text))
		}
		lines = append(lines, strings.Join(parts, "|"))
	}
	return lines
}

func TestTable(t *testing.T) {
	tests := []struct {
		name, file string
		mapping    map[string]string
		want       []string
	}{
		{name: "as the example", file: oldnotes.Example, want: []string{
			"2019-02-01|2019|as it first went on sale|||90 mm|195 mm|320 mm|475 mm|670 mm|920 mm|1250 mm|1640 mm two-foot-25",
			"2021-01-17|2021|butt ring smaller, and further up|Casts a touch easier.||90 mm|195 mm|320 mm|475 mm|670 mm|900 mm|1190 mm|1560 mm two-foot-16",
			"2021-11-01||tried seven rings|||110 mm|240 mm|400 mm|600 mm|850 mm|1160 mm|1560 mm",
		}},
		{name: "a mark, semicolons and decimal commas", file: "\ufeffrelease;ring 1;ring 2\r\n2020;95,5;240\r\n2019;100;250,25 mm\r\n", want: []string{
			"2019-01-01|2019|from notes.csv, line 3|||100 mm|250.25 mm",
			"2020-01-01|2020|from notes.csv, line 2|||95.5 mm|240 mm",
		}},
		{name: "tabs and inches", file: "date\trings\n2019-5-2\t3 3/4 in; 9 1/2 in; 1 ft\n", want: []string{
			"2019-05-02||from notes.csv, line 2|||3 3/4 in|9 1/2 in|1 ft",
		}},
		{name: "quotes, breaks and commas within a cell (RFC 4180, rules 6 and 7)",
			file: "date,why,rings\n3.4.2019,\"a \"\"lazy\"\" tip,\nso two rings more\",95/240/410\n",
			want: []string{"2019-04-03||a \"lazy\" tip,\nso two rings more|||95 mm|240 mm|410 mm"}},
		{name: "other names", file: "Jahr,R01,R02,Bild\n2018,95,240,x.jpg\n", mapping: map[string]string{"Jahr": "release", "R*": "ring *", "Bild": ""},
			want: []string{"2018-01-01|2018|from notes.csv, line 2|||95 mm|240 mm"}},
		{name: "a copy of a spec", file: "date,spec\n2018-06,old.yaml\n", want: []string{"2018-06-01||from notes.csv, line 2||old.yaml"}},
		{name: "empty rows and cells", file: "release,ring 1,ring 2,ring 3\n,,,\n2018,95,,410\n", want: []string{
			"2018-01-01|2018|from notes.csv, line 3|||95 mm|410 mm"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			o := options()
			o.Columns = test.mapping
			entries, err := oldnotes.Table("old/notes.csv", []byte(test.file), o)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, told(entries)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestTableFaults(t *testing.T) {
	tests := []struct{ name, file, want string }{
		{"nothing", "", "notes.csv: it is empty; its first line names the columns: release, date, why, ring 1, ring 2 …"},
		{"no row", "date,ring 1\n", "notes.csv:1:1: there is no row below the names of the columns"},
		{"no date", "why,ring 1\nx,95\n", "notes.csv:1:1: no column says when it was: one named date or release is missing\n" +
			"notes.csv:2:1: date: it is not said when this was; give a day, a month or a year"},
		{"no rings", "date,why\n2019,x\n", "notes.csv:1:1: no column says what the rod was: ring 1, ring 2 and so on, rings, or spec is missing\n" +
			"notes.csv:2:1: rings: no ring is noted; a rod without any is noted as a copy of its spec"},
		{"a slip in a name", "relase,ring 1\n2019,95\n", `notes.csv:1:1: what the column "relase" is, is not known; did you mean release?: name it ` +
			`release, date, why, tell, ring 1, part 1, rings or spec, or say with --column "relase=NAME" what it is, or pass it over with --ignore "relase"`},
		{"a column twice", "date,date,ring 1\n2019,2019,95\n", "notes.csv:1:6: there are two columns for date; pass one over"},
		{"a year twice", "release,date,ring 1\n2019,2019-02,95\n2019,2019-08,96\n",
			"notes.csv:3:1: release: 2019 is there already, in line 2; a label is given once: call this one 2019-b, say"},
		{"a day twice", "date,ring 1\n2019,95\n2019-01-01,96\n",
			"notes.csv:3:1: date: 2019-01-01 is the day of line 2 too; give each its day or month, so that it is known which came first"},
		{"days that are none", "date,ring 1\n30.2.2019,95\n2/3/2019,95\n2027-01-01,95\n1969,95\nlast spring,95\n",
			"notes.csv:2:1: date: \"30.2.2019\": there is no such day\n" +
				"notes.csv:3:1: date: \"2/3/2019\" is no day; write 2019, 2019-03 or 2019-03-14\n" +
				"notes.csv:4:1: date: \"2027-01-01\" is still to come\n" +
				"notes.csv:5:1: date: \"1969\": git keeps no day before 1970; give a later one and say in the reason when it was\n" +
				"notes.csv:6:1: date: \"last spring\" is no day; write 2019, 2019-03 or 2019-03-14"},
		{"places out of order", "date,ring 1,ring 2,ring 3\n2019,95,410,240\n",
			"notes.csv:2:13: rings: 240 mm is no further from the tip than 410 mm, the ring before; rings are noted from the tip"},
		{"a place that is none", "date,Ring 1\n2019,\"ninety\"\n", "notes.csv:2:6: ring 1: \"ninety\""},
		{"a part without a place", "date,ring 1,part 2\n2019,95,DL-20\n", "notes.csv:2:9: part 2: there is a part and no place for it in ring 2"},
		{"a cell too many", "date,ring 1\n2019,95,96\n", "notes.csv:2:9: \"96\" stands in no column: the first line names 2"},
		{"a copy that is not there", "date,spec\n2019,new.yaml\n", "notes.csv:2:6: spec: file does not exist"},
		{"quotes that do not pair", "date,why,ring 1\n2019,\"x\"y,95\n", "notes.csv:2:8: the quotes here do not pair; a quote within quotes is written twice"},
		{"another encoding", "date,why,ring 1\n2019,k\xfcrzer,95\n", "notes.csv:2:7: a letter here is not written in UTF-8; export it again as CSV in UTF-8"},
		{"UTF-16", "\xff\xfed\x00", "notes.csv:1:1: it is not written in UTF-8; export it again as CSV in UTF-8"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			entries, err := oldnotes.Table("notes.csv", []byte(test.file), options())
			if err == nil {
				t.Fatalf("read as %q", told(entries))
			}
			if !strings.HasPrefix(err.Error(), test.want) {
				t.Errorf("got\n%v\nwant\n%s", err, test.want)
			}
		})
	}
}

func TestCopies(t *testing.T) {
	o := options()
	o.Open = func(name string) ([]byte, error) {
		if name == "kept/2021-03 bare.yaml" {
			return []byte("name: Gull 9\n"), nil
		}
		return []byte("# shorter\n# and lighter\nname: Gull 9\n"), nil
	}
	entries, err := oldnotes.Copies([]string{"kept/gull-9-20210314.yaml", "kept/gull-9-2019.yaml", "kept/2021-03 bare.yaml"}, o)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"2019-01-01|2019|shorter\nand lighter||kept/gull-9-2019.yaml",
		"2021-03-01||as kept in 2021-03 bare.yaml||kept/2021-03 bare.yaml",
		"2021-03-14||shorter\nand lighter||kept/gull-9-20210314.yaml",
	}
	if diff := cmp.Diff(want, told(entries)); diff != "" {
		t.Error(diff)
	}

	o.Open = func(string) ([]byte, error) { return nil, errors.New("not to be read") }
	_, err = oldnotes.Copies([]string{"kept/gull-9.yaml", "kept/gull-2019.yaml", "kept/2019-13.yaml"}, o)
	const faults = `kept/2019-13.yaml: "2019-13": there is no such day
kept/gull-2019.yaml: not to be read
kept/gull-9.yaml: its name has no day; call it, say, 2019-03-14.yaml, or list it in a table with columns date and spec`
	if err == nil || err.Error() != faults {
		t.Errorf("got\n%v\nwant\n%s", err, faults)
	}
}
