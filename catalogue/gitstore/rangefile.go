package gitstore

import (
	"path"
	"slices"
	"strings"
)

// The files of a range: these at its root, and the specs in these folders.
var (
	rootFiles = [...]string{"materials.yaml", "parts.yaml", rangeFile, "words.yaml"}
	folders   = [...]string{"bench", "builds", "heard", "models", "reviews"}
)

const specSuffix = ".yaml"

// isSpec reports whether a file of that name in one of the folders is the
// range's. Names with a leading dot are what editors leave behind.
func isSpec(name string) bool {
	return strings.HasSuffix(name, specSuffix) && name[0] != '.' && name != specSuffix
}

// isRangeFile reports whether a path in the range is one of its files.
func isRangeFile(p string) bool {
	dir, name := path.Split(p)
	if dir == "" {
		return slices.Contains(rootFiles[:], name)
	}
	return slices.Contains(folders[:], strings.TrimSuffix(dir, "/")) && isSpec(name)
}
