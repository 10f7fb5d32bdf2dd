package gitstore

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"rodlore/catalogue"
)

// A repository's own files name others in it. Where one names a file elsewhere,
// that file stays as it is, and so does one that would be its lock.
func TestNamesLeadOutOfNoRepository(t *testing.T) {
	rows := map[string]struct {
		content func(r *repo) string
		saves   bool
	}{
		".git/rodlore/pending":   {func(r *repo) string { return "../outside/f " + r.head() + " -\n" }, true},
		".git/HEAD":              {func(*repo) string { return "ref: ../outside/f\n" }, false},
		".git/refs/heads/main":   {func(*repo) string { return "ref: refs/../../outside/f\n" }, false},
		".git/refs/heads/linked": {func(*repo) string { return "ref: ../outside/f\n" }, true},
	}
	for file, row := range rows {
		t.Run(file, func(t *testing.T) {
			r := newRange(t)
			head := r.head()
			id := []byte(head + "\n")
			r.write(file, row.content(r))
			r.write("outside/f.lock", string(id)) // as a lock of ours has it
			outside := filepath.Join(r.dir, "outside")
			before, err := os.ReadDir(outside)
			if err != nil {
				t.Fatal(err)
			}
			if s, err := Open(r.dir); err == nil {
				_, err := s.Save(context.Background(), catalogue.Save{
					Parent: head, Files: map[string][]byte{"parts.yaml": []byte("rings: {}\n")}, Message: "change",
				})
				if row.saves != (err == nil) {
					t.Errorf("saved with %v", err)
				}
				if err := s.Close(); err != nil {
					t.Error(err)
				}
			}
			after, err := os.ReadDir(outside)
			if err != nil || len(after) != len(before) || after[0].Name() != "f.lock" {
				t.Errorf("from %v to %v, %v", before, after, err)
			}
		})
	}
}

// Links in the place of the store's own folder and lock are not followed.
func TestOwnFolderIsNoLink(t *testing.T) {
	for _, link := range []string{".git/rodlore", ".git/rodlore/saving"} {
		r := newRange(t)
		if err := os.RemoveAll(r.path(link)); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Dir(r.path(link)), 0o755); err != nil {
			t.Fatal(err)
		}
		outside := tempDir(t)
		if err := os.Symlink(filepath.Join(outside, "made"), r.path(link)); err != nil {
			t.Fatal(err)
		}
		if link == ".git/rodlore" {
			if err := os.Mkdir(filepath.Join(outside, "made"), 0o755); err != nil {
				t.Fatal(err)
			}
		}
		_, err := r.open().Save(context.Background(), catalogue.Save{
			Parent: r.head(), Files: map[string][]byte{"parts.yaml": []byte("rings: {}\n")}, Message: "change",
		})
		wantError(t, err, "is a symbolic link")
		if entries, err := os.ReadDir(outside); err != nil || link == ".git/rodlore/saving" && len(entries) > 0 {
			t.Errorf("outside has %v, %v", entries, err)
		}
	}
}
