package catalogue

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rodlore/catalogue/working"
)

// ErrNoHistory is returned where a range without a repository is to be saved.
var ErrNoHistory = errors.New("the range keeps no history")

// Folder is the Source of a range that is in no repository: its files as they
// stand, and no history.
type Folder struct {
	root string
}

// OpenFolder finds the range around dir, which may be any folder inside it.
func OpenFolder(dir string) (*Folder, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	for at := dir; ; at = filepath.Dir(at) {
		if info, err := os.Stat(filepath.Join(at, rangeFile)); err == nil && info.Mode().IsRegular() {
			return &Folder{at}, nil
		}
		if at == filepath.Dir(at) {
			return nil, fmt.Errorf("there is no %s in %s or any folder above it", rangeFile, dir)
		}
	}
}

var _ Source = (*Folder)(nil)

// Root is the folder of range.yaml.
func (f *Folder) Root() string { return f.root }

// Log is empty.
func (f *Folder) Log(context.Context) (*Log, error) { return &Log{}, nil }

// Blob finds nothing, since nothing was saved.
func (f *Folder) Blob(_ context.Context, id string) ([]byte, error) {
	return nil, fmt.Errorf("content %s: %w", id, fs.ErrNotExist)
}

// Working gives the content of a file of the range.
func (f *Folder) Working(path string) ([]byte, error) { return working.At(f.root).Read(path) }

// Ignored is false: there is nothing that would say so.
func (f *Folder) Ignored(string) (bool, error) { return false, nil }

// Refused is nil: nothing is saved here.
func (f *Folder) Refused(string) error { return nil }

// WorkingFiles lists the range's files, sorted.
func (f *Folder) WorkingFiles() ([]string, error) {
	files, _, err := working.At(f.root).List()
	return files, err
}

// Obstacles lists what stands in the place of the range's files and is none.
func (f *Folder) Obstacles() ([]working.Obstacle, error) {
	_, obstacles, err := working.At(f.root).List()
	return obstacles, err
}

// Save refuses.
func (f *Folder) Save(context.Context, Save) (string, error) { return "", f.noHistory() }

// Tag refuses.
func (f *Folder) Tag(context.Context, Tag) error { return f.noHistory() }

func (f *Folder) noHistory() error {
	return Advise(MakeHistory, []string{f.root}, "%w", ErrNoHistory)
}
