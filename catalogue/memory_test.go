package catalogue

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/working"
)

// memory is a Source without a repository: saved states are maps of files.
type memory struct {
	log     Log
	trees   map[string]map[string]string // content by path, by state
	working map[string]string
	ignored map[string]bool
	refused map[string]error

	signatures map[string]Signature // of tags, by their messages
	signsTags  bool
	broken     map[string]error // why a state is not whole
	remote     map[string]string
	blobs      map[string]string // content by identity
	clock      time.Time
}

func newMemory() *memory {
	return &memory{
		trees:   map[string]map[string]string{},
		working: map[string]string{},
		blobs:   map[string]string{},
		clock:   time.Date(2021, 3, 1, 9, 0, 0, 0, time.UTC),
	}
}

// commit saves the files, over those of the first parent; "" takes a file away.
// The working files follow.
func (m *memory) commit(message string, parents []string, files map[string]string) string {
	tree := map[string]string{}
	if len(parents) > 0 {
		maps.Copy(tree, m.trees[parents[0]])
	}
	maps.Copy(tree, files)
	maps.DeleteFunc(tree, func(_, content string) bool { return content == "" })
	id := fmt.Sprintf("%04x", len(m.log.States)+0xa000)
	st := State{ID: id, Parents: parents, When: m.clock, Author: "Maker <maker@example.org>", Message: message}
	if len(parents) == 0 {
		st.Changes = changes(0, nil, tree)
	}
	for i, p := range parents {
		st.Changes = append(st.Changes, changes(i, m.trees[p], tree)...)
	}
	for _, content := range tree {
		m.blobs[blobOf(content)] = content
	}
	m.clock = m.clock.AddDate(0, 1, 0)
	m.trees[id] = tree
	m.log.States = append([]State{st}, m.log.States...)
	m.log.Head = id
	m.working = maps.Clone(tree)
	return id
}

// then saves on top of the last state.
func (m *memory) then(message string, files map[string]string) string {
	return m.commit(message, m.onto(), files)
}

func (m *memory) onto() []string {
	if m.log.Head == "" {
		return nil
	}
	return []string{m.log.Head}
}

// blobOf is the identity of a file's content.
func blobOf(content string) string {
	if content == "" {
		return ""
	}
	sum := sha256.Sum256([]byte(content))
	return hex.EncodeToString(sum[:])
}

// changes compares two trees.
func changes(parent int, old, now map[string]string) []Change {
	paths := slices.Sorted(maps.Keys(old))
	for p := range now {
		if _, ok := old[p]; !ok {
			paths = append(paths, p)
		}
	}
	slices.Sort(paths)
	var out []Change
	for _, p := range paths {
		if old[p] != now[p] {
			out = append(out, Change{Parent: parent, Path: p, Old: blobOf(old[p]), New: blobOf(now[p])})
		}
	}
	return out
}

// Log gives the tags the identities of what they say now.
func (m *memory) Log(context.Context) (*Log, error) {
	l := m.log
	l.Tags = slices.Clone(l.Tags)
	for i := range l.Tags {
		t := &l.Tags[i]
		t.ID = blobOf(fmt.Sprintln(t.State, t.Named, t.When.Unix(), t.Author, t.Message, m.signatures[t.Message]))
		if t.Message == "" {
			t.ID = t.State
		}
	}
	return &l, nil
}

func (m *memory) Blob(ctx context.Context, id string) ([]byte, error) {
	return []byte(m.blobs[id]), ctx.Err()
}

func (m *memory) Working(path string) ([]byte, error) {
	if content, ok := m.working[path]; ok {
		return []byte(content), nil
	}
	return nil, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
}

func (m *memory) WorkingFiles() ([]string, error) { return slices.Sorted(maps.Keys(m.working)), nil }

func (m *memory) Obstacles() ([]working.Obstacle, error) { return nil, nil }

func (m *memory) Ignored(path string) (bool, error) { return m.ignored[path], nil }

func (m *memory) Refused(path string) error { return m.refused[path] }

