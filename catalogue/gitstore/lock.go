package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// Where the store keeps what is its own, in the repository's folder.
const (
	ownFolder   = "rodlore"
	mutexFile   = "saving"
	pendingFile = "pending"
	lockDraft   = "lock"
)

// Git's lock on FILE is a file FILE.lock, which only one program can make.
const lockSuffix = ".lock"

// How long a lock of another git program is waited for. Git holds its locks for
// moments, so one that stays is left over.
const (
	lockPatience = time.Second
	lockInterval = 25 * time.Millisecond
)

// lock is git's own lock on a file, with the new content in it: while it is held
// no git program alters the file. To commit, the lock takes the file's place, so
// that a reader sees the old or the new content and nothing between.
type lock struct {
	disk   disk
	target string
	held   bool
}

// lock waits for the lock on target and takes it. It is there with its content
// or not at all: by that the next save knows the lock of one that was cut short.
// The caller holds the mutex.
func (s *Store) lock(ctx context.Context, target string, content []byte) (*lock, error) {
	l := &lock{disk: s.disk, target: target}
	draft, err := s.draftLock(content)
	if err != nil {
		return l, fmt.Errorf("locking the repository: %w", err)
	}
	// What stays gives way to the next draft.
	defer func() { _ = s.disk.remove(draft) }()
	deadline := time.Now().Add(s.patience)
	for {
		err := s.disk.mkdir(filepath.Dir(target))
		if err == nil {
			err = s.take(l, draft, content)
		}
		switch {
		case err == nil:
			l.held = true
			return l, nil
		// Git takes away folders that it has emptied, maybe just now.
		case !errors.Is(err, fs.ErrExist) && !errors.Is(err, fs.ErrNotExist):
			return l, fmt.Errorf("locking the repository: %w", err)
		case time.Now().After(deadline):
			return l, fmt.Errorf("another git program is at work in this repository: %s is there; wait for it to end, or remove that file if none is running", l.path())
		}
		select {
		case <-ctx.Done():
			return l, ctx.Err()
		case <-time.After(lockInterval):
		}
	}
}

// draftLock writes the content of a lock where nothing looks for it.
func (s *Store) draftLock(content []byte) (draft string, err error) {
	draft = filepath.Join(s.commonDir, ownFolder, lockDraft)
	if err := gone(s.disk.remove(draft)); err != nil { // left by a crash
		return "", err
	}
	return draft, s.putWhole(draft, content)
}

// take makes the lock out of its draft. It is an fs.ErrExist where another
// program holds it.
func (s *Store) take(l *lock, draft string, content []byte) error {
	err := s.disk.link(draft, l.path())
	if err == nil || errors.Is(err, fs.ErrExist) || errors.Is(err, fs.ErrNotExist) {
		return err
	}
	// Not every file system gives a file two names.
	return s.putWhole(l.path(), content)
}

// putWhole makes a file that outlasts a loss of power, or none.
func (s *Store) putWhole(path string, content []byte) error {
	if err := s.disk.create(path, content, 0o666); err != nil {
		return err
	}
	if err := s.disk.flush(path); err != nil {
		return errors.Join(err, s.disk.remove(path))
	}
	return nil
}

func (l *lock) path() string { return l.target + lockSuffix }

// commit puts the lock in the file's place.
func (l *lock) commit() error {
	if err := l.disk.rename(l.path(), l.target); err != nil {
		return err
	}
	l.held = false
	return nil
}

// release lets go of the lock without altering the file.
func (l *lock) release() error {
	if !l.held {
		return nil
	}
	l.held = false
	return l.disk.remove(l.path())
}

// alone waits until no other rodlore writes into the repository. The system ends
// this hold when the program ends, however it ends.
func (s *Store) alone() (release func(), err error) {
	dir := filepath.Join(s.commonDir, ownFolder)
	if err := s.disk.mkdir(dir); err != nil {
		return nil, fmt.Errorf("writing into the repository: %w", err)
	}
	for _, path := range []string{dir, filepath.Join(dir, mutexFile)} { // links would lead elsewhere
		if info, err := os.Lstat(path); err == nil && info.Mode()&fs.ModeSymlink != 0 {
			return nil, fmt.Errorf("%s is a symbolic link, which rodlore did not make: take it out", path)
		}
	}
	release, err = lockedfile.MutexAt(filepath.Join(dir, mutexFile)).Lock()
	if err != nil {
		return nil, fmt.Errorf("writing into the repository: %w", err)
	}
	return release, nil
}
