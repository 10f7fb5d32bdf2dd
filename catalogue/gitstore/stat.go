package gitstore

import (
	"encoding/binary"
	"io/fs"
	"time"
)

// fileStat is what git's index remembers of a file on disk, to see without
// reading it that it has not been changed since. The zero one makes git read it.
type fileStat struct {
	changed, modified  time.Time
	device, inode      uint32
	owner, group, size uint32
}

func newFileStat(info fs.FileInfo) fileStat {
	s := fileStat{modified: info.ModTime(), size: uint32(info.Size())}
	s.addSystem(info)
	return s
}

// append writes the fields of an index entry from the times to the size.
func (s fileStat) append(out []byte, mode uint32) []byte {
	for _, t := range []time.Time{s.changed, s.modified} {
		var sec, nsec uint32
		if !t.IsZero() {
			sec, nsec = uint32(t.Unix()), uint32(t.Nanosecond())
		}
		out = binary.BigEndian.AppendUint32(out, sec)
		out = binary.BigEndian.AppendUint32(out, nsec)
	}
	for _, v := range []uint32{s.device, s.inode, mode, s.owner, s.group, s.size} {
		out = binary.BigEndian.AppendUint32(out, v)
	}
	return out
}
