package seen

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func open(t *testing.T, path string) *Book {
	t.Helper()
	b, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func release(place, root, tag, id string) Release {
	return Release{Place: place, Root: root, Tag: tag, ID: id, State: "s", Day: "2026-11-25"}
}

// TestFirstSightStays holds that a release is remembered as it was seen first, by
// place and, elsewhere, by history.
func TestFirstSightStays(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own", "releases")
	first := []Release{release("/a", "r", "x/1", "1"), release("/b", "r", "x/2", "2"), release("/c", "other", "x/3", "3")}
	if err := open(t, path).Add(first); err != nil {
		t.Fatal(err)
	}
	b := open(t, path)
	if err := b.Add([]Release{release("/a", "r", "x/1", "altered"), release("/a", "r2", "x/4", "4")}); err != nil {
		t.Fatal(err)
	}
	for _, b := range []*Book{b, open(t, path)} {
		here, elsewhere := b.Here("/a", "r")
		if diff := cmp.Diff([]Release{release("/a", "r", "x/1", "1"), release("/a", "r2", "x/4", "4")}, here); diff != "" {
			t.Errorf("here (-want +got):\n%s", diff)
		}
		if diff := cmp.Diff(first[1:2], elsewhere); diff != "" {
			t.Errorf("elsewhere (-want +got):\n%s", diff)
		}
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file is %v, %v", info.Mode(), err)
	}
}

func TestForget(t *testing.T) {
	path := filepath.Join(t.TempDir(), "releases")
	b := open(t, path)
	if n, err := b.Forget("/a", ""); n != 0 || err != nil {
		t.Errorf("forgot %d, %v of nothing", n, err)
	}
	if err := b.Add([]Release{release("/a", "r", "x/1", "1"), release("/a", "r", "x/2", "2"), release("/b", "r", "x/1", "1")}); err != nil {
		t.Fatal(err)
	}
	if n, err := b.Forget("/a", "x/1"); n != 1 || err != nil {
		t.Errorf("forgot %d, %v", n, err)
	}
	if n, err := open(t, path).Forget("/a", ""); n != 1 || err != nil {
		t.Errorf("forgot %d, %v", n, err)
	}
	if err := b.Add([]Release{release("/a", "r", "x/1", "2"), release("/c", "r", "x/1", "3")}); err != nil {
		t.Fatal(err)
	}
	here, elsewhere := open(t, path).Here("/a", "r")
	if len(here) != 1 || len(elsewhere) != 1 || elsewhere[0].Place != "/b" { // not what was seen at /c later

		t.Errorf("left are %v, %v", here, elsewhere)
	}
}

// TestDamagedBook holds that lines of no sense cost nothing but themselves.
func TestDamagedBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "releases")
	if err := open(t, path).Add([]Release{release("/a", "r", "x/1", "1")}); err != nil {
		t.Fatal(err)
	}
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	damaged := append([]byte("{\"place\":\n\n\x00\xff\n"), whole...)
	if err := os.WriteFile(path, append(damaged, whole[:20]...), 0o600); err != nil {
		t.Fatal(err)
	}
	if here, _ := open(t, path).Here("/a", ""); len(here) != 1 {
		t.Errorf("there is %v", here)
	}
	if _, err := Open(t.TempDir()); err == nil {
		t.Error("a folder is taken for a book")
	}
}

// TestAtOnce holds that programs that remember at the same time lose nothing.
func TestAtOnce(t *testing.T) {
	path := filepath.Join(t.TempDir(), "releases")
	var group sync.WaitGroup
	for n := range 8 {
		group.Go(func() {
			b, err := Open(path)
			if err == nil {
				err = b.Add([]Release{release(string(rune('a'+n)), "r", "x/1", "1")})
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	if _, elsewhere := open(t, path).Here("", "r"); len(elsewhere) != 8 {
		t.Errorf("%d are remembered, want 8", len(elsewhere))
	}
}

// TestFullBook holds that a book is not made too large to be read, as a repository of
// very many releases would, and that nothing in it is lost by that.
func TestFullBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "releases")
	if err := open(t, path).Add([]Release{release("/a", "r", "x/1", "1")}); err != nil {
		t.Fatal(err)
	}
	b := open(t, path)
	if err := os.Truncate(path, mostBytes-10); err != nil { // filled by others meanwhile
		t.Fatal(err)
	}
	if err := b.Add([]Release{release("/b", "r", "x/1", "1")}); err == nil {
		t.Error("one more is remembered")
	}
	if info, err := os.Stat(path); err != nil || info.Size() != mostBytes-10 {
		t.Errorf("the book is %v, %v", info, err)
	}
}
