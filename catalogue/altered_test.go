package catalogue

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rodlore/catalogue/seen"
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
func (m *memory) amend(state, old, now string) string {
	files := maps.Clone(m.trees[state])
	files["models/brook.yaml"] = strings.Replace(files["models/brook.yaml"], old, now, 1)
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
		{"the last state of the branch missing", func(m *memory) { m.log.Head = "gone" }, "2021", "altered.history missing", true},
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
		}, "2022", "altered.other state", false},
		{"a tag moved to a state with the same files", func(m *memory) {
			m.then("the shelf is full", map[string]string{"builds/2023.yaml": ""})
			m.tag("2023").State = m.log.Head
		}, "2023", "altered.other state", false},
		{"the checksum taken out of the last", func(m *memory) {
			text := m.tag("2023").Message
			m.tag("2023").Message = strings.Replace(text[:strings.Index(text, noteSum)], "rings: 3", "rings: 4", 1)
		}, "2023", "altered.no checksum", false},
		{"a tag dated otherwise", func(m *memory) { m.tag("2022").When = m.tag("2022").When.AddDate(-1, 0, 0) }, "2022", "altered.since", false},
		{"a tag by somebody else", func(m *memory) { m.tag("2022").Author = "Nobody <n@example.org>" }, "2022", "altered.since", false},
		{"a signature exchanged", func(m *memory) { m.signatures = map[string]Signature{m.tag("2022").Message: {Format: "ssh"}} }, "2022", "altered.since", false},
		{"a tag copied under another name", func(m *memory) {
			copied := *m.tag("2023")
			copied.Name, copied.Named = "brook/2024", "brook/2023"
			copied.Message = strings.Replace(copied.Message, "Release: 2023", "Release: 2024", 1)
			copied.Message = copied.Message[:strings.Index(copied.Message, noteSum)]
			copied.Message += noteSum + ": " + noteChecksum(copied.Message) + "\n"
			m.log.Tags = append(m.log.Tags, copied)
		}, "2024", "altered.copy", false},
		{"an object replaced in its place", func(m *memory) {
			m.broken = map[string]error{m.tag("2022").State: errors.New("object 12 is of another")}
		}, "2022", "altered.not whole", false},
		{"the first of two releases of one revision taken away", func(m *memory) {
			m.release("2023-b")
			m.dropTag("2023")
		}, "2023", "altered.gone", false},
		{"one revision released by two who did not know", func(m *memory) {
			m.release("2023-b")
			n, _ := readReleaseNote(m.tag("2023-b").Message)
			first, _ := readReleaseNote(m.tag("2023").Message)
			n.after = first.after
			m.tag("2023-b").Message = n.write("Brook 2023-b")
		}, "2023-b", "altered.twice", true},
		{"one revision released twice", func(m *memory) { m.release("2023-b") }, "", "", false},
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

// seenRange is brook put on sale three times and seen so, and the book of it.
func seenRange(t *testing.T) (*memory, *seen.Book) {
	t.Helper()
	m := threeReleases(t)
	book, err := seen.Open(filepath.Join(t.TempDir(), "releases"))
	if err != nil {
		t.Fatal(err)
	}
	m.recalled(t, book, "/range")
	return m, book
}

