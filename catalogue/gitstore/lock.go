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

// lock is git's own lock on a file, with the new content in it: while it is held
// no git program alters the file. To commit, the lock takes the file's place, so
// that a reader sees the old or the new content and nothing between.
type lock struct {
	disk   disk
	target string
	held   bool
}

// lock waits for the lock on target and takes it. The content goes in at once:
// by it the next save knows the lock of one that was cut short.
func (s *Store) lock(ctx context.Context, target string, content []byte) (*lock, error) {
	l := &lock{disk: s.disk, target: target}
	deadline := time.Now().Add(s.patience)
	for {
		err := s.disk.mkdir(filepath.Dir(target))
		if err == nil {
			err = s.disk.create(l.path(), content, 0o666)
		}
		switch {
		case err == nil:
			l.held = true
			return l, s.flushLock(l)
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

func (s *Store) flushLock(l *lock) error {
	if err := s.disk.flush(l.path()); err != nil {
		return fmt.Errorf("locking the repository: %w", errors.Join(err, l.release()))
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
	release, err = lockedfile.MutexAt(filepath.Join(dir, mutexFile)).Lock()
	if err != nil {
		return nil, fmt.Errorf("writing into the repository: %w", err)
	}
	return release, nil
}
