package catalogue

import (
	"errors"
	"fmt"
	"maps"
	"strings"
	"testing"
)

// threeReleases is brook put on sale three times, a ring moved each time.
func threeReleases(t *testing.T) *memory {
	t.Helper()
	m := soundRange(t)
	for i, label := range []string{"2021", "2022", "2023"} {
		if i > 0 {
			m.then(Message("a ring moved", "moved"), map[string]string{
				"models/brook.yaml": soundModel(fmt.Sprintf("low-6@%d mm", 250+i), "low-6@600 mm", "low-12@1100 mm")})
		}
		m.release(label)
	}
	return m
}

// tag is the tag of brook with that label.
func (m *memory) tag(label string) *Tag {
	for i := range m.log.Tags {
		if m.log.Tags[i].Name == "brook/"+label {
			return &m.log.Tags[i]
		}
	}
	return nil
}

func (m *memory) dropTag(label string) {
	tag := m.tag(label)
	*tag = m.log.Tags[len(m.log.Tags)-1]
	m.log.Tags = m.log.Tags[:len(m.log.Tags)-1]
}

// amend makes another saved state like one, with another spec in it and on no
// branch, as rewriting history does, and gives its identity.
func (m *memory) amend(state, old, new string) string {
	files := maps.Clone(m.trees[state])
	files["models/brook.yaml"] = strings.Replace(files["models/brook.yaml"], old, new, 1)
	return m.aside(files)
}

// aside makes a saved state that nothing rests on.
func (m *memory) aside(files map[string]string) string {
	head, working := m.log.Head, m.working
	defer func() { m.log.Head, m.working = head, working }()
	return m.commit("aside", nil, files)
}

// plain takes the record out of a tag.
func (m *memory) plain(label string) { m.tag(label).Message = "" }

