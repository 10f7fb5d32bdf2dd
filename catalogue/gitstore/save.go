package gitstore

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
)

// Save records files as a new saved state: a commit on the branch in hand, or on
// the detached head, by plumbing and under git's own locks. What else is in the
// last saved state stays; what else is staged or changed stays as it was. The
// state is recorded or, with an error, it is not, and then branch, index and
// head are as before; only where the index alone could not be brought in step
// there are both an identity and an error.
//
// Author, where given, is taken as committer as well, so that the same save has
// the same identity anywhere. Content goes through the ends of lines that
// .gitattributes asks for. The .gitattributes that Init wrote goes along with the
// first save after it.
func (s *Store) Save(ctx context.Context, save catalogue.Save) (id string, err error) {
	release, err := s.alone()
	if err != nil {
		return "", err
	}
	defer release()
	for range indexTries {
		d, err := s.prepare(save)
		if err != nil {
			return "", err
		}
		if err := d.write(ctx); err != nil {
			return "", err
		}
		if id, err = d.publish(ctx); !errors.Is(err, errIndexMoved) {
			return id, err
		}
	}
	return "", errIndexMoved
}

// indexTries is how often a save begins again where other git programs alter the
// index meanwhile, as git status does in passing.
const indexTries = 10

// saving is a save on its way.
type saving struct {
	store   *Store
	signed  signatures
	message string
	signs   bool // commit.gpgSign
	files   []savedFile
	ref     string        // what is to be moved
	parent  plumbing.Hash // where it stands
	tree    plumbing.Hash // of the new commit
	id      plumbing.Hash // of the new commit
}

// savedFile is one file of a save; content nil means that it goes.
type savedFile struct {
	path    string // in the repository, or from the tree that is being edited
	content []byte
	blob    plumbing.Hash // of the content, once it is written
	mode    string        // on disk, "" where it is not there or its mode says nothing: it stays as it was saved
}

// prepare checks everything that can be checked before anything is written.
func (s *Store) prepare(save catalogue.Save) (*saving, error) {
	config, err := readSettings(s.place)
	if err != nil {
		return nil, err
	}
	d := &saving{store: s}
	if d.signed, err = config.signatures(save.Author, save.When, save.Now); err != nil {
		return nil, err
	}
	d.signs = config.isTrue("commit.gpgsign")
	if d.message, err = cleanMessage(save.Message); err != nil {
		return nil, err
	}
	if _, err := s.finishPending(); err != nil {
		return nil, err
	}
	if err := s.checkQuiet(); err != nil {
		return nil, err
	}
	if d.parent, d.ref, err = s.readRef(headRef); err != nil {
		return nil, err
	}
	if idText(d.parent) != save.Parent {
		return nil, moved(d.parent)
	}
	d.files, err = s.savedFiles(save.Files)
	return d, err
}

func moved(to plumbing.Hash) error {
	return fmt.Errorf("%w: its last state is now %s; look at that and save again", catalogue.ErrMoved, cmp.Or(idText(to), "none"))
}

// Files that are there while git is in the middle of something, what it is, and what
// ends it.
var unfinished = []struct{ file, what, end string }{
	{"MERGE_HEAD", "merge", "git commit"},
	{"rebase-merge", "rebase", "git rebase --continue"},
	{"rebase-apply", "rebase", "git rebase --continue"},
	{"CHERRY_PICK_HEAD", "cherry-pick", "git cherry-pick --continue"},
	{"REVERT_HEAD", "revert", "git revert --continue"},
}

// checkQuiet refuses to save into what git has begun and not ended.
func (s *Store) checkQuiet() error {
	for _, u := range unfinished {
		if exists(filepath.Join(s.gitDir, u.file)) {
			return fmt.Errorf("git is in the middle of a %[1]s: put the files right and end it with `git add` and `%[2]s`, or call it off with `git %[1]s --abort`; then save", u.what, u.end)
		}
	}
	return nil
}

// savedFiles looks at each file as it is on disk and as it is to be saved.
func (s *Store) savedFiles(files map[string][]byte) ([]savedFile, error) {
	var list []savedFile
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err := checkPath(name); err != nil {
			return nil, err
		}
		d, err := s.savedFile(s.prefix+name, files[name])
		if err != nil {
			return nil, err
		}
		list = append(list, d)
	}
	return list, nil
}

// checkPath refuses paths that lead out of the range or into git's own folder.
func checkPath(name string) error {
	if !fs.ValidPath(name) || name == "." || strings.ContainsRune(name, 0) || !filepath.IsLocal(filepath.FromSlash(name)) {
		return fmt.Errorf("%q is no path of a file in the range", name)
	}
	for part := range strings.SplitSeq(name, "/") {
		if strings.EqualFold(part, ".git") {
			return fmt.Errorf("%q lies in git's own folder", name)
		}
	}
	return nil
}

