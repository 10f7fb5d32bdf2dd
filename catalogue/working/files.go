package working

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// The files of a range: these in its folder, and the specs and records in these
// folders of it.
var (
	RootFiles = [...]string{"materials.yaml", "parts.yaml", "range.yaml", "words.yaml"}
	Folders   = [...]string{"bench", "builds", "heard", "models", "notes", "pictures", "reviews"}
)

// PictureFolder is the one of the Folders that holds photographs and a logo.
const PictureFolder = "pictures"

const specSuffix = ".yaml"

var pictureSuffixes = []string{".jpg", ".jpeg", ".png", ".svg"}

// IsKept reports whether a file of that name in one of the folders is the
// range's. Names with a leading dot are what editors leave behind.
func IsKept(folder, name string) bool {
	end := path.Ext(name)
	if folder == PictureFolder {
		return name[0] != '.' && slices.Contains(pictureSuffixes, strings.ToLower(end))
	}
	return end == specSuffix && name[0] != '.'
}

// IsRangeFile reports whether a path in the range is one of its files.
func IsRangeFile(p string) bool {
	dir, name := path.Split(p)
	if dir == "" {
		return slices.Contains(RootFiles[:], name)
	}
	folder := strings.TrimSuffix(dir, "/")
	return name != "" && slices.Contains(Folders[:], folder) && IsKept(folder, name)
}

// Obstacle is something in the place of one of the range's files or folders
// that is none: a symbolic link, a pipe. It is passed over, as the history
// passes over it.
type Obstacle struct {
	Path string
	Why  string // goes after the path
}

// List gives the range's files as they stand, sorted, and what stands in the way
// of others. A file that cannot be read is listed: whoever reads it will be told
// why.
func (d Dir) List() (files []string, obstacles []Obstacle, err error) {
	err = d.open(".", func(root *os.Root) error {
		for _, name := range RootFiles {
			info, err := root.Lstat(name)
			switch {
			case errors.Is(err, fs.ErrNotExist):
			case err == nil && unusableFile(info) != "":
				obstacles = append(obstacles, Obstacle{name, unusableFile(info)})
			default:
				files = append(files, name)
			}
		}
		for _, folder := range Folders {
			if err := listFolder(root, folder, &files, &obstacles); err != nil {
				return err
			}
		}
		return nil
	})
	slices.Sort(files)
	return files, obstacles, err
}

func listFolder(root *os.Root, folder string, files *[]string, obstacles *[]Obstacle) error {
	info, err := root.Lstat(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if why := unusableFolder(info); why != "" {
		*obstacles = append(*obstacles, Obstacle{folder, why})
		return nil
	}
	entries, err := readFolder(root, folder)
	for _, e := range entries {
		name := folder + "/" + e.Name()
		switch {
		case !IsKept(folder, e.Name()):
			switch end := strings.ToLower(path.Ext(e.Name())); {
			case folder == PictureFolder && e.Name()[0] != '.':
				*obstacles = append(*obstacles, Obstacle{name, "is passed over: save pictures as .jpg, .png or .svg, or take it out"})
			case end == ".yml" || end == ".yaml":
				*obstacles = append(*obstacles, Obstacle{name, `is passed over, for its name does not end in ".yaml": rename it, or take it out`})
			}
		case e.Type().IsRegular():
			*files = append(*files, name)
		default:
			if info, err := e.Info(); err == nil { // else it is gone again
				*obstacles = append(*obstacles, Obstacle{name, unusableFile(info)})
			}
		}
	}
	return err
}

// readFolder lists what is in a folder.
func readFolder(root *os.Root, folder string) ([]fs.DirEntry, error) {
	f, err := root.Open(filepath.FromSlash(folder))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.ReadDir(-1)
}

// Blocked tells of a name that is no file, though something is there.
func (d Dir) Blocked(name string) []Obstacle {
	var why *unusableError
	if _, err := d.Stat(name); errors.As(err, &why) && why.path == name {
		return []Obstacle{{why.path, why.why}}
	}
	return nil
}
