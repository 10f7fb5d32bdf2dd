package gitstore

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
)

// TestMain keeps the tests apart from the git settings of who runs them.
func TestMain(m *testing.M) {
	for key, value := range map[string]string{
		"GIT_CONFIG_GLOBAL":   os.DevNull,
		"GIT_TEST_FSYNC":      "0",
		"GIT_CONFIG_COUNT":    "1", // no packing in the background
		"GIT_CONFIG_KEY_0":    "maintenance.auto",
		"GIT_CONFIG_VALUE_0":  "false",
		"GIT_CONFIG_SYSTEM":   os.DevNull,
		"GIT_AUTHOR_NAME":     "Isla Reed",
		"GIT_AUTHOR_EMAIL":    "isla@skerry.example",
		"GIT_COMMITTER_NAME":  "Isla Reed",
		"GIT_COMMITTER_EMAIL": "isla@skerry.example",
		"GIT_AUTHOR_DATE":     "1700000000 +0100",
		"GIT_COMMITTER_DATE":  "1700000000 +0100",
		"GIT_ALLOW_PROTOCOL":  "file",
		"LC_ALL":              "C",
	} {
		if err := os.Setenv(key, value); err != nil {
			panic(err)
		}
	}
	os.Exit(run(m))
}

// scratch is where repositories are made that several tests use.
var scratch string

func run(m *testing.M) int {
	if dir := os.Getenv(saverEnv); dir != "" {
		if err := runSaver(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		return 0
	}
	var err error
	if scratch, err = os.MkdirTemp("", "rodlore-test-"); err != nil {
		panic(err)
	}
	defer os.RemoveAll(scratch)
	return m.Run()
}

// repo is a working tree made by native git, the reference of these tests.
type repo struct {
	t   testing.TB
	dir string
}

// newRepo is an empty repository with the branch main.
func newRepo(t testing.TB) *repo {
	t.Helper()
	r := &repo{t, tempDir(t)}
	r.git("init", "-q", "-b", "main")
	return r
}

func tempDir(t testing.TB) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// smallRange is a repository with one saved state of a small range, made once.
var smallRange = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(scratch, "range")
	for name, content := range map[string]string{
		"range.yaml":            "maker: Skerry Rods\n",
		"parts.yaml":            "rings: []\n",
		"models/skerry-10.yaml": "name: Skerry 10\n",
	} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(content), 0o666)); err != nil {
			return "", err
		}
	}
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"add", "-A"}, {"commit", "-q", "-m", "the first rod"}} {
		cmd := exec.Command("git", args...)
		cmd.Dir = dir
		if out, err := cmd.CombinedOutput(); err != nil {
			return "", fmt.Errorf("git %s: %w\n%s", args[0], err, out)
		}
	}
	return dir, nil
})

// newRange is a repository of its own with one saved state of a small range.
func newRange(t testing.TB) *repo {
	t.Helper()
	from, err := smallRange()
	if err != nil {
		t.Fatal(err)
	}
	r := &repo{t, tempDir(t)}
	if err := os.CopyFS(r.dir, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	return r
}

func (r *repo) path(name string) string { return filepath.Join(r.dir, filepath.FromSlash(name)) }

func (r *repo) write(name, content string) {
	r.t.Helper()
	if err := os.MkdirAll(filepath.Dir(r.path(name)), 0o777); err != nil {
		r.t.Fatal(err)
	}
	if err := os.WriteFile(r.path(name), []byte(content), 0o666); err != nil {
		r.t.Fatal(err)
	}
}

func (r *repo) read(name string) string {
	r.t.Helper()
	raw, err := os.ReadFile(r.path(name))
	if err != nil {
		r.t.Fatal(err)
	}
	return string(raw)
}

// command is a native git command in the working tree.
func (r *repo) command(args ...string) *exec.Cmd {
	cmd := exec.Command("git", args...)
	cmd.Dir = r.dir
	return cmd
}

// git runs native git, which must succeed, and gives what it prints.
func (r *repo) git(args ...string) string {
	r.t.Helper()
	out, err := r.command(args...).CombinedOutput()
	if err != nil {
		r.t.Fatalf("git %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return strings.TrimRight(string(out), "\n")
}

// commit saves everything in the working tree by native git.
func (r *repo) commit(message string) string {
	r.t.Helper()
	r.git("add", "-A")
	r.git("commit", "-q", "--allow-empty", "--allow-empty-message", "-m", message)
	return r.git("rev-parse", "HEAD")
}

func (r *repo) open() *Store {
	r.t.Helper()
	return openStore(r.t, r.dir)
}

// cacheOf is the cache of the tests for a range, beside it.
func cacheOf(dir string) string {
	return strings.TrimSuffix(dir, string(filepath.Separator)) + ".cache"
}

func openStore(t testing.TB, dir string) *Store {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	s.Keep(cache.Open(cacheOf(dir), nil, CacheScope))
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

func readLog(t testing.TB, s *Store) *catalogue.Log {
	t.Helper()
	log, err := s.Log(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return log
}

// quietLog is a log that must have no notes.
func quietLog(t testing.TB, s *Store) *catalogue.Log {
	t.Helper()
	log := readLog(t, s)
	for _, note := range log.Notes {
		t.Errorf("note: %v", note)
	}
	return log
}

// hasNote fails unless one of the notes holds the text.
func hasNote(t testing.TB, log *catalogue.Log, text string) {
	t.Helper()
	for _, note := range log.Notes {
		if strings.Contains(note.Error(), text) {
			return
		}
	}
	t.Errorf("no note says %q; notes: %v", text, log.Notes)
}

// wantError fails unless err holds every text.
func wantError(t testing.TB, err error, texts ...string) {
	t.Helper()
	if err == nil {
		t.Fatalf("no error, want one that says %q", texts)
	}
	for _, text := range texts {
		if !strings.Contains(err.Error(), text) {
			t.Errorf("error %q does not say %q", err, text)
		}
	}
}

// ids are the identities of the states in the log's order.
func ids(log *catalogue.Log) []string {
	var ids []string
	for _, s := range log.States {
		ids = append(ids, s.ID)
	}
	return ids
}

// clean fails unless native git sees nothing changed and nothing broken.
func (r *repo) clean() {
	r.t.Helper()
	if out := r.git("status", "--porcelain"); out != "" {
		r.t.Errorf("git status:\n%s", out)
	}
	r.sound()
}

// sound fails unless native git finds every object and ref in order.
func (r *repo) sound() {
	r.t.Helper()
	if out := r.git("fsck", "--strict", "--no-dangling"); out != "" {
		r.t.Errorf("git fsck:\n%s", out)
	}
}

// at is a fixed time for saves, in seconds after the first.
func at(seconds int) time.Time {
	return time.Unix(1700000000+int64(seconds), 0).In(time.FixedZone("", 3600))
}
