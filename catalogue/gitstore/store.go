package gitstore

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
)

// The file that marks the folder of a range.
const rangeFile = "range.yaml"

// Errors that Open gives, wrapped with the folder and what to do about it.
var (
	errNoRange      = errors.New("this is no range")
	ErrNoRepository = errors.New("this range is in no git repository")
	errUnsupported  = errors.New("rodlore cannot read this kind of git repository")
	errForeign      = errors.New("this range is not yours")
)

// Store is a range in a git repository. Its methods may be called from several
// goroutines at once.
type Store struct {
	place
	config   settings
	objects  *objects
	cache    *cache.Folder // of what was read before; nil where nothing is kept
	disk     disk
	patience time.Duration // with locks of other git programs
	cut      error         // a save or release that was found to be cut short, told in the log

	wholeLock sync.Mutex
	whole     map[plumbing.Hash]bool // what Intact found to be what it is called
}

var (
	_ catalogue.Source  = (*Store)(nil)
	_ catalogue.Witness = (*Store)(nil)
)

// Open finds the range around dir, which may be any folder inside it, and the
// repository around the range, of which the range may be a sub-folder.
func Open(dir string) (*Store, error) {
	dir, err := physical(dir)
	if err != nil {
		return nil, err
	}
	root, ok := findUp(dir, isRange)
	if !ok {
		return nil, noRange(dir)
	}
	return openAt(root)
}

// openAt opens the store of the range whose folder is root.
func openAt(root string) (*Store, error) {
	p, err := locate(root)
	if err != nil {
		return nil, err
	}
	if err := p.checkOwner(); err != nil {
		return nil, err
	}
	config, err := readSettings(p)
	if err != nil {
		return nil, err
	}
	if err := config.check(p); err != nil {
		return nil, err
	}
	objects, err := openObjects(p.commonDir)
	if err != nil {
		return nil, fmt.Errorf("reading the repository of %s: %w", root, err)
	}
	s := &Store{place: p, config: config, objects: objects, disk: osDisk{}, patience: lockPatience, whole: map[plumbing.Hash]bool{}}
	if exists(s.pendingPath()) {
		s.cut = s.healQuietly()
	}
	return s, nil
}

// healQuietly finishes a save that was cut short, and says so. Where that cannot
// be done, such as in a repository that can only be read, the next save says so.
func (s *Store) healQuietly() (cut error) {
	release, err := s.alone()
	if err != nil {
		return nil
	}
	defer release()
	cut, _ = s.finishPending()
	return cut
}

// noRange says why no range was found around dir.
func noRange(dir string) error {
	if isBare(dir) {
		return fmt.Errorf("%w: %s is a bare git repository, which has no working files: clone it and work in the clone",
			errUnsupported, dir)
	}
	err := fmt.Errorf("%w: there is no %s in %s or any folder above it", errNoRange, rangeFile, dir)
	if top, ok := findUp(dir, hasRepository); ok {
		if p, perr := locate(top); perr == nil && p.checkOwner() == nil {
			if config, cerr := readSettings(p); cerr == nil && config.isTrue("core.sparsecheckout") {
				return fmt.Errorf("%w; the repository is a sparse checkout that may leave it out: run `git sparse-checkout disable`", err)
			}
		}
	}
	return err
}

// Init makes dir the folder of a range: in a new repository with the branch
// main, or in the repository that dir is in already. It adds a .gitattributes
// that keeps the ends of lines the same on every machine, unless there is one.
// The caller writes range.yaml.
func Init(dir string) (*Store, error) {
	return begin(dir, IsServed)
}

// IsServed reports whether a folder, which need not be there, is in a git
// repository.
func IsServed(dir string) bool {
	_, ok := findUp(dir, hasRepository)
	return ok
}

// Create is Init with a repository of the range's own, also where dir lies in
// another one.
func Create(dir string) (*Store, error) { return begin(dir, hasRepository) }

// begin makes dir a range's folder, with a repository of its own unless there
// is one to be used.
func begin(dir string, served func(dir string) bool) (*Store, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("making the range's folder: %w", err)
	}
	dir, err := physical(dir)
	if err != nil {
		return nil, err
	}
	if bare, ok := findUp(dir, isBare); ok {
		return nil, fmt.Errorf("%w: %s is git's own folder or a bare repository: make the range elsewhere", errUnsupported, bare)
	}
	if !served(dir) {
		if err := createRepository(dir); err != nil {
			return nil, fmt.Errorf("making a git repository in %s: %w", dir, err)
		}
	}
	s, err := openAt(dir)
	if err != nil {
		return nil, err
	}
	err = s.disk.create(filepath.Join(dir, AttributesFile), []byte(ownAttributes), 0o666)
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return nil, errors.Join(fmt.Errorf("writing %s: %w", AttributesFile, err), s.Close())
	}
	return s, nil
}

// Root is the folder of range.yaml, absolute and free of symbolic links.
func (s *Store) Root() string { return s.root }

// Close lets go of the files that reading keeps open.
func (s *Store) Close() error { return s.objects.Close() }
