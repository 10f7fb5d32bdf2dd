package seen

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// Release is a release as it was seen.
type Release struct {
	Place string `json:"place"` // the folder of the range
	Root  string `json:"root"`  // identity of the first saved state of its history; "" where that was made there, and is a copy of no other
	Tag   string `json:"tag"`   // skerry-10/2025
	ID    string `json:"id"`    // identity of the tag and all that it says
	State string `json:"state"` // identity of the saved state it was on
	Day   string `json:"day"`   // on which it was seen first
}

// Book is what is remembered. It is not for concurrent use; several programs may
// have the same book open at once.
type Book struct {
	path string
	list []Release
}

// A book larger than this is no book of ours.
const mostBytes = 64 << 20

// Open reads the book in a file, which need not be there yet. Lines that make no
// sense are passed over.
func Open(path string) (*Book, error) {
	b := &Book{path: path}
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return b, nil
	}
	if err == nil && (!info.Mode().IsRegular() || info.Size() > mostBytes) {
		err = errors.New("it is no such file; move it away")
	}
	var raw []byte
	if err == nil {
		raw, err = os.ReadFile(path)
	}
	if err != nil {
		return nil, fmt.Errorf("reading which releases were seen before, %s: %w", path, err)
	}
	b.list = parse(raw)
	return b, nil
}

func parse(raw []byte) []Release {
	var list []Release
	lines := bufio.NewScanner(bytes.NewReader(raw))
	lines.Buffer(nil, len(raw)+1)
	for lines.Scan() {
		var r Release
		if json.Unmarshal(lines.Bytes(), &r) == nil && r.Tag != "" && r.ID != "" {
			list = append(list, r)
		}
	}
	return list
}

// written are releases as parse reads them.
func written(list []Release) []byte {
	var b bytes.Buffer
	lines := json.NewEncoder(&b)
	for _, r := range list {
		_ = lines.Encode(r) // of texts alone, into memory
	}
	return b.Bytes()
}

// Here are the releases seen at a place, and those of the same history seen at
// others before they were seen here; each as it was seen first. A history that was
// made at the place was not taken from another.
func (b *Book) Here(place, root string) (here, elsewhere []Release) {
	known := map[string]bool{}
	for _, r := range b.list {
		key := r.Place + "\x00" + r.Tag
		if known[key] {
			continue
		}
		known[key] = true
		switch {
		case r.Place == place:
			here = append(here, r)
			if r.Root == "" {
				root = ""
			}
		case root != "" && r.Root == root && !known[place+"\x00"+r.Tag]:
			elsewhere = append(elsewhere, r)
		}
	}
	if root == "" {
		elsewhere = nil
	}
	return here, elsewhere
}

// Add remembers releases seen at a place that were not seen there before.
func (b *Book) Add(releases []Release) error {
	known := map[string]bool{}
	for _, r := range b.list {
		known[r.Place+"\x00"+r.Tag] = true
	}
	fresh := slices.DeleteFunc(slices.Clone(releases), func(r Release) bool { return known[r.Place+"\x00"+r.Tag] })
	if len(fresh) == 0 {
		return nil
	}
	b.list = append(b.list, fresh...)
	lines := written(fresh)
	return b.alone(func() error {
		// A book that is too large would not be read again, with all that is in it.
		if info, err := os.Stat(b.path); err == nil && info.Size()+int64(len(lines)) > mostBytes {
			return fmt.Errorf("it is full, with %d bytes: move it away to begin a new one", info.Size())
		}
		file, err := os.OpenFile(b.path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
		if err != nil {
			return err
		}
		_, err = file.Write(lines)
		return errors.Join(err, file.Close())
	})
}

// Forget forgets all that was seen at a place of one release, or of all where none
// is named, and says how many were forgotten.
func (b *Book) Forget(place, tag string) (forgotten int, err error) {
	err = b.alone(func() error {
		raw, err := os.ReadFile(b.path)
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		all := parse(raw)
		b.list = slices.DeleteFunc(slices.Clone(all), func(r Release) bool { return r.Place == place && (tag == "" || r.Tag == tag) })
		forgotten = len(all) - len(b.list)
		return replace(b.path, written(b.list))
	})
	return forgotten, err
}

// alone does something to the book while no other program does.
func (b *Book) alone(do func() error) error {
	err := os.MkdirAll(filepath.Dir(b.path), 0o700)
	if err == nil {
		var release func()
		if release, err = lockedfile.MutexAt(b.path + ".lock").Lock(); err == nil {
			defer release()
			err = do()
		}
	}
	if err != nil {
		return fmt.Errorf("remembering which releases were seen, in %s: %w", b.path, err)
	}
	return nil
}

// replace puts other content into a file, whole.
func replace(path string, content []byte) error {
	draft := path + ".new"
	if err := os.WriteFile(draft, content, 0o600); err != nil {
		return err
	}
	return os.Rename(draft, path)
}