// recalled opens the range as it lies at a place, and knows what was seen of it.
func (m *memory) recalled(t *testing.T, book *seen.Book, place string) *Range {
	t.Helper()
	r := m.open(t)
	if err := r.Recall(book, place, "2026-11-25", false); err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAlteredSinceSeen holds that what is done to a release after it was seen on this
// computer is found, be it the last one, and however well its record is forged.
func TestAlteredSinceSeen(t *testing.T) {
	forge := func(m *memory, label string) {
		n, _ := readReleaseNote(m.tag(label).Message)
		n.verdict, n.figures[0].Value, n.state = Fit, 0.1, m.tag(label).State
		m.tag(label).Message = n.write("Brook " + label)
	}
	for _, tc := range []struct {
		name   string
		change func(m *memory)
		place  string
		label  string // "" where nothing is to be found
		says   string
	}{
		{"nothing", func(*memory) {}, "/range", "", ""},
		{"one more", func(m *memory) { m.release("2024") }, "/range", "", ""},
		{"the last taken away", func(m *memory) { m.dropTag("2023") }, "/range", "2023", "altered.gone since"},
		{"all of them taken away", func(m *memory) { m.log.Tags = nil }, "/range", "2021", "altered.gone since"},
		{"all taken away, and the model", func(m *memory) {
			m.log.Tags = nil
			m.then("taken out", map[string]string{"models/brook.yaml": ""})
		}, "/range", "2021", "altered.gone since"},
		{"the last forged", func(m *memory) { forge(m, "2023") }, "/range", "2023", "altered.other since"},
		{"the last moved with a forged record", func(m *memory) {
			m.then("the shelf is full", map[string]string{"builds/2023.yaml": ""})
			m.tag("2023").State = m.log.Head
			forge(m, "2023")
		}, "/range", "2023", "altered.other since"},
		{"the last made plain", func(m *memory) { m.plain("2023") }, "/range", "2023", "altered.other since"},
		{"the last dated otherwise", func(m *memory) { m.tag("2023").When = m.tag("2023").When.AddDate(-1, 0, 0) }, "/range", "2023", "altered.other since"},
		{"forged in a copy", func(m *memory) { forge(m, "2023") }, "/copy", "2023", "altered.other elsewhere"},
		{"not come to a copy yet", func(m *memory) { m.dropTag("2023") }, "/copy", "", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m, book := seenRange(t)
			tc.change(m)
			for range 2 { // seeing it once more makes nothing right
				found, err := m.recalled(t, book, tc.place).Altered(context.Background())
				if err != nil {
					t.Fatal(err)
				}
				if tc.label == "" {
					if len(found) > 0 {
						t.Errorf("found %+v", found)
					}
					continue
				}
				if len(found) == 0 || found[0].Label != tc.label || found[0].Key != tc.says || found[0].Doubt != (tc.place == "/copy") || found[0].Model != "brook" {
					t.Fatalf("found %+v, want %s %s", found, tc.label, tc.says)
				}
			}
		})
	}
}

