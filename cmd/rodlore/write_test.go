package main

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWriteWhole(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "spec.yaml"), filepath.Join(dir, "link.yaml")
	if err := os.WriteFile(file, []byte("old"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Fatal(err)
	}
	if err := writeWhole(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(file); err != nil || string(got) != "new" {
		t.Errorf("it holds %q, %v", got, err)
	}
	if info, err := os.Lstat(file); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("its mode went to %v, %v", info.Mode(), err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link to it is none any more: %v, %v", info.Mode(), err)
	}
	// A folder in the file's place cannot be written to; nothing lies about.
	if err := writeWhole(dir, []byte("new")); err == nil {
		t.Error("a folder was replaced")
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 2 {
		t.Errorf("%d entries lie there, want 2: %v, %v", len(entries), entries, err)
	}
}
