package working

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// folder is a Dir with a folder beside it that nothing may reach.
func folder(t *testing.T) (d Dir, outside string) {
	t.Helper()
	top := t.TempDir()
	d, outside = At(filepath.Join(top, "range")), filepath.Join(top, "outside")
	for _, dir := range []string{d.path, outside} {
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	put(t, filepath.Join(outside, "t.yaml"), "theirs")
	put(t, d.Within("range.yaml"), "maker: x")
	return d, outside
}

func put(t *testing.T, file, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return list
}

// Nothing that is done to a folder or a file by way of a link reaches where the
// link leads, in the range or out of it.
func TestLinksLeadNowhere(t *testing.T) {
	for _, target := range []string{"../outside", "other"} {
		d, outside := folder(t)
		put(t, d.Within("other/t.yaml"), "ours")
		put(t, filepath.Join(outside, leftName(t, "t.yaml")), "theirs too")
		for name, to := range map[string]string{"builds": target, "heard/x.yaml": "../" + target + "/t.yaml"} {
			if err := os.MkdirAll(filepath.Dir(d.Within(name)), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.Symlink(to, d.Within(name)); err != nil {
				t.Fatal(err)
			}
		}
		before := append(names(t, outside), names(t, d.Within("other"))...)
		for what, do := range map[string]func(name string) error{
			"read":   func(name string) error { _, err := d.Read(name); return err },
			"stat":   func(name string) error { _, err := d.Stat(name); return err },
			"put":    func(name string) error { return d.Put(name, []byte("new")) },
			"create": func(name string) error { return d.Create(name, []byte("new")) },
			"hold":   func(name string) error { _, err := d.Hold(filepath.ToSlash(filepath.Dir(name))); return err },
		} {
			for _, name := range []string{"builds/t.yaml", "heard/x.yaml"} {
				if what == "hold" && name == "heard/x.yaml" {
					continue
				}
				if err := do(name); !errors.Is(err, ErrUnusable) && !errors.Is(err, fs.ErrExist) {
					t.Errorf("%s of %s by a link to %s: %v", what, name, target, err)
				}
			}
		}
		if after := append(names(t, outside), names(t, d.Within("other"))...); !slices.Equal(before, after) {
			t.Errorf("from %v to %v", before, after)
		}
		if got, err := os.ReadFile(filepath.Join(outside, "t.yaml")); err != nil || string(got) != "theirs" {
			t.Errorf("theirs is now %q, %v", got, err)
		}
		files, obstacles, err := d.List()
		if err != nil || !slices.Equal(files, []string{"range.yaml"}) || len(obstacles) != 2 {
			t.Errorf("listed %v and %v, %v", files, obstacles, err)
		}
	}
}

// A lock that is a link is not followed to make a file elsewhere.
func TestHoldFollowsNoLink(t *testing.T) {
	d, outside := folder(t)
	put(t, d.Within("builds/2026.yaml"), "built: []")
	if err := os.Symlink("../../outside/made", d.Within("builds/"+holdFile)); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Hold("builds"); !errors.Is(err, ErrUnusable) {
		t.Errorf("held: %v", err)
	}
	if got := names(t, outside); !slices.Equal(got, []string{"t.yaml"}) {
		t.Errorf("outside has %v", got)
	}
}

// A folder in which nothing was put in the end is not left behind.
func TestHoldLeavesNoEmptyFolder(t *testing.T) {
	d, _ := folder(t)
	for _, added := range []bool{false, true} {
		release, err := d.Hold("reviews")
		if err != nil {
			t.Fatal(err)
		}
		if added {
			put(t, d.Within("reviews/rill-7.yaml"), "ticked: []")
		}
		release()
		if _, err := os.Stat(d.Within("reviews")); (err == nil) != added {
			t.Errorf("added %v: %v", added, err)
		}
	}
}

// What goes up and out by its path goes nowhere either.
func TestPathsStayWithin(t *testing.T) {
	d, _ := folder(t)
	for _, name := range []string{"../outside/t.yaml", "models/../../outside/t.yaml", "/etc/hostname"} {
		if _, err := d.Read(name); err == nil {
			t.Errorf("%s was read", name)
		}
		if err := d.Put(name, []byte("x")); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}

func TestReadIsBounded(t *testing.T) {
	d, _ := folder(t)
	put(t, d.Within("models/a.yaml"), string(make([]byte, 3<<20)))
	got, err := d.Read("models/a.yaml")
	if err != nil || len(got) != MostBytes {
		t.Errorf("%d bytes, %v", len(got), err)
	}
	if _, err := ReadFile("/dev/zero"); err == nil {
		t.Error("a device was read")
	}
}

func TestPutAndCreate(t *testing.T) {
	d, _ := folder(t)
	if err := d.Create("models/a.yaml", []byte("one")); err != nil {
		t.Fatal(err)
	}
	if err := d.Create("models/a.yaml", []byte("two")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("made twice: %v", err)
	}
	if err := os.Chmod(d.Within("models/a.yaml"), 0o640); err != nil {
		t.Fatal(err)
	}
	if err := d.Put("models/a.yaml", []byte("three")); err != nil {
		t.Fatal(err)
	}
	info, err := d.Stat("models/a.yaml")
	if err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("permissions %v, %v", info, err)
	}
	if got, err := d.Read("models/a.yaml"); err != nil || string(got) != "three" {
		t.Errorf("%q, %v", got, err)
	}
	if got := names(t, d.Within("models")); !slices.Equal(got, []string{"a.yaml"}) {
		t.Errorf("left behind: %v", got)
	}
}

// leftName is the name by which a program that has ended left something.
func leftName(t *testing.T, of string) string {
	t.Helper()
	ended := exec.Command(os.Args[0], "-test.run=^$")
	if err := ended.Run(); err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf(".%s-%s-%016x-%d", of, machine(), 1, ended.Process.Pid)
}

// What killed programs left goes with the next file that is written there; what
// others are at stays, and so does what only looks like it.
func TestSweep(t *testing.T) {
	d, _ := folder(t)
	stays := []string{
		fmt.Sprintf(".a.yaml-%s-%016x-%d", machine(), 1, os.Getppid()),
		filepath.Base(passing("a.yaml")),
		".a.yaml-00000000-0000000000000001-1",
		".a.yaml-0123abcd",
	}
	for _, name := range append(stays, leftName(t, "a.yaml")) {
		put(t, d.Within("models/"+name), "half")
	}
	put(t, d.Within("models/"+leftName(t, "folder")+"/file"), "half")
	elsewhere, dayBefore := d.Within("models/.a.yaml-00000000-0000000000000002-1"), time.Now().Add(-25*time.Hour)
	put(t, elsewhere, "half")
	if err := os.Chtimes(elsewhere, dayBefore, dayBefore); err != nil {
		t.Fatal(err)
	}
	if err := d.Put("models/b.yaml", []byte("whole")); err != nil {
		t.Fatal(err)
	}
	want := append(stays, "b.yaml")
	slices.Sort(want)
	if got := names(t, d.Within("models")); !slices.Equal(got, want) {
		t.Errorf("left are %v, not %v", got, want)
	}
}
