package working

import (
	"errors"
	"io/fs"
	"os"

	"github.com/rogpeppe/go-internal/lockedfile"
)

// holdFile is the file by which a folder is held.
const holdFile = ".adding"

// Hold makes a folder where it is missing, and keeps other programs that hold it
// out until it is released: of two that read, add and write at once, one would
// lose what the other wrote. The system ends the hold of a program that is
// killed, and the next one takes over what it left. A folder that was missing goes
// again at the release if nothing was put into it.
func (d Dir) Hold(folder string) (release func(), err error) {
	_, missing := d.Stat(folder)
	name := folder + "/" + holdFile
	lock := d.Within(name)
	for {
		if err := d.makeFolder(folder); err != nil {
			return nil, err
		}
		// A link would have its file made where it leads.
		if _, err := d.Stat(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		f, err := lockedfile.OpenFile(lock, os.O_WRONLY|os.O_CREATE, 0o666)
		if errors.Is(err, fs.ErrNotExist) {
			continue // whoever held it before has taken the folder away
		}
		if err != nil {
			return nil, err
		}
		release := func() {
			_ = os.Remove(lock) // where it stays, the next one takes it over
			_ = f.Close()
			if errors.Is(missing, fs.ErrNotExist) {
				_ = os.Remove(d.Within(folder)) // which does nothing where something is in it
			}
		}
		if isAt(f, lock) {
			return release, d.sweep(folder)
		}
		// Whoever held it before has taken the file away: it keeps nobody off.
		_ = f.Close()
	}
}

// isAt reports whether an open file still stands at a path.
func isAt(f *lockedfile.File, path string) bool {
	opened, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := os.Lstat(path)
	return err == nil && os.SameFile(opened, there)
}
