package gitstore

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// place is where a range and its repository lie; all paths are absolute.
type place struct {
	root      string // folder of range.yaml
	top       string // top of the working tree
	prefix    string // of a file's path in the repository before its path in the range: "" or "a/b/"
	gitDir    string // this working tree's own: HEAD, index
	commonDir string // shared by linked working trees: objects, refs, config
}

// locate finds the repository around the range's folder.
func locate(root string) (place, error) {
	top, ok := findUp(root, hasRepository)
	if !ok {
		return place{}, fmt.Errorf("%w: %s and the folders above it have no .git: run `git init -b main` in it",
			ErrNoRepository, root)
	}
	gitDir, err := resolveGitDir(top)
	if err != nil {
		return place{}, err
	}
	commonDir, err := resolveCommonDir(gitDir)
	if err != nil {
		return place{}, err
	}
	rel, err := filepath.Rel(top, root)
	if err != nil {
		return place{}, err
	}
	prefix := ""
	if rel != "." {
		prefix = filepath.ToSlash(rel) + "/"
	}
	return place{root: root, top: top, prefix: prefix, gitDir: gitDir, commonDir: commonDir}, nil
}

// resolveGitDir follows the file that stands for .git in a linked working tree
// or a submodule.
func resolveGitDir(top string) (string, error) {
	dotGit := filepath.Join(top, ".git")
	if isDir(dotGit) {
		return dotGit, nil
	}
	raw, err := readOwn(dotGit, mostText)
	if err != nil {
		return "", fmt.Errorf("finding the repository: %w", err)
	}
	target, ok := strings.CutPrefix(strings.TrimRight(string(raw), "\r\n"), "gitdir: ")
	if !ok {
		return "", fmt.Errorf("%w: %s is neither a folder nor a link to one", ErrNoRepository, dotGit)
	}
	target = absolute(top, target)
	if !isDir(target) {
		return "", fmt.Errorf("%w: %s points to %s, which is not there: if it was moved, run `git worktree repair` where it stands now",
			ErrNoRepository, dotGit, target)
	}
	return target, nil
}

func resolveCommonDir(gitDir string) (string, error) {
	raw, err := readOwn(filepath.Join(gitDir, "commondir"), mostText)
	if os.IsNotExist(err) {
		return gitDir, nil
	}
	if err != nil {
		return "", fmt.Errorf("finding the repository of a linked working tree: %w", err)
	}
	return absolute(gitDir, strings.TrimRight(string(raw), "\r\n")), nil
}

// absolute is path as seen from the folder base.
func absolute(base, path string) string {
	path = filepath.FromSlash(path)
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(base, path)
}

// physical is dir as an absolute path without symbolic links, so that the
// folder above it is the one that holds it.
func physical(dir string) (string, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	abs, err = filepath.EvalSymlinks(abs)
	if err != nil {
		return "", fmt.Errorf("finding the range: %w", err)
	}
	return abs, nil
}

// findUp is the nearest of dir and the folders above it that is wanted.
func findUp(dir string, wanted func(dir string) bool) (string, bool) {
	for {
		if wanted(dir) {
			return dir, true
		}
		above := filepath.Dir(dir)
		if above == dir {
			return "", false
		}
		dir = above
	}
}

func isRange(dir string) bool { return isFile(filepath.Join(dir, rangeFile)) }

func hasRepository(dir string) bool {
	dotGit := filepath.Join(dir, ".git")
	// git passes over an empty folder of that name, and so does this.
	return isFile(dotGit) || exists(filepath.Join(dotGit, headRef))
}

func isBare(dir string) bool {
	return isFile(filepath.Join(dir, "HEAD")) && isDir(filepath.Join(dir, "objects")) && isDir(filepath.Join(dir, "refs"))
}

func isDir(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}
