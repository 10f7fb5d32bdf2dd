package gitstore

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// asNobody runs do with the rights of a user who owns nothing, where the tests
// run as root, whom no mode keeps from writing.
func asNobody(t *testing.T, do func()) {
	t.Helper()
	const root, nobody = 0, 65534
	if os.Geteuid() != root {
		do()
		return
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := syscall.Setfsuid(nobody); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := syscall.Setfsuid(root); err != nil {
			panic(err)
		}
	}()
	do()
}

// A repository that can only be read is read, and saving says what is wrong and
// alters nothing.
func TestReadOnlyRepository(t *testing.T) {
	r, states := threeStates(t)
	closeForWriting(t, r)
	before := r.snapshot()
	asNobody(t, func() {
		if err := os.WriteFile(r.path(".git/probe"), nil, 0o666); !errors.Is(err, fs.ErrPermission) {
			t.Fatalf("the repository can be written to: %v", err)
		}
		s := r.open()
		for range 2 {
			if diff := cmp.Diff(states, ids(quietLog(t, s))); diff != "" {
				t.Error(diff)
			}
		}
		_, err := s.Save(context.Background(), catalogue.Save{Parent: states[0], Message: "x", Files: map[string][]byte{"parts.yaml": []byte("x")}})
		wantError(t, err, "writing into the repository", "permission denied")
		err = s.Tag(context.Background(), catalogue.Tag{Name: "a", State: states[0], Message: "x"})
		wantError(t, err, "writing into the repository", "permission denied")
	})
	if diff := cmp.Diff(before, r.snapshot()); diff != "" {
		t.Errorf("the repository was altered (-before +after):\n%s", diff)
	}
}

// closeForWriting takes all rights to write from the repository, and gives
// everybody those to read it.
func closeForWriting(t *testing.T, r *repo) {
	t.Helper()
	if err := os.Chmod(filepath.Dir(r.dir), 0o755); err != nil {
		t.Fatal(err)
	}
	set := func(folder, file fs.FileMode) {
		err := filepath.WalkDir(r.dir, func(path string, entry fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if entry.IsDir() {
				return os.Chmod(path, folder)
			}
			return os.Chmod(path, file)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	set(0o555, 0o444)
	t.Cleanup(func() { set(0o755, 0o644) })
}

// A pipe in the place of a spec is refused; opening it would wait for ever.
func TestWorkingDoesNotWaitForAPipe(t *testing.T) {
	r := newRange(t)
	if err := syscall.Mkfifo(r.path("models/pipe.yaml"), 0o666); err != nil {
		t.Fatal(err)
	}
	s := r.open()
	_, err := s.Working("models/pipe.yaml")
	wantError(t, err, "models/pipe.yaml is no file")
	_, err = s.Save(context.Background(), catalogue.Save{
		Parent: r.head(), Message: "x", Files: map[string][]byte{"models/pipe.yaml": []byte("x")},
	})
	wantError(t, err, "is no file")
}
