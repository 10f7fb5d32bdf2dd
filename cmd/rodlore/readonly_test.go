//go:build unix

package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// TestReadOnly runs the commands on a range that may only be read: what reads
// works, what writes says so and leaves everything as it was.
func TestReadOnly(t *testing.T) {
	s := newShell(t)
	s.demo()
	dir := filepath.Join(s.dir, "range")
	program := otherUser(t, s.dir, dir)
	before := listing(t, dir)
	tests := []struct {
		args []string
		code int
	}{
		{[]string{"models"}, exitFine},
		{[]string{"figures", "skerry-10"}, exitFine},
		{[]string{"history", "skerry-10"}, exitFine},
		{[]string{"compare", "skerry-10"}, exitFine},
		{[]string{"check"}, exitFine},
		{[]string{"save", "--why", "a reason"}, exitNo},
		{[]string{"release", "skerry-10@saved", "2027"}, exitNo},
		{[]string{"add", "gull-9"}, exitNo},
		{[]string{"built", "chart"}, exitFine},
		{[]string{"built", "add", "skerry-10@2026", "--serial", "0148"}, exitNo},
		{[]string{"heard", "skerry-10@2026", "--said", "light"}, exitNo},
		{[]string{"reword", "skerry-10@2026", "--tell", "light"}, exitNo},
		{[]string{"withdraw", "skerry-10", "2026", "--why", "light"}, exitNo},
		{[]string{"patterns", "skerry-10", "--count", "4"}, exitFine},
		{[]string{"patterns", "skerry-10", "--count", "4", "--write"}, exitNo},
	}
	for _, test := range tests {
		t.Run(test.args[0], func(t *testing.T) {
			out, err := program(test.args...)
			code := 0
			if exit, ok := err.(*exec.ExitError); ok {
				code = exit.ExitCode()
			} else if err != nil {
				t.Fatal(err)
			}
			if code != test.code {
				t.Errorf("exit code %d, not %d\n%s", code, test.code, out)
			}
			if test.code == exitNo && !strings.HasPrefix(out, "rodlore: ") {
				t.Errorf("the reason is missing: %s", out)
			}
			if after := listing(t, dir); !slices.Equal(before, after) {
				t.Errorf("files before and after:\n%s\n\n%s", strings.Join(before, "\n"), strings.Join(after, "\n"))
			}
		})
	}
}

// otherUser gives a way to run rodlore on a range as somebody who may read it
// and no more. The superuser may write anywhere, so for them it is another
// user, and else the permissions are taken away.
func otherUser(t *testing.T, home, dir string) func(args ...string) (string, error) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	binary, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	rodlore := filepath.Join(home, "rodlore")
	if err := os.WriteFile(rodlore, binary, 0o755); err != nil {
		t.Fatal(err)
	}
	var attr syscall.SysProcAttr
	if os.Getuid() == 0 {
		const nobody = 65534
		attr.Credential = &syscall.Credential{Uid: nobody, Gid: nobody}
		// Folders of tests are closed to other users.
		for _, folder := range []string{home, filepath.Dir(home)} {
			if err := os.Chmod(folder, 0o755); err != nil {
				t.Fatal(err)
			}
		}
	} else {
		setWritable(t, dir, false)
		t.Cleanup(func() { setWritable(t, dir, true) })
	}
	// They look at a range of somebody whom they trust.
	theirs := filepath.Join(home, "theirs")
	if err := os.Mkdir(theirs, 0o755); err != nil {
		t.Fatal(err)
	}
	settings := filepath.Join(theirs, "trusting")
	if err := os.WriteFile(settings, []byte("[safe]\n\tdirectory = *\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return func(args ...string) (string, error) {
		cmd := exec.Command(rodlore, append([]string{"-C", dir}, args...)...)
		cmd.SysProcAttr, cmd.Env = &attr, append(os.Environ(), "GIT_CONFIG_GLOBAL="+settings, "HOME="+theirs, "XDG_CONFIG_HOME="+theirs)
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
}

// setWritable gives or takes the permission to write to all of a folder.
func setWritable(t *testing.T, dir string, writable bool) {
	t.Helper()
	const write = 0o222
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		mode := info.Mode().Perm() &^ write
		if writable {
			mode |= 0o200
		}
		return os.Chmod(path, mode)
	})
	if err != nil {
		t.Error(err)
	}
}

// listing is every file of a folder with its size and time.
func listing(t *testing.T, dir string) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		files = append(files, fmt.Sprintf("%s %d %s", path, info.Size(), info.ModTime()))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}
