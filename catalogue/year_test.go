package catalogue

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// at sets the clock to a day.
func (m *memory) at(day string) *memory {
	when, err := time.Parse(time.DateOnly, day)
	if err != nil {
		panic(err)
	}
	m.clock = when
	return m
}

// labelled puts a release on a state, by the clock.
func (m *memory) labelled(name, state string) {
	m.log.Tags = append(m.log.Tags, Tag{Name: name, State: state, When: m.clock})
}

// summed sums a year up, a line a thing.
func summed(y *Year) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	for _, m := range y.Models {
		line("%s: %s", m.Model, standsAs(m))
		if m.Began {
			line("  began")
		}
		for _, rev := range m.Renamed() {
			line("  renamed %s", rev.File)
		}
		if m.Gone != nil {
			line("  gone %s", m.Gone.Day())
		}
		for _, i := range m.Releases {
			line("  released %s %s, made of %s%s%s", i.Label, i.When.Format(time.DateOnly), reasons(i.Made), since(i.Step), again(i.Again))
		}
		if len(m.Prototypes) > 0 {
			line("  prototypes %s", reasons(m.Prototypes))
		}
		if u := m.UnderWay; u != nil {
			line("  under way %s%s", reasons(u.Saved), since(u.Newest))
			if u.Draft != nil {
				line("  draft%s", since(u.Draft))
			}
		}
		for _, rod := range m.Rods {
			line("  rod %s", rod.Serial)
		}
		for _, w := range m.Weighings {
			line("  weighed %s", w.Serial)
		}
		for _, r := range m.Repairs {
			line("  mended %s: %s", r.Rod.Serial, r.Done)
		}
		for _, h := range m.Heard {
			line("  heard %s", h.Said)
		}
	}
	for _, m := range y.Quiet {
		line("quiet %s: %s", m.Model, standsAs(m))
	}
	for _, e := range y.Stock {
		line("stock %s %s: %d", e.File, e.State.Day(), len(e.Changes))
	}
	for _, n := range y.Notes {
		line("note %s", told(n))
	}
	return b.String()
}

func standsAs(m *ModelYear) string {
	switch {
	case m.Stood == nil:
		return "nothing"
	case m.Label == "":
		return m.Stood.Why
	}
	return m.Stood.Why + ", " + m.Label
}

func reasons(revs []*Revision) string {
	var list []string
	for _, rev := range revs {
		list = append(list, rev.Why)
	}
	return "[" + strings.Join(list, ", ") + "]"
}

func since(s *Step) string {
	if s == nil || s.Against == nil {
		return ""
	}
	return fmt.Sprintf(" since %s: %d", s.Against.Why, len(s.Changes))
}

func again(label string) string {
	if label == "" {
		return ""
	}
	return ", " + label + " again"
}

