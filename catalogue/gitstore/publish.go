package gitstore

import (
	"bytes"
	"context"
	"crypto/sha1"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/visible"
)

var errIndexMoved = errors.New("another git program has altered git's index meanwhile: save again")

// publish moves the branch to the new state and brings the index in step, under
// the locks of both. All that could fail for want of space is done before the
// branch moves.
func (d *saving) publish(ctx context.Context) (id string, err error) {
	s := d.store
	old, err := readOwn(s.indexPath(), mostList)
	if err := gone(err); err != nil {
		return "", fmt.Errorf("reading git's index: %w", err)
	}
	staged, err := d.stage(old)
	if err != nil {
		return "", err
	}
	if err := s.writePending(pending{d.ref, d.id, sum(staged)}); err != nil {
		return "", err
	}
	// A note that stays is found to be done with by the next save.
	defer func() { _ = s.dropPending() }()
	index, err := s.lock(ctx, s.indexPath(), staged)
	defer func() { err = errors.Join(err, index.release()) }()
	if err != nil {
		return "", err
	}
	if now, err := readOwn(s.indexPath(), mostList); gone(err) != nil || !bytes.Equal(now, old) {
		return "", errors.Join(gone(err), errIndexMoved)
	}
	if err := d.moveBranch(ctx); err != nil {
		return "", err
	}
	if err := index.commit(); err != nil {
		return d.id.String(), fmt.Errorf("the state is saved as %s, but git's index could not be brought in step, so that git shows its files as changed: run `git reset` in %s: %w",
			d.id, s.top, err)
	}
	return d.id.String(), nil
}

// stage gives the index with the saved files as the new tree has them.
func (d *saving) stage(old []byte) ([]byte, error) {
	index, err := parseStaging(old)
	if err != nil {
		return nil, err
	}
	if name := index.conflict(); name != "" {
		return nil, fmt.Errorf("%s is still undecided from a merge: settle it, run `git add %s`, then save", name, visible.Arg(name))
	}
	for _, f := range d.files {
		entry, found, err := d.store.lookUp(d.tree, f.path)
		if err != nil {
			return nil, err
		}
		if found {
			err = index.set(f.path, entry)
		} else {
			err = index.drop(f.path)
		}
		if err != nil {
			return nil, err
		}
	}
	return index.format(), nil
}

func sum(content []byte) string {
	s := sha1.Sum(content)
	return hex.EncodeToString(s[:])
}

// moveBranch makes the new state the last one. From here on it is saved.
func (d *saving) moveBranch(ctx context.Context) (err error) {
	s := d.store
	branch, err := s.lock(ctx, s.refPath(d.ref), refContent(d.id))
	defer func() { err = errors.Join(err, branch.release()) }()
	if err != nil {
		return err
	}
	now, ref, err := s.readRef(headRef)
	if err != nil {
		return err
	}
	if now != d.parent || ref != d.ref {
		return moved(now)
	}
	logs, err := s.logMove(d)
	if err == nil {
		err = s.commitRef(branch)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("moving %s: %w", d.ref, err), logs.undo())
	}
	return nil
}

func refContent(id plumbing.Hash) []byte { return []byte(id.String() + "\n") }

// commitRef puts the lock of a ref in the ref's place.
func (s *Store) commitRef(l *lock) error {
	if err := s.clearFolder(l.target); err != nil {
		return err
	}
	if err := l.commit(); err != nil {
		return err
	}
	// Not all systems can flush a folder, and the ref has moved already.
	_ = s.disk.flush(filepath.Dir(l.target))
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

// pending says what a save, or the making of a tag, is about to do.
type pending struct {
	ref   string        // that is to be moved
	id    plumbing.Hash // to this commit or tag
	index string        // SHA-1 of the new index, in hexadecimal; - for a tag
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
// wrote are touched. The caller holds the mutex, so no save is under way. cut
// says what was found, if anything was.
func (s *Store) finishPending() (cut, err error) {
	raw, err := readOwn(s.pendingPath(), mostText)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("finishing the last save: %w", err)
	}
	// A note cut short was written before anything else was.
	cut = errors.New("the last save or release was cut short before it was made; give it again")
	fields := strings.Fields(string(raw))
	if len(fields) == 3 && isRefName(fields[0]) && bytes.HasSuffix(raw, []byte("\n")) {
		id, _ := parseID(fields[1])
		p := pending{fields[0], id, fields[2]}
		at, err := s.finish(p)
		if err != nil {
			return nil, fmt.Errorf("finishing the last save: %w", err)
		}
		cut = s.tell(p, at)
	}
	return cut, s.dropPending()
}

// tell says whether what was cut short was made, where its ref leads to at. Of a
// branch that has gone on since nothing can be told.
func (s *Store) tell(p pending, at plumbing.Hash) error {
	what := "the last save"
	name, isTag := strings.CutPrefix(p.ref, tagPrefix)
	if isTag {
		what = "the release " + name
	}
	before := at.IsZero()
	if c, err := s.readCommit(p.id); !isTag && err == nil {
		before = slices.Contains(append(c.parents, plumbing.ZeroHash), at)
	}
	switch {
	case at == p.id:
		return fmt.Errorf("%s was cut short after it was made: it is there whole", what)
	case before:
		return fmt.Errorf("%s was cut short before it was made: nothing of it is there; give it again", what)
	}
	return nil
}

// finish tidies up behind what was cut short, and gives where its ref leads to.
func (s *Store) finish(p pending) (at plumbing.Hash, err error) {
	at, _, err = s.readRef(p.ref)
	if err != nil {
		return at, err
	}
	ref := &lock{disk: s.disk, target: s.refPath(p.ref)}
	if raw, err := readOwn(ref.path(), mostText); err == nil && bytes.Equal(raw, refContent(p.id)) {
		ref.held = true
	}
	index := &lock{disk: s.disk, target: s.indexPath()}
	if raw, err := readOwn(index.path(), mostList); err == nil && sum(raw) == p.index {
		index.held = true
	}
	if index.held && at == p.id {
		err = index.commit()
	}
	return at, errors.Join(err, index.release(), ref.release())
}
