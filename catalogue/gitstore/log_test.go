package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestLogOfALinearHistory(t *testing.T) {
	r := newRange(t)
	first := r.git("rev-parse", "HEAD")
	r.write("models/skerry-10.yaml", "name: Skerry 10\nlength: 10 ft\n")
	r.write("notes.txt", "not of the range\n")
	second := r.commit("say how long it is\n\nTell: nothing changed\n")
	log := quietLog(t, r.open())

	if log.Head != second {
		t.Errorf("head is %s, want %s", log.Head, second)
	}
	if diff := cmp.Diff([]string{second, first}, ids(log)); diff != "" {
		t.Error(diff)
	}
	s := log.States[0]
	if s.Author != "Isla Reed <isla@skerry.example>" || s.Message != "say how long it is\n\nTell: nothing changed\n" {
		t.Errorf("author %q, message %q", s.Author, s.Message)
	}
	if want := "2023-11-14T23:13:20+01:00"; s.When.Format(time.RFC3339) != want {
		t.Errorf("time %s, want %s", s.When.Format(time.RFC3339), want)
	}
	r.sameAsNative(log, "")
}

func TestBlobGivesWhatWasSaved(t *testing.T) {
	r := newRange(t)
	s := r.open()
	log := quietLog(t, s)
	for _, c := range log.States[0].Changes {
		got, err := s.Blob(context.Background(), c.New)
		if err != nil {
			t.Fatal(err)
		}
		if want := r.read(c.Path); string(got) != want {
			t.Errorf("%s: %q, want %q", c.Path, got, want)
		}
	}
	for _, id := range []string{"", "xyz", strings.Repeat("a", 40), log.Head} {
		if _, err := s.Blob(context.Background(), id); err == nil {
			t.Errorf("blob %q: no error", id)
		}
	}
}

// A random history is made by native git: branches, merges with up to four
// parents and criss-cross, renames, removals, changed modes, files of other
// kinds, the same time for several commits.
func TestLogOfRandomHistories(t *testing.T) {
	for seed := range uint64(12) {
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) {
			t.Parallel()
			prefix := []string{"", "rods/sea/"}[seed%2]
			r := randomHistory(t, rand.New(rand.NewPCG(seed, 1)), prefix, 60)
			if seed%3 == 0 {
				r.git("gc", "-q")
			}
			dir := filepath.Join(r.dir, filepath.FromSlash(prefix))
			if err := os.MkdirAll(dir, 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "range.yaml"), []byte("maker: x\n"), 0o666); err != nil {
				t.Fatal(err)
			}
			r.sameAsNative(quietLog(t, openStore(t, dir)), prefix)
		})
	}
}

// randomHistory writes a stream for git fast-import, of n commits.
func randomHistory(t testing.TB, rnd *rand.Rand, prefix string, n int) *repo {
	t.Helper()
	r := newRepo(t)
	files := []string{
		"range.yaml", "parts.yaml", "materials.yaml", "models/a.yaml", "models/b.yaml", "models/b-1.yaml",
		"models/b.yaml/inner.yaml", "models/c.txt", "models/.hidden.yaml", "models/deep/d.yaml", "models", "builds/2025.yaml",
		"bench/a.yaml", "other/models/a.yaml", "README",
	}
	var w strings.Builder
	for mark := 1; mark <= n; mark++ {
		fmt.Fprintf(&w, "commit refs/heads/b%d\nmark :%d\ncommitter Isla Reed <isla@skerry.example> %d +0000\ndata 4\nedit\n",
			mark, mark, 1600000000+rnd.IntN(40)*1000)
		if mark > 1 && rnd.IntN(15) > 0 {
			fmt.Fprintf(&w, "from :%d\n", max(1, mark-1-rnd.IntN(3)))
			for range rnd.IntN(4) - 1 {
				fmt.Fprintf(&w, "merge :%d\n", 1+rnd.IntN(mark-1))
			}
		}
		for range 1 + rnd.IntN(3) {
			writeEdit(&w, rnd, prefix, files)
		}
	}
	fmt.Fprintf(&w, "reset refs/heads/main\nfrom :%d\n", n)
	for i := range 5 {
		fmt.Fprintf(&w, "reset refs/tags/t%d\nfrom :%d\n", i, 1+rnd.IntN(n))
	}
	cmd := r.command("fast-import", "--quiet")
	cmd.Stdin = strings.NewReader(w.String())
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return r
}

func writeEdit(w *strings.Builder, rnd *rand.Rand, prefix string, files []string) {
	file := prefix + files[rnd.IntN(len(files))]
	content := fmt.Sprintf("value: %d\n", rnd.IntN(6))
	switch rnd.IntN(10) {
	case 0:
		fmt.Fprintf(w, "D %s\n", file)
	case 1:
		fmt.Fprintf(w, "M 120000 inline %s\ndata 6\na.yaml\n", file)
	case 2:
		fmt.Fprintf(w, "M 160000 %s %s\n", strings.Repeat("1234567890", 4), file)
	case 3:
		fmt.Fprintf(w, "M 100755 inline %s\ndata %d\n%s\n", file, len(content), content)
	default:
		fmt.Fprintf(w, "M 100644 inline %s\ndata %d\n%s\n", file, len(content), content)
	}
}

func TestWorking(t *testing.T) {
	r := newRange(t)
	r.write("outside.yaml", "secret: 1\n")
	dir := filepath.Join(r.dir, "range")
	for name, content := range map[string]string{
		"range/range.yaml":            "maker: x\n",
		"range/models/a.yaml":         "name: A\n",
		"range/models/notes.txt":      "x",
		"range/models/.#a.yaml":       "x",
		"range/models/sub.yaml/x":     "x",
		"range/bench/a.yaml":          "x",
		"range/models/long.yaml":      strings.Repeat("x", 2<<20),
		"range/models/deeper/b.yaml":  "x",
		"range/elsewhere/models.yaml": "x",
	} {
		r.write(name, content)
	}
	links := map[string]string{"inside.yaml": "a.yaml", "out.yaml": "../../outside.yaml", "gone.yaml": "nowhere"}
	for name, target := range links {
		if err := os.Symlink(target, filepath.Join(dir, "models", name)); err != nil {
			t.Fatal(err)
		}
	}
	s := openStore(t, filepath.Join(dir, "models"))
	files, err := s.WorkingFiles()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"bench/a.yaml", "models/a.yaml", "models/long.yaml", "range.yaml"}
	if diff := cmp.Diff(want, files); diff != "" {
		t.Error(diff)
	}
	for _, row := range []struct {
		path    string
		size    int  // of the content, where it can be read
		ok      bool // it can be read
		missing bool // the error is fs.ErrNotExist
	}{
		{"models/a.yaml", 8, true, false},
		{"models/inside.yaml", 0, false, false},
		{"models/long.yaml", 1<<20 + 1, true, false},
		{"models/none.yaml", 0, false, true},
		{"parts.yaml", 0, false, true},
		{"models/gone.yaml", 0, false, false},
		{"models/out.yaml", 0, false, false},
		{"models/sub.yaml", 0, false, false},
		{"../outside.yaml", 0, false, false},
		{filepath.Join(r.dir, "outside.yaml"), 0, false, false},
		{"", 0, false, false},
	} {
		t.Run("reading "+row.path, func(t *testing.T) {
			got, err := s.Working(row.path)
			if (err == nil) != row.ok || errors.Is(err, fs.ErrNotExist) != row.missing || len(got) != row.size {
				t.Errorf("%d bytes, error %v", len(got), err)
			}
		})
	}
}
