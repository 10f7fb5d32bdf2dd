package working

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// filled fills a folder with two files.
func filled(dir string) error {
	return errors.Join(
		os.WriteFile(filepath.Join(dir, "a"), []byte("new"), 0o644),
		os.WriteFile(filepath.Join(dir, "b"), []byte("new"), 0o644))
}

func TestFillFolder(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "new")
	if err := FillFolder(dir, func(dir string) error { return errors.Join(filled(dir), errors.New("no")) }); err == nil {
		t.Error("an error was lost")
	}
	if got := names(t, top); len(got) > 0 {
		t.Errorf("a failure left %v", got)
	}
	for range 2 { // new, and then one that is there and empty
		if err := FillFolder(dir, filled); err != nil {
			t.Fatal(err)
		}
		if got := names(t, dir); !slices.Equal(got, []string{"a", "b"}) {
			t.Errorf("it holds %v", got)
		}
		if err := FillFolder(dir, filled); !errors.Is(err, fs.ErrExist) {
			t.Errorf("filled again: %v", err)
		}
		for _, name := range names(t, dir) {
			if err := os.Remove(filepath.Join(dir, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := FillFolder(dir, func(dir string) error { return errors.Join(filled(dir), errors.New("no")) }); err == nil {
		t.Error("an error was lost")
	}
	if got := names(t, dir); len(got) > 0 {
		t.Errorf("a failure left %v", got)
	}
}

// A run that was killed while its files moved into a folder that was there keeps
// the next one from nothing, and what somebody put there since is kept.
func TestFillFolderAfterKill(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, leftName(t, filepath.Base(dir)))
	put(t, filepath.Join(left, "b"), "killed")
	put(t, filepath.Join(left, movingFile), "a\nb\n../c")
	put(t, filepath.Join(dir, "a"), "killed")
	if err := FillFolder(dir, filled); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"a", "b"}) {
		t.Errorf("it holds %v", got)
	}

	dir = t.TempDir()
	left = filepath.Join(dir, leftName(t, filepath.Base(dir)))
	put(t, filepath.Join(left, movingFile), "a")
	put(t, filepath.Join(dir, "own"), "kept")
	if err := FillFolder(dir, filled); !errors.Is(err, fs.ErrExist) {
		t.Errorf("filled: %v", err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"own"}) {
		t.Errorf("it holds %v", got)
	}
}

// The folder is there at any moment, the old one or the new, and as open to
// others as it was.
func TestPutFolder(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "pages")
	if err := PutFolder(dir, filled); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := PutFolder(dir, func(dir string) error { return os.WriteFile(filepath.Join(dir, "c"), nil, 0o644) }); err != nil {
		t.Fatal(err)
	}
	if got := names(t, dir); !slices.Equal(got, []string{"c"}) {
		t.Errorf("it holds %v", got)
	}
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o700 {
		t.Errorf("%v, %v", info.Mode(), err)
	}
	if got := names(t, top); !slices.Equal(got, []string{"pages"}) {
		t.Errorf("left behind: %v", got)
	}
}

// Where the two cannot change places in one step and the program is killed in
// between, the old folder comes back, and goes for good once a new one is there.
func TestPutAsideComesBack(t *testing.T) {
	d, _ := folder(t)
	put(t, d.Within(leftName(t, "pages"+beforeSuffix)+"/a"), "old")
	put(t, d.Within(leftName(t, "pages")+"/a"), "new")
	if err := d.sweep("."); err != nil {
		t.Fatal(err)
	}
	if got, err := d.Read("pages/a"); err != nil || string(got) != "old" {
		t.Errorf("%q, %v", got, err)
	}
	put(t, d.Within(leftName(t, "pages"+beforeSuffix)+"/a"), "older")
	if err := d.sweep("."); err != nil {
		t.Fatal(err)
	}
	if got := names(t, d.path); !slices.Equal(got, []string{"pages", "range.yaml"}) {
		t.Errorf("left are %v", got)
	}
}
