package gitstore

import (
	"bytes"
	"crypto/sha1"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// fillLocks writes the new index and the branch's new value into their locks,
// with a note of what is going on for whoever finds it unfinished.
func (d *draft) fillLocks() error {
	staged := d.staging.format()
	sum := sha1.Sum(staged)
	note := pending{ref: d.ref, id: d.id, index: hex.EncodeToString(sum[:])}
	if err := d.store.writePending(note); err != nil {
		return err
	}
	err := d.index.fill(staged)
	if err == nil {
		err = d.branch.fill([]byte(d.id.String() + "\n"))
	}
	if err != nil {
		return errors.Join(fmt.Errorf("writing into the repository: %w", err), d.store.dropPending())
	}
	return nil
}

// moveBranch makes the new state the last one. From here on it is saved.
func (d *draft) moveBranch() error {
	s := d.store
	logs, err := s.logMove(d)
	if err == nil {
		err = s.clearFolder(d.branch.target)
	}
	if err == nil {
		err = d.branch.commit()
	}
	if err != nil {
		return errors.Join(fmt.Errorf("moving %s: %w", d.ref, err), logs.undo(), s.dropPending())
	}
	return nil
}

// moveIndex brings the index in step with the branch.
func (d *draft) moveIndex() error {
	if err := d.index.commit(); err != nil {
		return fmt.Errorf("the state is saved as %s, but git's index could not be brought in step, so that git shows the files as changed: run `git reset`: %w", d.id, err)
	}
	// A note that stays is found to be done with by the next save.
	_ = d.store.dropPending()
	return nil
}

// clearFolder takes empty folders out of a ref's way, as git leaves them when it
// packs refs.
func (s *Store) clearFolder(path string) error {
	if !isDir(path) {
		return nil
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if err := s.clearFolder(filepath.Join(path, e.Name())); err != nil {
			return err
		}
	}
	return s.disk.remove(path)
}

// pending says what a save was about when it wrote into its locks.
type pending struct {
	ref   string        // that is to be moved
	id    plumbing.Hash // to this commit
	index string        // SHA-1 of the new index, in hexadecimal
}

func (s *Store) pendingPath() string { return filepath.Join(s.gitDir, ownFolder, pendingFile) }

func (s *Store) writePending(p pending) error {
	if err := s.disk.mkdir(filepath.Dir(s.pendingPath())); err != nil {
		return fmt.Errorf("writing into the repository: %w", err)
	}
	text := fmt.Sprintf("%s %s %s\n", p.ref, p.id, p.index)
	if err := s.disk.create(s.pendingPath(), []byte(text), 0o666); err != nil {
		return fmt.Errorf("writing into the repository: %w", err)
	}
	return nil
}

func (s *Store) dropPending() error { return gone(s.disk.remove(s.pendingPath())) }

// finishPending ends a save that was cut short: where the branch has moved, the
// index follows, else the save is undone. Only locks that hold what that save
// wrote are touched. The caller holds the mutex, so no save is under way.
func (s *Store) finishPending() error {
	raw, err := os.ReadFile(s.pendingPath())
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("finishing the last save: %w", err)
	}
	// A note cut short was written before anything else was.
	fields := strings.Fields(string(raw))
	if len(fields) == 3 && bytes.HasSuffix(raw, []byte("\n")) {
		id, _ := parseID(fields[1])
		if err := s.finish(pending{fields[0], id, fields[2]}); err != nil {
			return fmt.Errorf("finishing the last save: %w", err)
		}
	}
	return s.dropPending()
}

func (s *Store) finish(p pending) error {
	at, _, err := s.readRef(p.ref)
	if err != nil {
		return err
	}
	branch := &lock{disk: s.disk, target: s.refPath(p.ref)}
	if raw, err := os.ReadFile(branch.path()); err == nil && string(raw) == p.id.String()+"\n" {
		branch.held = true
	}
	index := &lock{disk: s.disk, target: s.indexPath()}
	if raw, err := os.ReadFile(index.path()); err == nil {
		sum := sha1.Sum(raw)
		index.held = hex.EncodeToString(sum[:]) == p.index
	}
	if index.held && at == p.id {
		err = index.commit()
	}
	return errors.Join(err, index.release(), branch.release())
}
