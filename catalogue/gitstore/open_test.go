package gitstore

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// Kinds of repository that native git makes and that are read in full.
func TestOpenReads(t *testing.T) {
	for name, prepare := range map[string]func(r *repo) (dir string){
		"loose objects":  func(r *repo) string { return r.dir },
		"a sub-folder":   func(r *repo) string { return r.path("models") },
		"packed objects": func(r *repo) string { r.git("gc", "-q"); return r.dir },
		"several packs": func(r *repo) string {
			r.git("repack", "-q")
			r.write("parts.yaml", "a")
			r.commit("b")
			r.git("repack", "-q")
			return r.dir
		},
		"a pack half made": func(r *repo) string {
			r.git("gc", "-q")
			r.write(".git/objects/pack/pack-"+strings.Repeat("1", 40)+".pack", "x")
			return r.dir
		},
		"packed refs":     func(r *repo) string { r.git("pack-refs", "--all", "--prune"); return r.dir },
		"a detached head": func(r *repo) string { r.git("checkout", "-q", "--detach"); r.commit("trial"); return r.dir },
		"a linked working tree": func(r *repo) string {
			r.git("worktree", "add", "-q", "-b", "trial", "../linked")
			return filepath.Join(filepath.Dir(r.dir), "linked", "models")
		},
		"a symbolic link to the range": func(r *repo) string {
			link := filepath.Join(r.t.TempDir(), "link")
			if err := os.Symlink(r.dir, link); err != nil {
				r.t.Fatal(err)
			}
			return link
		},
		"a clone":              func(r *repo) string { return r.clone("clone") },
		"a clone that borrows": func(r *repo) string { return r.clone("clone", "-s") },
		"a clone of that":      func(r *repo) string { return (&repo{r.t, r.clone("clone", "-s")}).clone("second", "-s") },
		"relative borrowing": func(r *repo) string {
			dir := r.clone("clone", "-s")
			r.write("../clone/.git/objects/info/alternates", "# where it comes from\n../../../"+filepath.Base(r.dir)+"/.git/objects\n")
			return dir
		},
		"a submodule": func(r *repo) string {
			outer := newRepo(r.t)
			outer.git("-c", "protocol.file.allow=always", "submodule", "--quiet", "add", r.dir, "rods")
			return outer.path("rods")
		},
		"settings of one working tree": func(r *repo) string {
			r.git("config", "extensions.worktreeConfig", "true")
			r.git("config", "--worktree", "core.bare", "false")
			return r.dir
		},
		"a sparse checkout":          func(r *repo) string { r.git("sparse-checkout", "set", "--cone", "models"); return r.dir },
		"a symbolic link for a head": func(r *repo) string { relink(r, ".git/HEAD", "refs/heads/main"); return r.dir },
		"format 1":                   func(r *repo) string { r.git("config", "core.repositoryFormatVersion", "1"); return r.dir },
		"precious objects": func(r *repo) string {
			r.git("config", "core.repositoryFormatVersion", "1")
			r.git("config", "extensions.preciousObjects", "true")
			return r.dir
		},
		"a commit graph":         func(r *repo) string { r.git("commit-graph", "write", "--reachable"); return r.dir },
		"an index of many packs": func(r *repo) string { r.git("repack", "-q"); r.git("multi-pack-index", "write"); return r.dir },
		"a split index":          func(r *repo) string { r.git("update-index", "--split-index"); return r.dir },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			r.write("models/b.yaml", "name: B\n")
			r.commit("another")
			s := openStore(t, prepare(r))
			inside := &repo{t, s.top}
			inside.sameAsNative(quietLog(t, s), s.prefix)
		})
	}
}

// clone clones the repository beside it.
func (r *repo) clone(name string, args ...string) string {
	r.t.Helper()
	dir := filepath.Join(filepath.Dir(r.dir), name)
	r.git(append(append([]string{"clone", "-q"}, args...), "file://"+r.dir, dir)...)
	return dir
}

