package gitstore

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/go-git/go-git/v5/plumbing"
)

// A ref that points to a ref that points to a ref ... is followed so far.
const maxRefDepth = 5

// refs is every branch and tag with what it points to.
type refs struct {
	ids   map[string]plumbing.Hash // by full name, refs/heads/main
	notes []error
}

// readRefs reads branches, remote-tracking branches and tags, loose and packed.
// A ref that cannot be read becomes a note.
func (p place) readRefs() (*refs, error) {
	packed, err := p.readPackedRefs()
	if err != nil {
		return nil, err
	}
	r := &refs{ids: packed}
	links := map[string]string{}
	for _, dir := range []string{"refs/heads", "refs/remotes", "refs/tags"} {
		if err := p.readLooseRefs(dir, r, links); err != nil {
			return nil, err
		}
	}
	for name, target := range links {
		// A link to a branch that is gone is common after a rename on the
		// other side; git passes over it as well.
		if id, ok := r.follow(target, links); ok {
			r.ids[name] = id
		}
	}
	return r, nil
}

func (r *refs) follow(name string, links map[string]string) (plumbing.Hash, bool) {
	for range maxRefDepth {
		next, ok := links[name]
		if !ok {
			break
		}
		name = next
	}
	id, ok := r.ids[name]
	return id, ok
}

func (p place) readPackedRefs() (map[string]plumbing.Hash, error) {
	ids := map[string]plumbing.Hash{}
	raw, err := readOwn(filepath.Join(p.commonDir, "packed-refs"), mostList)
	if errors.Is(err, fs.ErrNotExist) {
		return ids, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading branches and tags: %w", err)
	}
	for line := range strings.Lines(string(raw)) {
		// Comments begin with #, and ^ is what the tag of the line above is on.
		id, name, ok := strings.Cut(strings.TrimRight(line, "\r\n"), " ")
		if h, valid := parseID(id); ok && valid {
			ids[name] = h
		}
	}
	return ids, nil
}

// readLooseRefs reads the refs under dir, each its own file, into r, and those
// that point to another ref into links.
func (p place) readLooseRefs(dir string, r *refs, links map[string]string) error {
	base := filepath.Join(p.commonDir, filepath.FromSlash(dir))
	return filepath.WalkDir(base, func(path string, entry fs.DirEntry, err error) error {
		if errors.Is(err, fs.ErrNotExist) {
			return nil // packed or removed meanwhile
		}
		if err != nil {
			return fmt.Errorf("reading branches and tags: %w", err)
		}
		if entry.IsDir() || strings.HasSuffix(path, lockSuffix) {
			return nil
		}
		rel, err := filepath.Rel(p.commonDir, path)
		if err != nil {
			return err
		}
		name := filepath.ToSlash(rel)
		id, link, err := readRefFile(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			delete(r.ids, name) // the packed value is out of date
			r.notes = append(r.notes, fmt.Errorf("%s is broken and was left out: %w", name, err))
		case link != "":
			links[name] = link
		default:
			r.ids[name] = id
		}
		return nil
	})
}

// readRefFile reads the file of one ref: an identity or the name of another ref.
// With core.preferSymlinkRefs the name is that of a symbolic link.
func readRefFile(path string) (id plumbing.Hash, link string, err error) {
	if target, err := os.Readlink(path); err == nil && isRefName(target) {
		return id, target, nil
	}
	raw, err := readOwn(path, mostText)
	if err != nil {
		return id, "", err
	}
	text := string(bytes.TrimSpace(raw))
	if target, ok := strings.CutPrefix(text, "ref:"); ok {
		if target = strings.TrimSpace(target); !isRefName(target) {
			return id, "", fmt.Errorf("%s leads to %q, which is no name of a branch", path, target)
		}
		return id, target, nil
	}
	id, ok := parseID(text)
	if !ok {
		return id, "", fmt.Errorf("%s holds no identity", path)
	}
	return id, "", nil
}

// readRef gives what one ref points to, following links to the ref that a new
// value is to be written to. A ref that is not there has the zero identity.
func (p place) readRef(name string) (id plumbing.Hash, last string, err error) {
	for range maxRefDepth {
		id, link, err := readRefFile(p.refPath(name))
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.EISDIR) {
			packed, err := p.readPackedRefs()
			return packed[name], name, err
		}
		if err != nil {
			return id, name, fmt.Errorf("reading %s: %w", name, err)
		}
		if link == "" {
			return id, name, nil
		}
		name = link
	}
	return id, name, fmt.Errorf("reading %s: too many refs point to each other", name)
}

// isRefName reports whether a name is that of a ref, whose file lies in the
// repository. See git-check-ref-format(1).
func isRefName(name string) bool {
	return name == headRef || strings.HasPrefix(name, "refs/") && filepath.IsLocal(filepath.FromSlash(name)) &&
		plumbing.ReferenceName(name).Validate() == nil
}

// refPath is the file of a ref: HEAD is each working tree's own.
func (p place) refPath(name string) string {
	dir := p.commonDir
	if name == headRef {
		dir = p.gitDir
	}
	return filepath.Join(dir, filepath.FromSlash(name))
}

const headRef = "HEAD"

// parseID reads an identity in hexadecimal.
func parseID(text string) (plumbing.Hash, bool) {
	var h plumbing.Hash
	var digits [2 * len(h)]byte
	if len(text) != len(digits) {
		return h, false
	}
	copy(digits[:], text)
	_, err := hex.Decode(h[:], digits[:])
	return h, err == nil
}
