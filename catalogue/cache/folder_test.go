package cache_test

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue/cache"
)

// open gives a folder with the secret of the tests.
func open(dir, scope string) *cache.Folder {
	return cache.Open(dir, []byte("a secret of the tests"), scope)
}

// read gives the records of a name as texts.
func read(f *cache.Folder, name string) []string {
	var list []string
	for _, r := range f.Read(name) {
		list = append(list, string(r))
	}
	return list
}

func want(t *testing.T, f *cache.Folder, name string, records ...string) {
	t.Helper()
	if diff := cmp.Diff(records, read(f, name)); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

func TestAddAndReplace(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "not", "there yet")
	f := open(dir, "one")
	f.Add("a", []byte("1"))
	f.Add("a", []byte("2"))
	f.Add("../b", []byte("3"))
	want(t, open(dir, "one"), "a", "1", "2")
	want(t, open(dir, "one"), "../b", "3")
	f.Replace("a", []byte("4"))
	want(t, f, "a", "4")
	want(t, f, "c")
	var none *cache.Folder
	none.Add("a", []byte("1"))
	want(t, none, "a")
}

// TestAnotherScope holds that a record of another scope counts for nothing.
func TestAnotherScope(t *testing.T) {
	dir := t.TempDir()
	open(dir, "one").Add("a", []byte("1"))
	other := open(dir, "other")
	want(t, other, "a")
	other.Add("a", []byte("2"))
	other.Add("a", []byte("3"))
	want(t, open(dir, "other"), "a", "2", "3")
	want(t, open(dir, "one"), "a", "1")
}

// TestForged holds that nothing is believed that was not written with the user's
// key, nor for another name.
func TestForged(t *testing.T) {
	ours, theirs := t.TempDir(), t.TempDir()
	open(ours, "one").Add("a", []byte("right"))
	cache.Open(theirs, []byte("a guess"), "one").Add("a", []byte("wrong"))
	open(ours, "one").Add("b", []byte("of b"))
	a, b := theOther(t, ours, "a"), theOther(t, ours, "b")
	put(t, a, contentOf(t, theOther(t, theirs, "a")))
	want(t, open(ours, "one"), "a")
	put(t, a, contentOf(t, b))
	want(t, open(ours, "one"), "a")
}

// theOther is the file of a name: the one that holds records of it.
func theOther(t *testing.T, dir, name string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.kept"))
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		raw := contentOf(t, file)
		put(t, file, nil)
		gone := len(read(open(dir, "one"), name)) == 0
		put(t, file, raw)
		if gone {
			return file
		}
	}
	t.Fatalf("no file of %s", name)
	return ""
}

func contentOf(t *testing.T, file string) []byte {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func put(t *testing.T, file string, content []byte) {
	t.Helper()
	if err := os.WriteFile(file, content, 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestEveryBit holds that whatever bit is turned over, one record is lost and
// none is another.
func TestEveryBit(t *testing.T) {
	dir := t.TempDir()
	for _, r := range []string{"first", "second", "third"} {
		open(dir, "one").Add("a", []byte(r))
	}
	file := theOther(t, dir, "a")
	good := contentOf(t, file)
	for i := range len(good) * 8 {
		bad := bytes.Clone(good)
		bad[i/8] ^= 1 << (i % 8)
		put(t, file, bad)
		if got := read(open(dir, "one"), "a"); len(got) != 2 {
			t.Fatalf("bit %d: %q", i, got)
		}
	}
}