// TestSigners holds releases to those whom range.yaml names.
func TestSigners(t *testing.T) {
	by := func(names ...string) Signature { return Signature{Format: "ssh", By: names} }
	for _, tc := range []struct {
		name    string
		signers string
		change  func(m *memory)
		found   []string
	}{
		{"nobody signs and nobody is named", "", func(*memory) {}, nil},
		{"all unsigned", "[isla@skerry.example]", func(*memory) {}, []string{"2021 altered.unsigned", "2022 altered.unsigned", "2023 altered.unsigned"}},
		{"the last is signed, and vouches for the rest", "[Isla@skerry.example]", func(m *memory) { m.sign("2023", by("isla@skerry.example")) }, nil},
		{"by a key", "[SHA256:abc]", func(m *memory) { m.sign("2023", by("isla@skerry.example", "SHA256:abc")) }, nil},
		{"the one before is signed, and the last is not", "[isla@skerry.example]", func(m *memory) { m.sign("2022", by("isla@skerry.example")) }, []string{"2023 altered.unsigned"}},
		{"by somebody else", "[isla@skerry.example]", func(m *memory) { m.sign("2023", by("tam@skerry.example")) },
			[]string{"2021 altered.unsigned", "2022 altered.unsigned", "2023 altered.other signer"}},
		{"by a stranger", "[isla@skerry.example]", func(m *memory) { m.sign("2023", Signature{Format: "ssh", Why: "unknown"}) },
			[]string{"2021 altered.unsigned", "2022 altered.unsigned", "2023 altered.foreign signature"}},
		{"by a stranger, and nobody is named", "", func(m *memory) { m.sign("2023", Signature{Format: "ssh", Why: "unknown"}) }, []string{"2023 altered.unknown signature ?"}},
		{"of another text", "", func(m *memory) { m.sign("2023", Signature{Format: "ssh", Why: "it is not", Broken: true}) }, []string{"2023 altered.broken signature"}},
		{"taken off the last", "", func(m *memory) {
			n, _ := readReleaseNote(m.tag("2023").Message)
			n.signed = true
			m.tag("2023").Message = n.write("Brook 2023")
		}, []string{"2023 altered.signature gone"}},
		{"a forged one beside a signed one", "[isla@skerry.example]", func(m *memory) {
			m.sign("2023", by("isla@skerry.example"))
			m.release("2024")
		}, []string{"2024 altered.unsigned"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := threeReleases(t)
			tc.change(m)
			if tc.signers != "" {
				m.working[rangeFile] += "signers: " + tc.signers + "\n"
			}
			found, err := m.open(t).Altered(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, a := range found {
				line := a.Label + " " + a.Key
				if a.Doubt {
					line += " ?"
				}
				got = append(got, line)
			}
			if !slices.Equal(got, tc.found) {
				t.Errorf("found %q, want %q", got, tc.found)
			}
		})
	}
}

// sign puts a signature on a tag, as if it had been there when the next was made:
// those after it are made anew.
func (m *memory) sign(label string, s Signature) {
	if m.signatures == nil {
		m.signatures = map[string]Signature{}
	}
	m.signatures[m.tag(label).Message] = s
	log, _ := m.Log(context.Background())
	ids := map[string]string{}
	for _, t := range log.Tags {
		_, l, _ := strings.Cut(t.Name, "/")
		ids[l] = t.ID
	}
	for i := range m.log.Tags {
		n, _ := readReleaseNote(m.log.Tags[i].Message)
		for j := range n.after {
			if n.after[j].label == label {
				n.after[j].id = ids[label]
				m.log.Tags[i].Message = n.write("Brook " + n.label)
			}
		}
	}
}

// A release is signed where git signs every tag, and refused where range.yaml names
// signers and it would not be.
func TestReleaseIsSigned(t *testing.T) {
	for _, tc := range []struct {
		signers, unasked, asked bool
		refused, signed         bool
	}{
		{}, {asked: true, signed: true}, {unasked: true, signed: true},
		{signers: true, refused: true}, {signers: true, asked: true, signed: true}, {signers: true, unasked: true, signed: true},
	} {
		m := soundRange(t)
		m.signsTags = tc.unasked
		if tc.signers {
			m.working[rangeFile] += "signers: [isla@skerry.example]\n"
		}
		r := m.open(t)
		rev, err := r.Find("brook", "saved")
		if err != nil {
			t.Fatal(err)
		}
		_, err = r.Release(context.Background(), rev, ReleaseRequest{Label: "2021", When: m.clock, Despite: "for the test", Sign: tc.asked})
		if errors.Is(err, ErrUnsigned) != tc.refused || !tc.refused && err != nil {
			t.Errorf("%+v gives %v", tc, err)
		}
		if tc.refused {
			continue
		}
		n, _ := readReleaseNote(m.tag("2021").Message)
		if m.tag("2021").Sign != tc.signed || n.signed != tc.signed {
			t.Errorf("%+v: signed %t, its record says %t", tc, m.tag("2021").Sign, n.signed)
		}
	}
}

func TestAgainstRemote(t *testing.T) {
	m := threeReleases(t)
	log, _ := m.Log(context.Background())
	m.remote = map[string]string{"brook/2024": "77", "v1": "78", "fair/2023": "79", "brook/old/1": "80"}
	for _, tag := range log.Tags {
		m.remote[tag.Name] = tag.ID
	}
	m.remote["brook/2022"] = "81"
	delete(m.remote, "brook/2023")
	found, err := m.open(t).AgainstRemote(context.Background(), "")
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, a := range found {
		got = append(got, fmt.Sprint(a.Tag, " ", a.Key, " ", a.Doubt))
	}
	want := []string{"brook/2022 altered.other remote false", "brook/2023 altered.not remote true", "brook/2024 altered.only remote true"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}