func (m *memory) Save(_ context.Context, s Save) (string, error) {
	if s.Parent != m.log.Head {
		return "", ErrMoved
	}
	files := map[string]string{}
	for p, content := range s.Files {
		files[p] = string(content)
	}
	return m.then(s.Message, files), nil
}

func (m *memory) Tag(_ context.Context, t Tag) error {
	if slices.ContainsFunc(m.log.Tags, func(o Tag) bool { return o.Name == t.Name }) {
		return ErrTagTaken
	}
	m.log.Tags = append(m.log.Tags, t)
	return nil
}

func (m *memory) Intact(_ context.Context, state string) error { return m.broken[state] }

func (m *memory) Signature(_ context.Context, t Tag) (Signature, error) {
	return m.signatures[t.Message], nil
}

func (m *memory) SignsTags() (bool, error) { return m.signsTags, nil }

func (m *memory) RemoteTags(context.Context, string) (string, map[string]string, error) {
	return "shelf", m.remote, nil
}

var _ Witness = (*memory)(nil)

// open reads the range kept in m.
func (m *memory) open(t *testing.T) *Range {
	t.Helper()
	r, err := Open(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

const testParts = `
rings:
  tip-5: {size: 5 mm, height: 5 mm, feet: 0, mass: 0.5 g, frame: steel}
  low-6: {size: 6 mm, height: 7 mm, feet: 1, foot: {length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}, frame: steel, mass: 0.32 g}
  low-12: {size: 12 mm, height: 12 mm, feet: 1, foot: {length: 11 mm, width: 2 mm, thickness: 0.4 mm}, frame: steel, mass: 0.9 g}
  high-16: {size: 16 mm, height: 22 mm, feet: 2, foot: {length: 11 mm, width: 2.6 mm, thickness: 0.5 mm, spread: 34 mm}, frame: steel, mass: 2.4 g}
seats:
  seat-16: {length: 95 mm, diameter: 22 mm, mass: 28 g}
caps:
  cap-24: {length: 18 mm, diameter: 24 mm, mass: 9 g}
threads:
  A: {thickness: 0.15 mm, density: 1150 kg/m3, modulus: 2 GPa}
varnishes:
  two coats: {thickness: 0.10 mm, density: 1150 kg/m3, modulus: 2.8 GPa}
`

const testMaterials = `
carbon: {modulus: 100 GPa, density: 1550 kg/m3, strain: {compression: 0.8 %, tension: 1.1 %}}
`

// testModel is a one-piece rod of 2 m with a ring of that part at that place.
func testModel(name string, rings ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, `name: %s
job: small streams
reel: fixed-spool
casts: 2 g to 8 g
length: 2 m
sections:
  - name: whole
    length: 2 m
    tube:
      - {at: 0 mm, outside: 1.8 mm, wall: 0.5 mm}
      - {at: 2000 mm, outside: 8.5 mm, wall: 0.9 mm}
    material: carbon
rings:
  - {at: 0 mm, part: tip-5}
`, name)
	for _, r := range rings {
		part, at, _ := strings.Cut(r, "@")
		fmt.Fprintf(&b, "  - {at: %s, part: %s}\n", at, part)
	}
	b.WriteString(`handle:
  seat: {at: 250 mm from butt, part: seat-16}
  grips:
    - {from: 0 mm, to: 320 mm, diameter: 24 mm, material: cork}
  butt cap: {part: cap-24}
finish: {thread: A, varnish: two coats}
`)
	return b.String()
}

// twoModels is a range of two models that share one ring of three.
func twoModels() *memory {
	m := newMemory()
	m.then("a range", map[string]string{
		rangeFile: "maker: Test Rods\n", partsFile: testParts, materialsFile: testMaterials,
		"models/brook.yaml": testModel("Brook", "low-6@300 mm", "low-12@900 mm"),
		"models/ditch.yaml": testModel("Ditch", "low-6@350 mm", "high-16@1000 mm"),
	})
	return m
}