// Kinds of folder that cannot be opened: the error says what it is and what to
// do about it.
func TestOpenRefuses(t *testing.T) {
	for name, row := range map[string]struct {
		prepare func(r *repo) (dir string)
		is      error
		says    []string
	}{
		"a folder without a range": {
			func(r *repo) string { r.git("rm", "-q", "-r", "."); return r.dir },
			errNoRange, []string{"no range.yaml in"},
		},
		"a range left out by a sparse checkout": {
			func(r *repo) string {
				r.git("status") // git leaves alone what it does not know to be unchanged
				r.git("sparse-checkout", "set", "--no-cone", "/models/")
				return r.path("models")
			},
			errNoRange, []string{"git sparse-checkout disable"},
		},
		"a range in no repository": {
			func(r *repo) string { _ = os.RemoveAll(r.path(".git")); return r.dir },
			ErrNoRepository, []string{"git init -b main"},
		},
		"an empty .git": {
			func(r *repo) string {
				_ = os.RemoveAll(r.path(".git"))
				_ = os.Mkdir(r.path(".git"), 0o777)
				return r.dir
			},
			ErrNoRepository, []string{"git init -b main"},
		},
		"a bare repository": {
			func(r *repo) string {
				r.git("clone", "-q", "--bare", ".", "../bare")
				return filepath.Join(filepath.Dir(r.dir), "bare")
			},
			errUnsupported, []string{"bare", "clone it"},
		},
		"marked as bare": {
			func(r *repo) string { r.git("config", "core.bare", "true"); return r.dir },
			errUnsupported, []string{"git config core.bare false"},
		},
		"sha256": {
			func(r *repo) string { return sha256Range(r) },
			errUnsupported, []string{"sha256", "git init --object-format=sha1"},
		},
		"reftable": {
			func(r *repo) string {
				r.git("config", "core.repositoryFormatVersion", "1")
				r.git("config", "extensions.refStorage", "reftable")
				return r.dir
			},
			errUnsupported, []string{"reftable", "git refs migrate"},
		},
		"an extension of the future": {
			func(r *repo) string { r.git("config", "extensions.timeTravel", "true"); return r.dir },
			errUnsupported, []string{"timetravel"},
		},
		"a format of the future": {
			func(r *repo) string { r.git("config", "core.repositoryFormatVersion", "7"); return r.dir },
			errUnsupported, []string{"format 7"},
		},
		"a moved working tree": {
			func(r *repo) string { return movedRange(r) },
			ErrNoRepository, []string{"git worktree repair"},
		},
		"damaged settings": {
			func(r *repo) string { r.write(".git/config", "[core\n"); return r.dir },
			nil, []string{"git's settings", ".git/config"},
		},
		"no folder": {
			func(r *repo) string { return r.path("nowhere") },
			os.ErrNotExist, []string{"nowhere"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := Open(row.prepare(newRange(t)))
			wantError(t, err, row.says...)
			if row.is != nil && !errors.Is(err, row.is) {
				t.Errorf("error %v is no %v", err, row.is)
			}
		})
	}
}

func sha256Range(r *repo) string {
	dir := filepath.Join(r.t.TempDir(), "wide")
	r.git("init", "-q", "--object-format=sha256", dir)
	(&repo{r.t, dir}).write("range.yaml", "maker: x\n")
	return dir
}

func movedRange(r *repo) string {
	dir := filepath.Join(filepath.Dir(r.dir), "linked")
	r.git("worktree", "add", "-q", "-b", "trial", dir)
	if err := os.RemoveAll(r.path(".git/worktrees")); err != nil {
		r.t.Fatal(err)
	}
	return dir
}

func TestInit(t *testing.T) {
	t.Run("a new repository", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "a", "range")
		s, err := Init(dir)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		r := &repo{t, s.Root()}
		mustSave(t)(r.save(s, map[string]string{"range.yaml": "maker: x\n", "models/a.yaml": "name: A\n"}))
		r.clean()
		if got := r.git("ls-files"); got != ".gitattributes\nmodels/a.yaml\nrange.yaml" {
			t.Errorf("saved files:\n%s", got)
		}
		if got := r.git("symbolic-ref", "HEAD"); got != "refs/heads/main" {
			t.Errorf("branch %s", got)
		}
		if diff := cmp.Diff(nativeLayout(t), layout(t, r.path(".git"))); diff != "" {
			t.Errorf("config (-native +here):\n%s", diff)
		}
	})
	t.Run("inside a repository", func(t *testing.T) {
		r := newRepo(t)
		r.write("README", "workshop")
		r.commit("begin")
		s, err := Init(r.path("rods"))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		if exists(r.path("rods/.git")) {
			t.Error("a repository was made inside the repository")
		}
		r.write("rods/range.yaml", "maker: x\n")
		mustSave(t)(s.Save(t.Context(), catalogue.Save{
			Parent: r.head(), Files: map[string][]byte{"range.yaml": []byte("maker: x\n")}, Message: "a range",
		}))
		r.clean()
	})
	t.Run("attributes of the user stay", func(t *testing.T) {
		r := newRepo(t)
		r.write(".gitattributes", "*.yaml -text\n")
		s, err := Init(r.dir)
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		mustSave(t)(r.save(s, map[string]string{"range.yaml": "maker: x\r\n"}))
		if got := r.read(".gitattributes"); got != "*.yaml -text\n" {
			t.Errorf(".gitattributes: %q", got)
		}
		if got := r.git("status", "--porcelain"); got != "?? .gitattributes" {
			t.Errorf("git status: %s", got)
		}
	})
	t.Run("a repository of its own inside another", func(t *testing.T) {
		outer := newRepo(t)
		s, err := Create(outer.path("rods"))
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		r := &repo{t, outer.path("rods")}
		mustSave(t)(r.save(s, map[string]string{"range.yaml": "maker: x\n"}))
		r.clean()
		if outer.head() != "" {
			t.Error("it was saved in the outer repository")
		}
	})
	t.Run("in git's own folder", func(t *testing.T) {
		r := newRange(t)
		_, err := Init(r.path(".git/range"))
		wantError(t, err, "make the range elsewhere")
	})
	t.Run("in the place of a file", func(t *testing.T) {
		r := newRepo(t)
		r.write("file", "x")
		if _, err := Init(r.path("file")); err == nil {
			t.Error("no error")
		}
	})
}

// layout is what git config lists of a repository.
func layout(t *testing.T, gitDir string) string {
	return (&repo{t, filepath.Dir(gitDir)}).git("config", "--local", "--list")
}

func nativeLayout(t *testing.T) string { return layout(t, newRepo(t).path(".git")) }
