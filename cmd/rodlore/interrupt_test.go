package main

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// countdown is a context that is cancelled once it was looked at so many times: an
// interruption at the same spot in every run, however fast the machine.
type countdown struct {
	context.Context
	cancel context.CancelFunc
	left   atomic.Int64
}

func newCountdown(t *testing.T, looks int) *countdown {
	ctx, cancel := context.WithCancel(t.Context())
	t.Cleanup(cancel)
	c := &countdown{Context: ctx, cancel: cancel}
	c.left.Store(int64(looks))
	return c
}

func (c *countdown) Err() error {
	if c.left.Add(-1) < 0 {
		c.cancel()
	}
	return c.Context.Err()
}

// TestInterrupted interrupts commands at one spot after another. Each says that it
// was interrupted, prints nothing and leaves the files as they were, or all is done
// as without.
func TestInterrupted(t *testing.T) {
	s := newShell(t)
	s.demo()
	t.Setenv("RODLORE_CACHE", "off")
	if err := os.WriteFile("notes.csv", []byte(s.must("import", "--example")), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"steps", "rill-7@2023", "--to", "rill-7", "--releases", "2"},
		{"story", "rill-7", "--out", "story.html"},
		{"fit", "skerry-10"},
		{"patterns", "rill-7", "--count", "6..7"},
		{"figures", "rill-7"},
		{"compare", "rill-7@2023", "rill-7", "--shares"},
		{"check"},
		{"models"},
		{"review", "rill-7"},
		{"yearbook", "2024"},
		{"import", "gull-9", "../notes.csv"},
	} {
		t.Run(args[0], func(t *testing.T) {
			if err := os.RemoveAll("copy"); err != nil {
				t.Fatal(err)
			}
			out, code, files := interrupted(t, context.Background(), args)
			if code == exitInterrupted || code == exitUsage {
				t.Fatalf("without an interruption: exit code %d\n%s", code, out)
			}
			_, _, before := interrupted(t, newCountdown(t, 0), []string{"models"})
			for looks := 0; ; looks = 4*looks + 1 {
				at := newCountdown(t, looks)
				gotOut, gotCode, gotFiles := interrupted(t, at, args)
				want, wantOut, wantCode := before, "", exitInterrupted
				if at.Context.Err() == nil || gotCode != exitInterrupted {
					want, wantOut, wantCode = files, out, code
				}
				if diff := cmp.Diff(want, gotFiles); diff != "" || gotOut != wantOut || gotCode != wantCode {
					t.Fatalf("interrupted after %d looks: exit code %d, want %d; files (-want +got):\n%s\n%s", looks, gotCode, wantCode, diff, gotOut)
				}
				if at.Context.Err() == nil {
					t.Logf("all done within %d looks", looks)
					return
				}
			}
		})
	}
}

// TestInterruptedSave interrupts a save early and late. Where it has moved the branch it
// says so, and nothing else.
func TestInterruptedSave(t *testing.T) {
	s := newShell(t)
	s.demo()
	t.Setenv("RODLORE_CACHE", "off")
	save := func(looks int64) (at *countdown, told string) {
		if err := errors.Join(os.RemoveAll("copy"), os.CopyFS("copy", os.DirFS("range"))); err != nil {
			t.Fatal(err)
		}
		at = newCountdown(t, int(looks))
		var stdout, stderr bytes.Buffer
		code := run(at, []string{"-C", "copy", "save", "skerry-10", "--why", "as drawn"}, &stdout, &stderr, os.Getenv, scriptClock)
		if at.Context.Err() != nil && (code != exitInterrupted || stdout.Len() > 0) {
			t.Errorf("interrupted after %d looks: exit code %d\n%s", looks, code, &stdout)
		}
		return at, stderr.String()
	}
	const many = 1e6
	whole, _ := save(many)
	looks, times := many-whole.left.Load(), 0
	before := git(t, "rev-parse", "HEAD")
	for _, at := range []int64{0, looks / 4, looks / 2, looks * 3 / 4, looks - 1} {
		_, told := save(at)
		want := ""
		if after := git(t, "-C", "../copy", "rev-parse", "HEAD"); after != before {
			want = "saved 1 file as " + after[:8] + " in git\n"
			times++
		}
		if told != want {
			t.Errorf("interrupted after %d of %d looks it told %q, want %q", at, looks, told, want)
		}
	}
	if times == 0 {
		t.Error("no interruption came after the save")
	}
}

// interrupted runs a command in a copy of the demo's range, the folder copy, and
// gives its files as they are then. One that saves nothing leaves the copy to the next.
func interrupted(t *testing.T, ctx context.Context, args []string) (out string, code int, files map[string]string) {
	t.Helper()
	if _, err := os.Stat("copy"); err != nil || args[0] == "import" {
		if err := errors.Join(os.RemoveAll("copy"), os.CopyFS("copy", os.DirFS("range"))); err != nil {
			t.Fatal(err)
		}
	}
	_ = os.Remove("copy/story.html") // of the run before
	var stdout, stderr bytes.Buffer
	code = run(ctx, append([]string{"-C", "copy"}, args...), &stdout, &stderr, os.Getenv, scriptClock)
	files = map[string]string{}
	err := fs.WalkDir(os.DirFS("copy"), ".", func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && entry.Name() == ".git":
			return fs.SkipDir
		case !entry.IsDir():
			content, err := os.ReadFile(filepath.Join("copy", path))
			files[path] = string(content)
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return stdout.String(), code, files
}
