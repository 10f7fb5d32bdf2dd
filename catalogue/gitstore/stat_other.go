//go:build !linux

package gitstore

import "io/fs"

// addSystem leaves the fields empty that differ by system. Git then reads the
// file once and fills them in.
func (s *fileStat) addSystem(fs.FileInfo) {}
