package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// Where the store keeps what is its own, in the repository's folder.
const (
	ownFolder   = "rodlore"
	mutexFile   = "saving"
	pendingFile = "pending"
)

// Git's lock on FILE is a file FILE.lock, which only one program can make.
const lockSuffix = ".lock"

// How long a lock of another git program is waited for. Git holds its locks for
// moments, so one that stays is left over.
const (
	lockPatience = time.Second
	lockInterval = 25 * time.Millisecond
)

// lock is git's own lock on a file: while it is held no git program alters the
// file. The new content is written into the lock, which then takes the file's
// place, so that a reader sees the old or the new content and nothing between.
type lock struct {
	disk   disk
	target string
	held   bool
}

// lock waits for the lock on target and takes it.
func (s *Store) lock(ctx context.Context, target string) (*lock, error) {
	l := &lock{disk: s.disk, target: target}
	deadline := time.Now().Add(lockPatience)
	for {
		err := s.disk.mkdir(filepath.Dir(target))
		if err == nil {
			err = s.disk.create(l.path(), nil, 0o666)
		}
		switch {
		case err == nil:
			l.held = true
			return l, nil
		// Git takes away folders that it has emptied, maybe just now.
		case !errors.Is(err, fs.ErrExist) && !errors.Is(err, fs.ErrNotExist):
			return nil, fmt.Errorf("locking the repository: %w", err)
		case time.Now().After(deadline):
			return nil, fmt.Errorf("another git program is at work in this repository: %s is there; wait for it to end, or remove that file if none is running", l.path())
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(lockInterval):
		}
	}
}

func (l *lock) path() string { return l.target + lockSuffix }

// fill writes what the file is to hold.
func (l *lock) fill(content []byte) error { return l.disk.fill(l.path(), content) }

// commit puts what was filled in into the file's place and lets go of the lock.
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
	release, err = lockedfile.MutexAt(filepath.Join(dir, mutexFile)).Lock()
	if err != nil {
		return nil, fmt.Errorf("writing into the repository: %w", err)
	}
	return release, nil
}