func (s *Store) savedFile(repoPath string, content []byte) (savedFile, error) {
	d := savedFile{path: repoPath}
	if content == nil {
		return d, nil
	}
	if err := s.checkFilters(repoPath, content); err != nil {
		return d, err
	}
	var err error
	if d.content, err = s.withLineEnds(repoPath, content); err != nil {
		return d, err
	}
	info, err := s.tree().Stat(repoPath)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return d, nil
	}
	if err != nil {
		return d, fmt.Errorf("looking at what is to be saved: %w", err)
	}
	if s.config.isNotFalse("core.filemode") {
		d.mode = modeFile
		if info.Mode()&0o100 != 0 {
			d.mode = modeExecutable
		}
	}
	return d, nil
}

// write puts the objects of the new state into the repository, where nothing
// points to them yet.
func (d *saving) write(ctx context.Context) error {
	s := d.store
	var base plumbing.Hash
	if !d.parent.IsZero() {
		c, err := s.readCommit(d.parent)
		if err != nil {
			return fmt.Errorf("reading the last saved state: %w", err)
		}
		base = c.tree
	}
	if err := d.addOwnAttributes(base); err != nil {
		return err
	}
	if err := d.writeFiles(ctx); err != nil {
		return err
	}
	var err error
	if d.tree, err = s.editTree(base, d.files); err != nil {
		return err
	}
	if d.tree == base {
		return errors.New("there is nothing to save: all of it is in the last saved state")
	}
	content, err := d.commit(ctx)
	if err != nil {
		return err
	}
	d.id, err = s.put(plumbing.CommitObject, content)
	return err
}

// addOwnAttributes adds the .gitattributes of the range's folder if it is the
// one that Init wrote and the last saved state has none.
func (d *saving) addOwnAttributes(base plumbing.Hash) error {
	s := d.store
	own := s.prefix + AttributesFile
	if slices.ContainsFunc(d.files, func(f savedFile) bool { return f.path == own }) {
		return nil
	}
	raw, err := s.files().Read(AttributesFile)
	if err != nil || string(raw) != ownAttributes {
		return nil //nolint:nilerr // there is none of ours to add
	}
	if _, found, err := s.lookUp(base, own); err != nil || found {
		return err
	}
	f, err := s.savedFile(own, raw)
	d.files = append(d.files, f)
	return err
}

// lookUp finds the entry of a path in a tree.
func (s *Store) lookUp(tree plumbing.Hash, repoPath string) (treeEntry, bool, error) {
	dir, name := path.Split(repoPath)
	reader := newTreeReader(s.objects, dir)
	folder, err := reader.folder(tree)
	if err != nil {
		return treeEntry{}, false, err
	}
	entries, err := reader.entries(folder)
	at := slices.IndexFunc(entries, func(e treeEntry) bool { return e.name == name })
	if at < 0 {
		return treeEntry{}, false, err
	}
	return entries[at], true, nil
}

// writeFiles writes the files' content.
func (d *saving) writeFiles(ctx context.Context) (err error) {
	for i := range d.files {
		f := &d.files[i]
		if err := ctx.Err(); err != nil {
			return err
		}
		if f.content == nil {
			continue
		}
		if f.blob, err = d.store.put(plumbing.BlobObject, f.content); err != nil {
			return err
		}
	}
	return nil
}

// commit is the content of the new commit, signed where git's commit.gpgSign asks
// for it. A commit holds its signature among its headers, with a blank before each
// line but the first, and the signature is of the rest.
func (d *saving) commit(ctx context.Context) ([]byte, error) {
	header := fmt.Sprintf("tree %s\n", d.tree)
	if !d.parent.IsZero() {
		header += fmt.Sprintf("parent %s\n", d.parent)
	}
	header += fmt.Sprintf("author %s\ncommitter %s\n", d.signed.author, d.signed.committer)
	if !d.signs {
		return []byte(header + "\n" + d.message), nil
	}
	signing, err := d.store.signing("or run `git config commit.gpgSign false`")
	if err != nil {
		return nil, err
	}
	signature, err := signing.sign(ctx, []byte(header+"\n"+d.message), d.signed.committer.who)
	if err != nil {
		return nil, fmt.Errorf("nothing is saved, since git is told to sign (commit.gpgSign): %w", err)
	}
	lines := strings.ReplaceAll(strings.TrimRight(string(signature), "\n"), "\n", "\n ")
	return []byte(header + "gpgsig " + lines + "\n\n" + d.message), nil
}
