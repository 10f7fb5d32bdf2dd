package gitstore

import (
	"fmt"
	"io"
	"os"
	"syscall"
)

// Git's own files come with whatever brought the repository: a pipe in the place of
// one would be waited for without end, a device or a huge file read into memory.
const (
	mostText = 1 << 20   // of settings, links and single refs
	mostList = 128 << 20 // of what grows with the repository; git's index of a million files
)

// openOwn opens a file of git's, which must be an ordinary one, of at most so many
// bytes.
func openOwn(path string, most int64) (*os.File, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &os.PathError{Op: "read", Path: path, Err: syscall.EISDIR}
	case !info.Mode().IsRegular() && path != os.DevNull:
		return nil, fmt.Errorf("%s is no ordinary file, as all of git's own are: take it out", path)
	case info.Size() > most:
		return nil, fmt.Errorf("%s has %d bytes, and more than %d are not read", path, info.Size(), most)
	}
	return os.Open(path)
}

// readOwn gives the content of a file of git's.
func readOwn(path string, most int64) ([]byte, error) {
	f, err := openOwn(path, most)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most))
}
