package gitstore

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue"
)

// save writes the files into the working tree, as a maker would, and saves them
// on top of the last state.
func (r *repo) save(s *Store, files map[string]string) (string, error) {
	r.t.Helper()
	return r.saveOn(s, r.head(), files)
}

// saveOn saves on top of the state that is given.
func (r *repo) saveOn(s *Store, parent string, files map[string]string) (string, error) {
	content := map[string][]byte{}
	for name, text := range files {
		r.write(name, text)
		content[name] = []byte(text)
	}
	return s.Save(context.Background(), catalogue.Save{
		Parent: parent, Files: content, Message: "change the rod", When: at(60),
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

func TestSaveOfAnExecutableFile(t *testing.T) {
	r := newRange(t)
	s := r.open()
	for _, mode := range []os.FileMode{0o755, 0o644} {
		for _, name := range []string{"models/skerry-10.yaml", "models/new.yaml"} {
			r.write(name, fmt.Sprintf("name: %s\n", mode))
			if err := os.Chmod(r.path(name), mode); err != nil {
				t.Fatal(err)
			}
		}
		mustSave(t)(r.save(s, map[string]string{
			"models/skerry-10.yaml": fmt.Sprintf("name: %s\n", mode), "models/new.yaml": fmt.Sprintf("name: %s\n", mode),
		}))
		r.clean()
		if got, want := r.git("ls-tree", "-r", "--format=%(objectmode)", "HEAD", "models"), fmt.Sprintf("100%o\n100%[1]o", mode); got != want {
			t.Errorf("modes %s, want %s", got, want)
		}
	}
}

// What was staged below a name cannot stand beside a file of that name.
func TestSaveInThePlaceOfAStagedFolder(t *testing.T) {
	r := newRange(t)
	r.write("bench/a.yaml/inner", "x")
	r.git("add", "bench")
	if err := os.RemoveAll(r.path("bench")); err != nil {
		t.Fatal(err)
	}
	mustSave(t)(r.save(r.open(), map[string]string{"bench/a.yaml": "measured: 1\n"}))
	r.clean()
	if got := r.git("ls-files", "bench"); got != "bench/a.yaml" {
		t.Errorf("staged: %s", got)
	}
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

func TestSaveWaitsForALockThatIsLetGo(t *testing.T) {
	r := newRange(t)
	r.write(".git/index.lock", "")
	time.AfterFunc(3*lockInterval, func() { _ = os.Remove(r.path(".git/index.lock")) })
	mustSave(t)(r.save(r.open(), map[string]string{"parts.yaml": "rings: [late]\n"}))
	r.clean()
}

// A sparse checkout leaves files out of the working tree, which stay saved.
func TestSaveInASparseCheckout(t *testing.T) {
	r := newRange(t)
	r.write("photos/a.jpg", "x")
	r.commit("a photo")
	r.git("sparse-checkout", "set", "--no-cone", "/*.yaml", "/models/")
	if exists(r.path("photos")) {
		t.Fatal("the photo is there")
	}
	quietLog(t, r.open())
	mustSave(t)(r.save(r.open(), map[string]string{"models/skerry-10.yaml": "name: Other\n"}))
	r.clean()
	if got := r.git("ls-files", "-t", "photos") + " " + r.git("ls-tree", "-r", "--name-only", "HEAD", "photos"); got != "S photos/a.jpg photos/a.jpg" {
		t.Errorf("the photo: %s", got)
	}
}

// The time is the one given, or git's environment's.
func TestTimeOfASave(t *testing.T) {
	for name, row := range map[string]struct {
		author, committer string // in the environment
		when              time.Time
		want              string
	}{
		"given":               {"1600000000 +0000", "1600000000 +0000", at(0), "1700000000 +0100 1700000000 +0100"},
		"git's own":           {"1600000000 +0230", "@1600000001 -0800", time.Time{}, "1600000000 +0230 1600000001 -0800"},
		"rfc 3339":            {"2025-03-31T09:00:00+01:00", "2025-03-31T09:00:00Z", time.Time{}, "1743408000 +0100 1743411600 +0000"},
		"a time that is none": {"yesterday", "1600000000 +0000", time.Time{}, ""},
		"before 1970":         {"-5 +0000", "1600000000 +0000", time.Time{}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("GIT_AUTHOR_DATE", row.author)
			t.Setenv("GIT_COMMITTER_DATE", row.committer)
			r := newRange(t)
			_, err := r.open().Save(context.Background(), catalogue.Save{
				Parent: r.head(), Message: "x", When: row.when, Files: map[string][]byte{"parts.yaml": []byte("x\n")},
			})
			if (err != nil) != (row.want == "") {
				t.Fatal(err)
			}
			if got := r.git("log", "-1", "--date=raw", "--format=%ad %cd"); err == nil && got != row.want {
				t.Errorf("%s, want %s", got, row.want)
			}
		})
	}
	t.Run("now", func(t *testing.T) {
		t.Setenv("GIT_AUTHOR_DATE", "")
		t.Setenv("GIT_COMMITTER_DATE", "")
		r := newRange(t)
		before := time.Now().Truncate(time.Second)
		mustSave(t)(r.open().Save(context.Background(), catalogue.Save{
			Parent: r.head(), Message: "x", Files: map[string][]byte{"parts.yaml": []byte("x\n")},
		}))
		if when := quietLog(t, r.open()).States[0].When; when.Before(before) || when.After(time.Now()) {
			t.Errorf("saved at %s", when)
		}
	})
}

// vanishing takes an object's folder away whenever it is made, as git gc does,
// for so many times.
type vanishing struct {
	osDisk
	times int
}

func (d *vanishing) mkdir(path string) error {
	if err := d.osDisk.mkdir(path); err != nil {
		return err
	}
	if filepath.Base(filepath.Dir(path)) == "objects" && d.times > 0 {
		d.times--
		return os.RemoveAll(path)
	}
	return nil
}

// TestSaveWhileObjectFoldersVanish holds that a save outlasts a git gc that takes
// the folders of its objects away, and gives up in the end.
func TestSaveWhileObjectFoldersVanish(t *testing.T) {
	for times, saved := range map[int]bool{3: true, 1000: false} {
		r := newRange(t)
		r.git("gc", "-q") // leaves no folder of loose objects
		s := r.open()
		s.disk = &vanishing{times: times}
		_, err := s.Save(context.Background(), catalogue.Save{
			Parent: r.head(), Files: map[string][]byte{"models/rill-7.yaml": []byte("name: Rill 7\n")}, Message: "x",
		})
		if saved != (err == nil) {
			t.Errorf("%d times: %v", times, err)
		}
		r.sound()
	}
}
