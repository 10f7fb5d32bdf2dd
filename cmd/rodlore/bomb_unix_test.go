//go:build unix

package main

import (
	"bytes"
	"io"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// spaces are endless.
type spaces struct{}

func (spaces) Read(p []byte) (int, error) { return copy(p, bytes.Repeat([]byte(" "), len(p))), nil }

// TestBombInHistory saves a spec of a quarter of a gigabyte, which git keeps in as
// many kilobytes. The commands that read the history say what it is without
// unpacking it: they take little more memory than before it was there.
func TestBombInHistory(t *testing.T) {
	s := newShell(t)
	s.demo()
	dir := filepath.Join(s.dir, "range")
	git := func(in io.Reader, args ...string) string {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-C", dir, "-c", "core.bigFileThreshold=1k", "-c", "core.compression=9"}, args...)...)
		cmd.Stdin = in
		var errs bytes.Buffer
		cmd.Stderr = &errs
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, &errs)
		}
		return strings.TrimSpace(string(out))
	}
	commands := [][]string{{"check"}, {"history", "rill-7"}, {"models"}, {"history", "bomb", "--json"}}
	before := make([]int64, len(commands))
	for i, args := range commands {
		_, before[i] = measured(t, dir, args)
	}
	bomb := git(io.LimitReader(spaces{}, 256<<20), "hash-object", "-w", "--stdin")
	for _, file := range []string{"models/rill-7.yaml", "models/bomb.yaml"} {
		git(nil, "update-index", "--add", "--cacheinfo", "100644,"+bomb+","+file)
	}
	git(nil, "commit", "-qm", "a bomb")
	git(nil, "reset", "-q", "HEAD^", "models/rill-7.yaml")
	git(nil, "rm", "-q", "--cached", "models/bomb.yaml")
	git(nil, "commit", "-qm", "as it was")
	for _, packed := range []bool{false, true} {
		if packed {
			git(nil, "repack", "-adq")
		}
		for i, args := range commands {
			told, took := measured(t, dir, args)
			if more := took - before[i]; more > 64<<10 {
				t.Errorf("packed %v: %v takes %d MB more", packed, args, more>>10)
			}
			if args[0] == "history" && !strings.Contains(told, "more than a range has room for") {
				t.Errorf("packed %v: %v does not tell:\n%s", packed, args, told)
			}
		}
	}
}

// measured runs a command and gives what it said and the most memory it took, in KiB.
func measured(t *testing.T, dir string, args []string) (string, int64) {
	t.Helper()
	cmd := exec.Command("rodlore", append([]string{"-C", dir}, args...)...)
	told, _ := cmd.CombinedOutput() // the answer may be no
	usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		t.Fatal("how much memory it took is not known")
	}
	return string(told), usage.Maxrss
}
