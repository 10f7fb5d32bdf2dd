package gitstore

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

func TestSaveRefuses(t *testing.T) {
	good := map[string][]byte{"parts.yaml": []byte("rings: [x]\n")}
	for name, row := range map[string]struct {
		prepare func(r *repo)
		alter   func(save *catalogue.Save)
		says    string
		is      error
	}{
		"another head":                {alter: func(s *catalogue.Save) { s.Parent = strings.Repeat("1", 40) }, is: catalogue.ErrMoved},
		"a head where there was none": {alter: func(s *catalogue.Save) { s.Parent = "" }, is: catalogue.ErrMoved},
		"nothing changed":             {alter: func(s *catalogue.Save) { s.Files = map[string][]byte{"parts.yaml": []byte("rings: []\n")} }, says: "nothing to save"},
		"no files":                    {alter: func(s *catalogue.Save) { s.Files = nil }, says: "nothing to save"},
		"no message":                  {alter: func(s *catalogue.Save) { s.Message = " \n" }, says: "without a message"},
		"zero byte":                   {alter: func(s *catalogue.Save) { s.Message = "a\x00b" }, says: "zero byte"},
		"odd author":                  {alter: func(s *catalogue.Save) { s.Author = "Isla" }, says: "Name <address>"},
		"author with a line end":      {alter: func(s *catalogue.Save) { s.Author = "Isla\nx <a@b>" }, says: "Name <address>"},
		"before 1970":                 {alter: func(s *catalogue.Save) { s.When = time.Unix(-1, 0) }, says: "1970"},
		"path upwards":                {alter: func(s *catalogue.Save) { s.Files = map[string][]byte{"../x": {}} }, says: "no path of a file"},
		"absolute path":               {alter: func(s *catalogue.Save) { s.Files = map[string][]byte{"/etc/x": {}} }, says: "no path of a file"},
		"git's own folder":            {alter: func(s *catalogue.Save) { s.Files = map[string][]byte{".GIT/config": {}} }, says: "git's own folder"},
		"a merge":                     {prepare: func(r *repo) { r.write(".git/MERGE_HEAD", r.head()) }, says: "middle of a merge"},
		"a rebase":                    {prepare: func(r *repo) { r.write(".git/rebase-merge/head-name", "x") }, says: "middle of a rebase"},
		"a cherry-pick":               {prepare: func(r *repo) { r.write(".git/CHERRY_PICK_HEAD", r.head()) }, says: "cherry-pick"},
		"index locked":                {prepare: func(r *repo) { r.write(".git/index.lock", "") }, says: "index.lock"},
		"branch locked":               {prepare: func(r *repo) { r.write(".git/refs/heads/main.lock", "") }, says: "main.lock"},
		"damaged index":               {prepare: func(r *repo) { r.write(".git/index", "DIRC\x00\x00\x00\x02 and then rubbish enough for a sum") }, says: "damaged"},
		"split index":                 {prepare: func(r *repo) { r.git("update-index", "--split-index") }, says: "--no-split-index"},
		"a link in the file's place":  {prepare: func(r *repo) { relink(r, "parts.yaml", "range.yaml") }, says: "is a symbolic link"},
		"a file in the folder's place": {
			prepare: func(r *repo) { r.write("bench", "x"); r.commit("a file"); _ = os.Remove(r.path("bench")) },
			alter:   func(s *catalogue.Save) { s.Files = map[string][]byte{"bench/a.yaml": []byte("x")} }, says: "no folder",
		},
		"a folder in the file's place": {
			prepare: func(r *repo) {
				r.write("builds/x.yaml/y", "x")
				r.commit("a folder")
				_ = os.RemoveAll(r.path("builds"))
			},
			alter: func(s *catalogue.Save) { s.Files = map[string][]byte{"builds/x.yaml": []byte("x")} }, says: "no file in the last saved state",
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			if row.prepare != nil {
				row.prepare(r)
			}
			s := r.open()
			s.patience = lockInterval
			save := catalogue.Save{Parent: r.head(), Files: good, Message: "change"}
			if row.alter != nil {
				row.alter(&save)
			}
			before := r.snapshot()
			_, err := s.Save(context.Background(), save)
			wantError(t, err, row.says)
			if row.is != nil && !errors.Is(err, row.is) {
				t.Errorf("error %v is no %v", err, row.is)
			}
			if diff := cmp.Diff(before, r.snapshot()); diff != "" {
				t.Errorf("the repository was altered (-before +after):\n%s", diff)
			}
		})
	}
}

func relink(r *repo, name, target string) {
	if err := os.Remove(r.path(name)); err != nil {
		r.t.Fatal(err)
	}
	if err := os.Symlink(target, r.path(name)); err != nil {
		r.t.Fatal(err)
	}
}

// snapshot is the content of all files of the repository by path, but for
// objects, to which nothing points unless one of these does.
func (r *repo) snapshot() map[string]string {
	r.t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(r.dir, func(path string, entry os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(r.dir, path)
		if err != nil {
			return err
		}
		if strings.HasPrefix(rel, ".git/objects/") || strings.HasPrefix(rel, ".git/rodlore/"+mutexFile) || entry.IsDir() {
			return nil
		}
		if entry.Type()&os.ModeSymlink != 0 {
			files[rel], err = os.Readlink(path)
			return err
		}
		raw, err := os.ReadFile(path)
		files[rel] = string(raw)
		return err
	})
	if err != nil {
		r.t.Fatal(err)
	}
	return files
}

// What a sparse checkout leaves out is not taken for removed.
func TestSaveRefusesToRemoveWhatIsLeftOut(t *testing.T) {
	r := newRange(t)
	r.git("status") // git leaves alone what it does not know to be unchanged
	r.git("sparse-checkout", "set", "--no-cone", "/*.yaml")
	s := r.open()
	files, err := s.WorkingFiles()
	if diff := cmp.Diff([]string{"parts.yaml", "range.yaml"}, files); diff != "" || err != nil {
		t.Fatalf("error %v, files %s", err, diff)
	}
	hasNote(t, readLog(t, s), "a sparse checkout leaves out models/skerry-10.yaml: run `git sparse-checkout disable`")
	_, err = s.Save(context.Background(), catalogue.Save{
		Parent: r.head(), Message: "x", Files: map[string][]byte{"models/skerry-10.yaml": nil},
	})
	wantError(t, err, "left out by a sparse checkout", "git sparse-checkout disable")
	r.clean()
}

func TestSaveRefusesASparseIndex(t *testing.T) {
	r := newRange(t)
	r.write("photos/a.jpg", "x")
	r.commit("a photo")
	r.git("sparse-checkout", "set", "--cone", "--sparse-index", "models")
	s := r.open()
	_, err := r.save(s, map[string]string{"models/skerry-10.yaml": "name: Other\n"})
	wantError(t, err, "git sparse-checkout reapply --no-sparse-index")
	r.git("sparse-checkout", "reapply", "--no-sparse-index")
	mustSave(t)(r.save(s, map[string]string{"models/skerry-10.yaml": "name: Other\n"}))
	r.clean()
}