func TestYear(t *testing.T) {
	brook := func(rings ...string) map[string]string {
		return map[string]string{"models/brook.yaml": testModel("Brook", rings...)}
	}
	begun := func() *memory {
		m := newMemory().at("2021-03-01")
		m.then("first", map[string]string{rangeFile: "maker: Test Rods\n", partsFile: testParts, materialsFile: testMaterials})
		m.at("2022-03-01").then("a", brook("low-6@300 mm", "low-12@900 mm"))
		return m
	}
	tests := []struct {
		name string
		year int
		make func(*memory)
		want string
	}{
		{"before the first save", 2020, func(m *memory) {}, ""},
		{"the parts alone", 2021, func(m *memory) {}, "stock materials.yaml 2021-03-01: 1\nstock parts.yaml 2021-03-01: 8\n"},
		{"a model added", 2022, func(m *memory) {}, "brook: a\n  began\n  prototypes [a]\n  under way [a]\n"},
		{"nothing", 2023, func(m *memory) {}, "quiet brook: a\n"},
		{"after today", 2035, func(m *memory) {}, "quiet brook: a\n"},
		{"the year's last second, by its own clock", 2022, func(m *memory) {
			m.clock = time.Date(2022, 12, 31, 23, 59, 59, 0, time.FixedZone("", -5*3600)) // 2023 elsewhere
			m.then("b", brook("low-6@310 mm"))
		}, "brook: b\n  began\n  prototypes [a, b]\n  under way [a, b]\n"},
		{"two releases in a year", 2023, func(m *memory) {
			m.at("2023-02-01").labelled("brook/one", m.log.Head)
			m.at("2023-03-01").then("b", brook("low-6@310 mm", "low-12@900 mm"))
			m.at("2023-04-01").then("c", brook("low-6@320 mm", "low-12@900 mm"))
			m.at("2023-04-01").labelled("brook/two", m.log.Head)
			m.at("2023-05-01").then("d", brook("low-6@330 mm", "low-12@900 mm"))
		}, `brook: d, two
  released one 2023-02-01, made of [a]
  released two 2023-04-01, made of [b, c] since a: 1
  prototypes [b, d]
  under way [d] since c: 1
`},
		{"what was released the year after", 2022, func(m *memory) {
			m.at("2023-02-01").labelled("brook/one", m.log.Head)
		}, "brook: a\n  began\n  prototypes [a]\n  under way [a]\n"},
		{"an old revision on sale again", 2024, func(m *memory) {
			m.at("2022-04-01").labelled("brook/one", m.log.Head)
			old := m.log.Head
			m.at("2023-04-01").then("b", brook("low-6@310 mm", "low-12@900 mm"))
			m.labelled("brook/two", m.log.Head)
			m.at("2024-01-01").labelled("brook/three", old)
		}, "brook: b, three\n  released three 2024-01-01, made of [] since b: 1, one again\n"},
		{"an old revision brought back", 2024, func(m *memory) {
			m.at("2022-04-01").labelled("brook/one", m.log.Head)
			m.at("2023-04-01").then("b", brook("low-6@310 mm", "low-12@900 mm"))
			m.labelled("brook/two", m.log.Head)
			m.at("2024-01-01").then("back", brook("low-6@300 mm", "low-12@900 mm"))
			m.at("2024-01-01").labelled("brook/three", m.log.Head)
		}, "brook: back, three\n  released three 2024-01-01, made of [back] since b: 1, one again\n"},
		{"a plain tag", 2022, func(m *memory) {
			m.log.Tags = append(m.log.Tags, Tag{Name: "brook/one", State: m.log.Head})
		}, "brook: a, one\n  began\n  released one 2022-03-01, made of [a]\n"},
		{"renamed", 2023, func(m *memory) {
			m.at("2022-04-01").labelled("brook/one", m.log.Head)
			m.at("2023-04-01").then("beck", map[string]string{
				"models/brook.yaml": "", "models/beck.yaml": m.working["models/brook.yaml"],
			})
		}, "beck: beck, one\n  renamed models/beck.yaml\n"},
		{"renamed before it is released", 2023, func(m *memory) {
			m.at("2023-04-01").then("beck", map[string]string{
				"models/brook.yaml": "", "models/beck.yaml": m.working["models/brook.yaml"],
			})
			m.at("2023-04-01").labelled("beck/one", m.log.Head)
		}, "beck: beck, one\n  renamed models/beck.yaml\n  released one 2023-04-01, made of [a, beck]\n"},
		{"renamed, then removed", 2024, func(m *memory) {
			m.at("2023-04-01").then("beck", map[string]string{
				"models/brook.yaml": "", "models/beck.yaml": m.working["models/brook.yaml"],
			})
			m.at("2024-04-01").then("gone", map[string]string{"models/beck.yaml": ""})
		}, "beck: nothing\n  gone 2024-04-01\n"},
		{"removed and brought back", 2023, func(m *memory) {
			kept := m.working["models/brook.yaml"]
			m.at("2023-04-01").then("gone", map[string]string{"models/brook.yaml": ""})
			m.at("2023-05-01").then("back", map[string]string{"models/brook.yaml": kept})
		}, "brook: back\n  began\n  prototypes [back]\n  under way [back]\n"},
		{"added and removed", 2023, func(m *memory) {
			m.at("2023-04-01").then("b", map[string]string{"models/ditch.yaml": testModel("Ditch", "low-6@300 mm")})
			m.at("2023-05-01").then("gone", map[string]string{"models/ditch.yaml": ""})
		}, "ditch: nothing\n  began\n  gone 2023-05-01\n  prototypes [b]\nquiet brook: a\n"},
		{"gone since", 2024, func(m *memory) {
			m.at("2023-05-01").then("gone", map[string]string{"models/brook.yaml": ""})
		}, ""},
		{"a draft", 2026, func(m *memory) {
			m.working["models/brook.yaml"] = testModel("Brook", "low-6@310 mm")
		}, "brook: a\n  under way []\n  draft since a: 2\n"},
		{"a draft in a year that is over", 2025, func(m *memory) {
			m.working["models/brook.yaml"] = testModel("Brook", "low-6@310 mm")
		}, "quiet brook: a\n"},
		{"a model that was never saved", 2026, func(m *memory) {
			m.working["models/ditch.yaml"] = testModel("Ditch", "low-6@310 mm")
		}, "ditch: nothing\n  under way []\n  draft\nquiet brook: a\n"},
		{"a prototype of the year before", 2023, func(m *memory) {
			m.at("2023-04-01").then("b", brook("low-6@310 mm", "low-12@900 mm"))
			m.at("2023-05-01").then("c", brook("low-6@320 mm", "low-12@900 mm"))
		}, "brook: c\n  prototypes [b, c]\n  under way [b, c] since a: 1\n"},
		{"a fault", 2023, func(m *memory) {
			m.at("2023-04-01").then("b", brook("low-6@310 mm", "low-12@9 mm"))
		}, "brook: b\n  prototypes [b]\n  under way [b]\nnote notes.fault fault=models/brook.yaml:16:10: rings[at 9 mm].at: " +
			"\"9 mm\" comes after \"310 mm\"; list them in ascending order when={notes.saved on day=2023-04-01}\n"},
		{"a part that the model uses", 2023, func(m *memory) {
			m.at("2023-04-01").then("heavier", map[string]string{partsFile: strings.Replace(testParts, "mass: 0.9 g", "mass: 1.1 g", 1)})
		}, "brook: heavier\n  prototypes [heavier]\n  under way [heavier] since a: 1\nstock parts.yaml 2023-04-01: 1\n"},
		{"parts with a fault", 2023, func(m *memory) {
			m.at("2023-04-01").then("slip", map[string]string{partsFile: strings.Replace(testParts, "mass: 28 g", "mass: 28", 1)})
			m.at("2023-04-02").then("mended", map[string]string{partsFile: testParts})
		}, `brook: mended
  prototypes [slip, mended]
  under way [slip, mended] since a: 0
note notes.fault fault=parts.yaml:8:51: seats[seat-16].mass: "28" has no unit; write it with one, such as 28 g when={notes.saved on day=2023-04-01}
note notes.stock unread day=2023-04-01 file=parts.yaml why=parts.yaml:8:51: seats[seat-16].mass: "28" has no unit; write it with one, such as 28 g
note notes.stock unread day=2023-04-02 file=parts.yaml why=parts.yaml:8:51: seats[seat-16].mass: "28" has no unit; write it with one, such as 28 g
`},
		{"a merge", 2023, func(m *memory) {
			base := m.log.Head
			m.at("2023-04-01").then("b", brook("low-6@310 mm", "low-12@900 mm"))
			main := m.log.Head
			m.at("2023-04-02").commit("heavier", []string{base}, map[string]string{partsFile: strings.Replace(testParts, "mass: 28 g", "mass: 29 g", 1)})
			m.at("2023-04-03").commit("merge", []string{main, m.log.Head}, map[string]string{partsFile: strings.Replace(testParts, "mass: 28 g", "mass: 29 g", 1)})
		}, "brook: merge\n  prototypes [b, heavier, merge]\n  under way [b, merge] since a: 2\nstock parts.yaml 2023-04-02: 1\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := begun()
			tt.make(m)
			y, err := m.open(t).Year(t.Context(), tt.year, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, summed(y)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestYearRecords holds what the workshop wrote down of its rods against the
// range of the tests of builds.
func TestYearRecords(t *testing.T) {
	tests := []struct {
		name string
		year int
		make func(*memory)
		want string
	}{
		{"rods, a repair and a remark", 2021, func(*memory) {}, `brook: a range, 2021
  began
  released 2021 2021-04-01, made of [a range]
  rod 0101
  weighed 0101
  heard fine
ditch: a range, 2021
  began
  released 2021 2021-04-01, made of [a range]
  rod 0103
  mended 0103: new tip ring
stock materials.yaml 2021-03-01: 1
stock parts.yaml 2021-03-01: 8
`},
		{"without a change", 2022, func(*memory) {}, `brook: a range, 2021
  rod 0102
  weighed 0102
  heard bends nicely
ditch: a range, 2021
  mended 0103: new butt ring
  mended 0103: seat glued
`},
		{"of a model that is gone", 2022, func(m *memory) {
			m.at("2021-12-01").then("gone", map[string]string{"models/ditch.yaml": ""})
		}, `brook: a range, 2021
  rod 0102
  weighed 0102
  heard bends nicely
ditch: nothing
  mended 0103: new butt ring
  mended 0103: seat glued
`},
		{"faults", 2022, func(m *memory) {
			m.working["builds/2022.yaml"] = "built:\n  - {serial: 0102, model: brook, release: 2021}\n"
			m.working["heard/brook.yaml"] = "heard:\n  - {release: 2021, said: x}\n"
		}, `quiet brook: a range, 2021
quiet ditch: a range, 2021
note notes.plain text=builds/2022.yaml:2:5: built[0102].date: is missing; expected a day such as 2026-11-07
note notes.plain text=heard/brook.yaml:2:5: heard[1].date: is missing; expected a day such as 2026-11-07
`},
		{"rods that are none of ours", 2022, func(m *memory) {
			m.working["builds/2022.yaml"] = `built:
  - {serial: 0102, model: bruck, release: 2021, date: 2022-02-01}
  - {serial: 0104, model: brook, release: 1921, date: 2022-02-01, weight: 90 g}
  - {serial: 0105, model: brook, release: 2021, date: 2022-02-01, weight: 900 g}
repairs:
  - {serial: 0199, date: 2022-03-01, done: new tip ring}
`
		}, `brook: a range, 2021
  rod 0104
  rod 0105
  heard bends nicely
quiet ditch: a range, 2021
note notes.plain text=builds/2022.yaml:2:27: built[0102].model: no model is named "bruck"; did you mean brook?
note notes.plain text=builds/2022.yaml:3:43: built[0104].release: brook@1921: not found: the releases are 2021
note notes.plain text=builds/2022.yaml:6:14: repairs[0199].serial: no rod has the number "0199"; did you mean 0101?
note notes.left out rod=0104 why=builds/2022.yaml:3:43: rod 0104: brook@1921: not found: the releases are 2021
note notes.cannot weigh place=builds/2022.yaml:4:75 rod=0105 weight=900 g worked=97.0 g
`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := withRods(t)
			tt.make(m)
			y, err := m.open(t).Year(t.Context(), tt.year, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, summed(y)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
