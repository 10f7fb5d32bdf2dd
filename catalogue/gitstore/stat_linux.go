package gitstore

import (
	"io/fs"
	"syscall"
	"time"
)

// addSystem adds what only the system's own call tells.
func (s *fileStat) addSystem(info fs.FileInfo) {
	sys, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	s.changed = time.Unix(int64(sys.Ctim.Sec), int64(sys.Ctim.Nsec))
	s.device, s.inode = uint32(sys.Dev), uint32(sys.Ino)
	s.owner, s.group = sys.Uid, sys.Gid
}
