package gitstore

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"github.com/go-git/go-git/v5/plumbing"
)

// window reads a file from any place on, a stretch at a time, and keeps the
// stretch: neighbours in a pack are mostly read one after the other.
type window struct {
	file  *os.File
	bytes [16 << 10]byte
	start int64 // of the bytes in the file
	end   int   // of what is filled
	at    int   // next to be read
}

func (w *window) seek(file *os.File, offset int64) {
	if file == w.file && offset >= w.start && offset < w.start+int64(w.end) {
		w.at = int(offset - w.start)
		return
	}
	w.file, w.start, w.end, w.at = file, offset, 0, 0
}

// fill reads the next stretch once the last is used up.
func (w *window) fill() error {
	if w.at < w.end {
		return nil
	}
	w.start += int64(w.end)
	n, err := w.file.ReadAt(w.bytes[:], w.start)
	w.end, w.at = n, 0
	if n > 0 {
		return nil
	}
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}

func (w *window) ReadByte() (byte, error) {
	if err := w.fill(); err != nil {
		return 0, err
	}
	b := w.bytes[w.at]
	w.at++
	return b, nil
}

func (w *window) Read(p []byte) (int, error) {
	if err := w.fill(); err != nil {
		return 0, err
	}
	n := copy(p, w.bytes[w.at:w.end])
	w.at += n
	return n, nil
}

// inflater unpacks what zlib packed, with one set of tables for all.
type inflater struct{ z io.ReadCloser }

// inflate unpacks exactly size bytes, and checks the sum behind them.
func (f *inflater) inflate(r io.Reader, size int64) ([]byte, error) {
	if err := f.reset(r); err != nil {
		return nil, err
	}
	content, err := f.take(size)
	if err != nil {
		return nil, err
	}
	return content, f.end()
}

// take unpacks the next size bytes. A large size may be damage, so memory for it
// is not asked for before there is something to put into it.
func (f *inflater) take(size int64) ([]byte, error) {
	if size > 1<<20 {
		var content bytes.Buffer
		_, err := io.CopyN(&content, f.z, size)
		return content.Bytes(), err
	}
	content := make([]byte, size)
	_, err := io.ReadFull(f.z, content)
	return content, err
}

func (f *inflater) reset(r io.Reader) (err error) {
	if f.z == nil {
		f.z, err = zlib.NewReader(r)
		return err
	}
	return f.z.(zlib.Resetter).Reset(r, nil)
}

// end checks that there is no more, which is when the sum is checked.
func (f *inflater) end() error {
	var more [1]byte
	n, err := io.ReadFull(f.z, more[:])
	if n > 0 {
		return errors.New("it is longer than it says")
	}
	if err != io.EOF {
		return err
	}
	return nil
}

func loosePath(dir string, id plumbing.Hash) string {
	name := id.String()
	return filepath.Join(dir, name[:2], name[2:])
}

// readLoose reads an object from its own file.
func (o *objects) readLoose(id plumbing.Hash, zlib *inflater) (plumbing.ObjectType, []byte, error) {
	for _, dir := range o.dirs {
		raw, err := os.ReadFile(loosePath(dir, id))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return 0, nil, fmt.Errorf("cannot be read: %w", err)
		}
		kind, content, err := parseLoose(raw, zlib)
		if err != nil {
			return 0, nil, fmt.Errorf("is damaged in its file: %w", err)
		}
		return kind, content, nil
	}
	return 0, nil, errMissing
}

// The header of a loose object, "commit 123\0", is no longer than this.
const maxLooseHeader = 32

// parseLoose unpacks a loose object: a header and the content, packed together.
func parseLoose(raw []byte, f *inflater) (plumbing.ObjectType, []byte, error) {
	if err := f.reset(bytes.NewReader(raw)); err != nil {
		return 0, nil, err
	}
	head := make([]byte, maxLooseHeader)
	n, err := io.ReadFull(f.z, head)
	if err != nil && err != io.ErrUnexpectedEOF {
		return 0, nil, err
	}
	line, begun, ok := bytes.Cut(head[:n], []byte{0})
	name, number, okToo := bytes.Cut(line, []byte{' '})
	size, err := strconv.ParseInt(string(number), 10, 64)
	kind, kindErr := plumbing.ParseObjectType(string(name))
	if !ok || !okToo || err != nil || kindErr != nil || size < int64(len(begun)) || size > maxObject {
		return 0, nil, errors.New("its header makes no sense")
	}
	rest, err := f.take(size - int64(len(begun)))
	if err != nil {
		return 0, nil, err
	}
	return kind, append(begun, rest...), f.end()
}
