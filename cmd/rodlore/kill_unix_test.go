//go:build unix

package main

import (
	"bytes"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// killed is a command that writes, and how it answers to being given again once
// it was carried out: "" where it just does it again.
type killed struct {
	args []string // where it is given is beside the folder range
	done string
}

// writtenOnce are what records leave in a file of the range, which stands there once
// however often the command was given.
var writtenOnce = map[string]struct{ file, text string }{
	"built add":    {"builds/2026.yaml", "serial: 0999"},
	"built repair": {"builds/2026.yaml", "seat glued"},
	"heard":        {"heard/skerry-10.yaml", "Light."},
	"reword":       {"notes/skerry-10.yaml", "Lighter."},
	"withdraw":     {"notes/skerry-10.yaml", "the wrong draft"},
}

var killedRuns = []killed{
	{[]string{"demo", "made"}, "made is not empty"},
	{[]string{"new", "made"}, "made is not empty"},
	{[]string{"new", "range/made"}, "made is not empty"},
	{[]string{"new", "empty"}, "empty is not empty"},
	{[]string{"-C", "range", "add", "gull-9"}, "is there already"},
	{[]string{"-C", "range", "built", "add", "skerry-10@2026", "--serial", "0999"}, "0999 is the number"},
	{[]string{"-C", "range", "built", "add", "skerry-10@2026", "--serial", "0999", "--why", "rod 0999"}, "0999 is the number"},
	{[]string{"-C", "range", "built", "repair", "0147", "--done", "seat glued"}, ""},
	{[]string{"-C", "range", "heard", "skerry-10@2026", "--said", "Light.", "--why", "heard"}, ""},
	{[]string{"-C", "range", "reword", "skerry-10@2024", "--tell", "Lighter."}, "says so already"},
	{[]string{"-C", "range", "withdraw", "skerry-10", "2025", "--why", "the wrong draft"}, "withdrawn on"},
	{[]string{"-C", "range", "review", "skerry-10@2026", "--tick", "feet", "--by", "MK"}, "is ticked already"},
	{[]string{"-C", "range", "save", "--why", "killed"}, "nothing has changed"},
	{[]string{"-C", "range", "release", "rill-7@2026", "2026b"}, "2026b"},
	{[]string{"-C", "range", "patterns", "skerry-10", "--count", "5", "--write"}, ""},
	{[]string{"-C", "range", "fit", "skerry-10", "--write"}, ""},
	{append([]string{"-C", "range"}, tracing...), "has this trace already"},
	{[]string{"-C", "range", "import", "heron-9", "../copies"}, ""},
	{[]string{"-C", "range", "put-back", "skerry-10@2026"}, "nothing has changed since it was saved"},
	{[]string{"-C", "range", "steps", "skerry-10@2021", "--to", "skerry-10@2022", "--releases", "1", "--write", "../plan"}, "plan is not empty"},
	{[]string{"-C", "range", "story", "skerry-10", "--out", "../s.html"}, ""},
	{[]string{"-C", "range", "story", "--all", "--out", "../pages"}, ""},
	{[]string{"-C", "range", "sheet", "skerry-10@2026", "--out", "../sheet.pdf"}, ""},
	{[]string{"-C", "range", "yearbook", "2026", "--out", "../year.md"}, ""},
}

// litter are the names of what is written on the way to something else.
var litter = regexp.MustCompile(`(^\..+-[0-9a-f]{8}-[0-9a-f]{16}-[0-9]+$)|^\.adding$|\.lock$|^\.git-new-|^\.moving$|^pending$`)

// TestKill kills every command that writes at some moment and gives the same
// command again: it is carried out or says that it was, nothing lies about that
// is none of the range's, and the repository is sound. RODLORE_KILLS says how
// many are killed, in the order of the list from anywhere in it.
func TestKill(t *testing.T) {
	kills, first := 6, rand.IntN(len(killedRuns))
	if n, err := strconv.Atoi(os.Getenv("RODLORE_KILLS")); err == nil {
		kills = n
	}
	took := make([]time.Duration, len(killedRuns))
	early, late := 0, 0
	for n := range kills {
		k := killedRuns[(first+n)%len(killedRuns)]
		name := strings.Join(k.args, " ")
		dir := killRange(t)
		usual := &took[(first+n)%len(killedRuns)]
		if *usual == 0 { // how long it takes where it is left alone
			begin := time.Now()
			if out, code, _ := killRun(t, dir, 0, k.args); code != 0 && code != exitNo {
				t.Fatalf("%s: %d\n%s", name, code, out)
			}
			*usual = time.Since(begin)
			dir = killRange(t)
		}
		after := time.Duration(rand.Float64() * 1.1 * float64(*usual))
		_, _, ended := killRun(t, dir, after, k.args)
		if ended {
			late++
		} else {
			early++
		}
		before := killSpots(t, dir)
		out, code, _ := killRun(t, dir, 0, k.args)
		switch {
		case code == exitFine:
		case k.done != "" && strings.Contains(out, k.done):
		default:
			t.Errorf("%s, killed after %v of %v: given again it answers %d\n%s\nthere was %v", name, after, *usual, code, out, before)
		}
		for command, is := range writtenOnce {
			if !strings.HasPrefix(name, "-C range "+command+" ") {
				continue
			}
			src, err := os.ReadFile(filepath.Join(dir, "range", is.file))
			if n := strings.Count(string(src), is.text); n != 1 {
				t.Errorf("%s, killed after %v of %v and given again: it is written %d times, %v\n%s", name, after, *usual, n, err, src)
			}
		}
		for _, spot := range killSpots(t, dir) {
			if litter.MatchString(filepath.Base(spot)) {
				t.Errorf("%s, killed after %v of %v: %s is left", name, after, *usual, spot)
			}
		}
		for _, folder := range []string{"range", "made", "empty"} {
			if _, err := os.Stat(filepath.Join(dir, folder, ".git")); err != nil {
				continue
			}
			if out, err := exec.Command("git", "-C", filepath.Join(dir, folder), "fsck", "--no-dangling").CombinedOutput(); err != nil {
				t.Errorf("%s, killed after %v: git fsck: %v\n%s", name, after, err, out)
			}
		}
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d were killed, %d had ended before", early, late)
}

// killRange is a folder with the demo range, an empty folder and pages in it.
func killRange(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp(t.TempDir(), "kill-")
	if err != nil {
		t.Fatal(err)
	}
	if err := copyDemo(filepath.Join(dir, "range")); err != nil {
		t.Fatal(err)
	}
	if err := greyPicture(filepath.Join(dir, "bend.png"), 400, 300); err != nil {
		t.Fatal(err)
	}
	spec, err := os.ReadFile(filepath.Join(dir, "range/models/skerry-10.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	longer := strings.Replace(string(spec), "name:", "# as it went on\nname: The", 1)
	for name, content := range map[string]string{"copies/2019.yaml": string(spec), "copies/2020-05.yaml": longer, "copies/2021.yaml": string(spec), "pages/index.html": "old", "pages/pages.txt": "index.html\n", "empty/": ""} {
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file+"x"), 0o755); err != nil {
			t.Fatal(err)
		}
		if content != "" {
			if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return dir
}

// killRun runs a command and kills it after a while, never where that is 0.
func killRun(t *testing.T, dir string, after time.Duration, args []string) (out string, code int, ended bool) {
	t.Helper()
	cmd := exec.Command("rodlore", args...)
	cmd.Dir = dir
	var text bytes.Buffer
	cmd.Stdout, cmd.Stderr = &text, &text
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	if after > 0 {
		timer := time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
		defer timer.Stop()
	}
	err := cmd.Wait()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return text.String(), cmd.ProcessState.ExitCode(), cmd.ProcessState.Exited()
}

// killSpots are all files and folders but for git's objects.
func killSpots(t *testing.T, dir string) []string {
	t.Helper()
	var spots []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == "objects":
			return fs.SkipDir
		}
		spots = append(spots, path)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(spots)
	return spots
}
