package gitstore

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// save writes the files into the working tree, as a maker would, and saves them
// on top of the last state.
func (r *repo) save(s *Store, files map[string]string) (string, error) {
	r.t.Helper()
	content := map[string][]byte{}
	for name, text := range files {
		r.write(name, text)
		content[name] = []byte(text)
	}
	return s.Save(context.Background(), catalogue.Save{
		Parent: r.head(), Files: content, Message: "change the rod", When: at(60),
	})
}

// head is what native git calls HEAD, "" before the first commit.
func (r *repo) head() string {
	out, err := r.command("rev-parse", "--verify", "-q", "HEAD").Output()
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

func mustSave(t testing.TB) func(id string, err error) string {
	return func(id string, err error) string {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
}

func TestSaveLeavesGitClean(t *testing.T) {
	for name, prepare := range map[string]func(r *repo){
		"as it is":              func(*repo) {},
		"packed objects":        func(r *repo) { r.git("gc", "-q") },
		"packed refs":           func(r *repo) { r.git("pack-refs", "--all", "--prune") },
		"detached head":         func(r *repo) { r.git("checkout", "-q", "--detach") },
		"branch with a slash":   func(r *repo) { r.git("checkout", "-q", "-b", "try/longer-butt") },
		"packed branch, slash":  func(r *repo) { r.git("checkout", "-q", "-b", "try/x/y"); r.git("pack-refs", "--all", "--prune") },
		"index of version 3":    func(r *repo) { r.git("update-index", "--index-version", "3") },
		"index of version 4":    func(r *repo) { r.git("update-index", "--index-version", "4") },
		"many files, version 4": func(r *repo) { manyFiles(r); r.git("update-index", "--index-version", "4") },
		"untracked cache":       func(r *repo) { r.git("update-index", "--untracked-cache") },
		"no logs wanted":        func(r *repo) { r.git("config", "core.logAllRefUpdates", "false") },
		"modes do not count":    func(r *repo) { r.git("config", "core.fileMode", "false") },
		"core.autocrlf":         func(r *repo) { r.git("config", "core.autocrlf", "input") },
		"include in config": func(r *repo) {
			r.git("config", "include.path", "more")
			r.write(".git/more", "[core]\n\tbigFileThreshold = 1m\n")
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			prepare(r)
			before := r.head()
			id := mustSave(t)(r.save(r.open(), map[string]string{
				"models/skerry-10.yaml": "name: Skerry 10\nlength: 10 ft\n",
				"models/new.yaml":       "name: New\n",
				"builds/2025.yaml":      "rods: []\n",
			}))
			if head := r.head(); head != id {
				t.Errorf("git's HEAD is %s, the saved state %s", head, id)
			}
			if parent := r.git("rev-parse", "HEAD^"); parent != before {
				t.Errorf("parent %s, want %s", parent, before)
			}
			r.clean()
			r.sameAsNative(quietLog(t, r.open()), "")
		})
	}
}

func manyFiles(r *repo) {
	for i := range 300 {
		r.write("deep/folder/"+strings.Repeat("x", i%200)+string(rune('a'+i%26))+"/f", "x")
	}
	r.commit("many other files")
}

func TestFirstSaveOfAnEmptyRepository(t *testing.T) {
	r := newRepo(t)
	r.write("range.yaml", "maker: x\n")
	s := r.open()
	if log := quietLog(t, s); log.Head != "" || len(log.States) != 0 {
		t.Errorf("an empty repository has head %q and %d states", log.Head, len(log.States))
	}
	id := mustSave(t)(r.save(s, map[string]string{"range.yaml": "maker: x\n"}))
	r.clean()
	if log := quietLog(t, s); log.Head != id || len(log.States) != 1 {
		t.Errorf("head %s, %d states; want %s and one", log.Head, len(log.States), id)
	}
	if got := r.git("reflog", "--format=%H %gs"); got != id+" commit (initial): change the rod" {
		t.Errorf("reflog: %s", got)
	}
}

func TestSaveIsLoggedAsGitDoes(t *testing.T) {
	r := newRange(t)
	id := mustSave(t)(r.save(r.open(), map[string]string{"parts.yaml": "rings: [a]\n"}))
	for _, ref := range []string{"HEAD", "main"} {
		if got := r.git("reflog", "-1", "--format=%H %gs %gn", ref); got != id+" commit: change the rod Isla Reed" {
			t.Errorf("reflog of %s: %s", ref, got)
		}
	}
}

// The same save by native git gives the same identity.
func TestSaveHasGitsIdentity(t *testing.T) {
	r, n := newRange(t), newRange(t)
	id := mustSave(t)(r.save(r.open(), map[string]string{"models/a/b.yaml": "x\n", "models/a-b.yaml": "y\n", "models/a.yaml": "z\n"}))
	for name, content := range map[string]string{"models/a/b.yaml": "x\n", "models/a-b.yaml": "y\n", "models/a.yaml": "z\n"} {
		n.write(name, content)
	}
	n.git("add", "-A")
	cmd := n.command("commit", "-q", "-m", "change the rod")
	cmd.Env = append(os.Environ(), "GIT_AUTHOR_DATE=1700000060 +0100", "GIT_COMMITTER_DATE=1700000060 +0100")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if want := n.head(); id != want {
		t.Errorf("identity %s, native git gives %s", id, want)
	}
}

func TestSaveKeepsWhatElseIsStagedAndChanged(t *testing.T) {
	r := newRange(t)
	r.write("tools/run.sh", "#!/bin/sh\n")
	if err := os.Chmod(r.path("tools/run.sh"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("models", r.path("rods")); err != nil {
		t.Fatal(err)
	}
	r.commit("other files")
	r.write("notes.txt", "staged\n")
	r.write("parts.yaml", "rings: [staged]\n")
	r.git("add", "notes.txt", "parts.yaml")
	r.write("parts.yaml", "rings: [changed after]\n")
	r.write("untracked.txt", "x")
	r.git("add", "-N", "untracked.txt")
	r.git("rm", "-q", "--cached", "range.yaml")
	r.git("update-index", "--assume-unchanged", "tools/run.sh")
	status, flags := r.git("status", "--porcelain"), r.git("ls-files", "-v", "tools")
	staged := r.git("diff", "--cached")

	mustSave(t)(r.save(r.open(), map[string]string{"models/skerry-10.yaml": "name: Other\n"}))
	if got := r.git("status", "--porcelain"); got != status {
		t.Errorf("git status was\n%s\nand is\n%s", status, got)
	}
	if got := r.git("diff", "--cached"); got != staged {
		t.Errorf("staged was\n%s\nand is\n%s", staged, got)
	}
	if got := r.git("ls-files", "-v", "tools"); got != flags {
		t.Errorf("flags were %s and are %s", flags, got)
	}
	if got := r.git("show", "--format=", "--name-status", "HEAD"); got != "M\tmodels/skerry-10.yaml" {
		t.Errorf("the saved state changes\n%s", got)
	}
	r.sound()
}

func TestSaveOfARemovedFile(t *testing.T) {
	r := newRange(t)
	if err := os.RemoveAll(r.path("models")); err != nil {
		t.Fatal(err)
	}
	mustSave(t)(r.open().Save(context.Background(), catalogue.Save{
		Parent: r.head(), Files: map[string][]byte{"models/skerry-10.yaml": nil}, Message: "no longer made",
	}))
	r.clean()
	if got := r.git("ls-tree", "-r", "--name-only", "HEAD"); got != "parts.yaml\nrange.yaml" {
		t.Errorf("left: %s", got)
	}
}

func TestSaveOfWhatIsNotOnDisk(t *testing.T) {
	r := newRange(t)
	r.write("parts.yaml", "rings: [draft]\n")
	mustSave(t)(r.open().Save(context.Background(), catalogue.Save{
		Parent: r.head(), Message: "another content than on disk",
		Files: map[string][]byte{"parts.yaml": []byte("rings: [saved]\n"), "models/b.yaml": []byte("name: B\n")},
	}))
	if got := r.git("status", "--porcelain"); got != " D models/b.yaml\n M parts.yaml" {
		t.Errorf("git status:\n%s", got)
	}
	if got := r.read("parts.yaml"); got != "rings: [draft]\n" {
		t.Errorf("the working file was altered: %s", got)
	}
}

func TestSaveInASubFolder(t *testing.T) {
	r := newRepo(t)
	r.write("README", "a workshop\n")
	r.write("rods/sea/range.yaml", "maker: x\n")
	r.write("rods/sea/models/a.yaml", "name: A\n")
	r.commit("begin")
	s := openStore(t, r.path("rods/sea/models"))
	if s.Root() != r.path("rods/sea") {
		t.Errorf("root %s", s.Root())
	}
	r.write("rods/sea/models/a.yaml", "name: B\n")
	mustSave(t)(s.Save(context.Background(), catalogue.Save{
		Parent: r.head(), Files: map[string][]byte{"models/a.yaml": []byte("name: B\n")}, Message: "rename",
	}))
	r.clean()
	r.sameAsNative(quietLog(t, s), "rods/sea/")
}

func TestSaveInALinkedWorkingTree(t *testing.T) {
	r := newRange(t)
	linked := &repo{t, filepath.Join(t.TempDir(), "linked")}
	r.git("worktree", "add", "-q", "-b", "trial", linked.dir)
	s := linked.open()
	id := mustSave(t)(linked.save(s, map[string]string{"parts.yaml": "rings: [trial]\n"}))
	linked.clean()
	r.clean()
	if got := r.git("rev-parse", "trial"); got != id {
		t.Errorf("the branch is at %s, want %s", got, id)
	}
	if log := quietLog(t, r.open()); len(log.States) != 2 || log.Head == id {
		t.Errorf("the main working tree sees %d states and the head %s", len(log.States), log.Head)
	}
}

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
		"a link in the file's place":  {prepare: func(r *repo) { relink(r, "parts.yaml", "range.yaml") }, says: "no ordinary file"},
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

func TestSaveWaitsForALockThatIsLetGo(t *testing.T) {
	r := newRange(t)
	r.write(".git/index.lock", "")
	time.AfterFunc(3*lockInterval, func() { _ = os.Remove(r.path(".git/index.lock")) })
	mustSave(t)(r.save(r.open(), map[string]string{"parts.yaml": "rings: [late]\n"}))
	r.clean()
}

// Many save at once, each on what it has seen: every save that succeeds is in
// the history, every other one is told.
func TestSavingAtOnceLosesNothing(t *testing.T) {
	r := newRange(t)
	const savers, each = 6, 5
	saved := make(chan string, savers*each)
	var group sync.WaitGroup
	for n := range savers {
		s := r.open()
		group.Go(func() {
			for done := 0; done < each; {
				log, err := s.Log(context.Background())
				if err != nil {
					t.Error(err)
					return
				}
				name := "models/m" + string(rune('a'+n)) + string(rune('0'+done)) + ".yaml"
				id, err := s.Save(context.Background(), catalogue.Save{
					Parent: log.Head, Files: map[string][]byte{name: []byte("name: x\n")}, Message: name,
				})
				switch {
				case err == nil:
					saved <- id
					done++
				case !errors.Is(err, catalogue.ErrMoved):
					t.Error(err)
					return
				}
			}
		})
	}
	group.Wait()
	close(saved)
	log := quietLog(t, r.open())
	if len(log.States) != savers*each+1 {
		t.Errorf("%d states, want %d", len(log.States), savers*each+1)
	}
	known := map[string]bool{}
	for _, s := range log.States {
		known[s.ID] = true
		if len(s.Parents) > 1 {
			t.Errorf("state %s has %d parents", s.ID, len(s.Parents))
		}
	}
	for id := range saved {
		if !known[id] {
			t.Errorf("the saved state %s is lost", id)
		}
	}
	r.git("checkout", "-q", "--", ".")
	r.clean()
}