// TestAltered holds that whatever is done to a release is found, and what.
func TestAltered(t *testing.T) {
	for _, tc := range []struct {
		name   string
		change func(m *memory)
		label  string // "" where nothing is to be found
		says   string
		doubt  bool
	}{
		{"nothing", func(*memory) {}, "", "", false},
		{"a tag moved with its record", func(m *memory) { m.tag("2022").State = m.tag("2023").State }, "2022", "altered.other spec blob=", false},
		{"a tag moved of a model that is gone", func(m *memory) {
			m.tag("2022").State = m.tag("2023").State
			m.then("taken out", map[string]string{"models/brook.yaml": ""})
		}, "2022", "altered.other spec blob=", false},
		{"a model that is gone", func(m *memory) { m.then("taken out", map[string]string{"models/brook.yaml": ""}) }, "", "", false},
		{"a tag of something else", func(m *memory) {
			m.log.Tags = append(m.log.Tags, Tag{Name: "backup/2022", State: m.log.Head})
		}, "", "", false},
		{"a tag moved to a state before the model", func(m *memory) {
			m.tag("2022").State = m.aside(map[string]string{rangeFile: "maker: x\n"})
		}, "2022", "altered.moved model=brook", false},
		{"a figure edited", func(m *memory) {
			m.tag("2022").Message = strings.Replace(m.tag("2022").Message, "rings: 3", "rings: 4", 1)
		}, "2022", "altered.edited", false},
		{"a record of another label", func(m *memory) { m.tag("2022").Message = m.tag("2021").Message }, "2022", "altered.of another label=2021", false},
		{"a record written anew", func(m *memory) {
			n, _ := readReleaseNote(m.tag("2022").Message)
			n.verdict, n.figures[0].Value = Fit, 0.1
			m.tag("2022").Message = n.write("Brook 2022")
		}, "2022", "altered.since later=2023 what={altered.replaced}", false},
		{"a plain tag in its place", func(m *memory) { m.plain("2022") }, "2022", "altered.since later=2023 what={altered.replaced by none}", false},
		{"the last tag made plain", func(m *memory) { m.plain("2023") }, "2023", "altered.no record", true},
		{"a tag taken away", func(m *memory) { m.dropTag("2022") }, "2022", "altered.gone later=2023", false},
		{"a tag that leads nowhere", func(m *memory) {
			m.dropTag("2022")
			m.log.Notes = append(m.log.Notes, &LostTag{"brook/2022", errors.New("object is missing")})
		}, "2022", "altered.unread why=object is missing", false},
		{"another's tag that leads nowhere", func(m *memory) {
			m.log.Notes = append(m.log.Notes, &LostTag{"v1", errors.New("object is missing")})
		}, "", "", false},
		{"history rewritten behind it", func(m *memory) {
			m.log.Head = m.amend(m.tag("2023").State, "x", "x")
		}, "2021", "altered.on no branch", false},
		{"a branch of its own", func(m *memory) {
			m.log.Branches = []string{m.log.Head}
			m.log.Head = m.amend(m.tag("2023").State, "x", "x")
		}, "", "", false},
		{"the spec amended by a rewritten history", func(m *memory) {
			m.tag("2022").State = m.amend(m.tag("2022").State, "251 mm", "261 mm")
		}, "2022", "altered.other spec blob=", false},
		{"the model taken out, and a tag of it plain", func(m *memory) {
			m.plain("2022")
			m.then("no longer made", map[string]string{"models/brook.yaml": ""})
		}, "2022", "altered.since later=2023 what={altered.replaced by none}", false},
		{"a tag of something else", func(m *memory) {
			m.log.Tags = append(m.log.Tags, Tag{Name: "fair/2023", State: m.log.Head}, Tag{Name: "v1", State: m.log.Head})
		}, "", "", false},
		{"a comment amended by a rewritten history", func(m *memory) {
			m.tag("2022").State = m.amend(m.tag("2022").State, "name:", "# tidy\nname:")
			m.log.Branches = []string{m.tag("2022").State}
		}, "", "", false},
		{"read otherwise by another rodlore", func(m *memory) {
			n, _ := readReleaseNote(m.tag("2023").Message)
			n.revision = strings.Repeat("0", 64)
			m.tag("2023").Message = n.write("Brook 2023")
		}, "", "", false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := threeReleases(t)
			tc.change(m)
			found, err := m.open(t).Altered(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			if tc.label == "" {
				if len(found) > 0 {
					t.Errorf("found %+v", found)
				}
				return
			}
			if len(found) == 0 {
				t.Fatal("nothing is found")
			}
			for _, a := range found[1:] {
				if told(a.Note) != told(found[0].Note) && a.Key != "altered.on no branch" {
					t.Errorf("also found %+v", a)
				}
			}
			if a := found[0]; a.Label != tc.label || a.Model != "brook" || a.Doubt != tc.doubt || !strings.Contains(told(a.Note), tc.says) {
				t.Errorf("found %+v, want %s and %q", a, tc.label, tc.says)
			}
		})
	}
}

// Records of older releases have neither files nor a checksum: they are as good
// as they were, and where nothing built in is used, another spec shows.
func TestAlteredOlderRecords(t *testing.T) {
	older := func(m *memory) {
		for i := range m.log.Tags {
			n, _ := readReleaseNote(m.log.Tags[i].Message)
			text := fmt.Sprintf("Brook %s\n\nRevision: %s\nMethod: %s\n\n", n.label, n.revision, n.method)
			for _, f := range n.figures {
				text += f.Key + ": " + notedFigure(f) + "\n"
			}
			m.log.Tags[i].Message = text
		}
	}
	m := threeReleases(t)
	older(m)
	if found, err := m.open(t).Altered(t.Context()); err != nil || len(found) > 0 {
		t.Errorf("found %+v, %v", found, err)
	}
	m.tag("2022").State = m.tag("2023").State
	// Cork is built in, and might have changed.
	if found, err := m.open(t).Altered(t.Context()); err != nil || len(found) > 0 {
		t.Errorf("with cork found %+v, %v", found, err)
	}
}
