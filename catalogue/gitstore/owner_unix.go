//go:build unix

package gitstore

import (
	"io/fs"
	"os"
	"strconv"
	"syscall"
)

// isOwn reports whether a file or folder is the user's own. Root's own are those
// of whoever became root by sudo too, as for git. What is not there is nobody's
// and harms nobody.
func isOwn(path string) bool {
	info, err := os.Lstat(path)
	if err != nil {
		return os.IsNotExist(err)
	}
	owner, ok := ownerOf(info)
	return !ok || ownedBy(owner, os.Geteuid(), os.Getenv("SUDO_UID"))
}

func ownerOf(info fs.FileInfo) (uid int, ok bool) {
	sys, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, false
	}
	return int(sys.Uid), true
}

// ownedBy is the rule: sudo is the SUDO_UID of the environment.
func ownedBy(owner, user int, sudo string) bool {
	if owner == user {
		return true
	}
	by, err := strconv.Atoi(sudo)
	return user == 0 && err == nil && owner == by
}
