package working

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"syscall"
	"time"
)

// passing is a name beside a file or folder for what is to take its place. It
// says who is writing, so that what a program left that was killed can be told
// from what another is at.
func passing(file string) string {
	file = filepath.Clean(file) // "pages/" lies beside itself, not in itself
	name := fmt.Sprintf(".%s-%s-%s%08x-%d", filepath.Base(file), machine(), thisRun, rand.Uint32(), os.Getpid())
	return filepath.Join(filepath.Dir(file), name)
}

var passingName = regexp.MustCompile(`^\..+-([0-9a-f]{8})-([0-9a-f]{8})[0-9a-f]{8}-([0-9]+)$`)

// thisRun tells a run of the program from one before that had the same number,
// as each has the number 1 in a container.
var thisRun = fmt.Sprintf("%08x", rand.Uint32())

// machine tells this computer from others that write into the same folder over
// a network: a process of theirs cannot be asked after.
var machine = sync.OnceValue(func() string {
	name, _ := os.Hostname()
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(name)))
})

// Whatever is written is in its place long before this; clocks differ by less.
const longest = 24 * time.Hour

// isLeft reports whether something has one of passing's names whose program has
// ended: it was left behind. Programs on other computers, which write into the same
// folder over a network, have ended where it is a day old.
func isLeft(e fs.DirEntry) bool {
	parts := passingName.FindStringSubmatch(e.Name())
	if parts == nil {
		return false
	}
	if parts[1] != machine() {
		info, err := e.Info()
		return err == nil && time.Since(info.ModTime()) > longest
	}
	pid, err := strconv.Atoi(parts[3])
	if pid == os.Getpid() {
		return parts[2] != thisRun
	}
	return err == nil && !runs(pid)
}

// runs reports whether there is a process of that number.
func runs(pid int) bool {
	process, err := os.FindProcess(pid)
	if err != nil {
		return false // only where the system knows at once
	}
	defer func() { _ = process.Release() }()
	err = process.Signal(syscall.Signal(0))
	return !errors.Is(err, os.ErrProcessDone)
}

// sweep takes away what killed programs left in a folder.
func (d Dir) sweep(folder string) error {
	return d.open(folder+"/.", func(root *os.Root) error { return sweep(root, folder) })
}

func sweep(root *os.Root, folder string) error {
	entries, err := readFolder(root, folder)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if isLeft(e) && !broughtBack(root, folder, e.Name()) {
			err = errors.Join(err, root.RemoveAll(filepath.FromSlash(folder+"/"+e.Name())))
		}
	}
	return err
}
