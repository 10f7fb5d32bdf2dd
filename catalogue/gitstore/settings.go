package gitstore

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/format/gitignore"
)

// settings is git's configuration as it counts for one range: values by
// "section.key" or "section.sub.key", section and key in lower case, the one
// that counts last.
type settings map[string][]string

// Files may include others; git stops at this depth too. The files of a hostile
// repository may include each other again and again, which it does not stop at.
const (
	maxIncludes = 10
	maxFiles    = 1000
)

// readSettings reads the system's, the user's and the repository's files.
func readSettings(p place) (settings, error) {
	own, err := readUserSettings(p)
	if err != nil {
		return nil, err
	}
	r := settingsReader{settings: own, place: p, files: new(int)}
	if err := r.add(filepath.Join(p.commonDir, "config"), 0); err != nil {
		return nil, err
	}
	if r.settings.isTrue("extensions.worktreeconfig") {
		if err := r.add(filepath.Join(p.gitDir, "config.worktree"), 0); err != nil {
			return nil, err
		}
	}
	return r.settings, nil
}

// readUserSettings reads the system's and the user's files alone: what says whom
// to trust, and which programs to run, must not come with a repository.
func readUserSettings(p place) (settings, error) {
	r := settingsReader{settings: settings{}, place: p, files: new(int)}
	for _, file := range userSettings() {
		if err := r.add(file, 0); err != nil {
			return nil, err
		}
	}
	return r.settings, nil
}

// userSettings lists the files outside the repository, as git-config(1),
// section FILES, gives them.
func userSettings() []string {
	var files []string
	if system, ok := os.LookupEnv("GIT_CONFIG_SYSTEM"); ok {
		files = append(files, system)
	} else if !isTrue(os.Getenv("GIT_CONFIG_NOSYSTEM")) {
		files = append(files, "/etc/gitconfig")
	}
	if global, ok := os.LookupEnv("GIT_CONFIG_GLOBAL"); ok {
		return append(files, global)
	}
	if dir := configFolder(); dir != "" {
		files = append(files, filepath.Join(dir, "git", "config"))
	}
	if home, err := os.UserHomeDir(); err == nil {
		files = append(files, filepath.Join(home, ".gitconfig"))
	}
	return files
}

// configFolder is where the user's programs keep their settings, as the XDG Base
// Directory Specification has it; "" for a user without a home.
func configFolder() string {
	if dir := os.Getenv("XDG_CONFIG_HOME"); dir != "" {
		return dir
	}
	if home, err := os.UserHomeDir(); err == nil {
		return filepath.Join(home, ".config")
	}
	return ""
}

// settingsReader reads the files that count for a place on top of each other.
type settingsReader struct {
	settings settings
	place    place
	files    *int // read so far
}

// add reads one file. A file that is not there adds nothing.
func (r settingsReader) add(file string, depth int) error {
	raw, err := readOwn(file, mostText)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("reading git's settings: %w", err)
	}
	if *r.files++; depth > maxIncludes || *r.files > maxFiles {
		return fmt.Errorf("reading git's settings: files include each other, the last is %s", file)
	}
	var inside error // of an included file, which it names itself
	err = parseConfig(string(raw), func(section, sub, key, value string) error {
		name := section
		if sub != "" {
			name += "." + sub
		}
		r.settings[name+"."+key] = append(r.settings[name+"."+key], value)
		if key == "path" && (section == "include" || section == "includeif" && r.holds(sub, file)) {
			inside = r.add(expand(value, filepath.Dir(file)), depth+1)
		}
		return inside
	})
	if err != nil && inside == nil {
		return fmt.Errorf("reading git's settings: %s: %w", file, err)
	}
	return err
}

// holds reports whether the condition of an include is fulfilled. Of git's
// conditions only gitdir and gitdir/i are known: what hangs on others is left
// out.
func (r settingsReader) holds(condition, file string) bool {
	kind, pattern, _ := strings.Cut(condition, ":")
	dir := filepath.ToSlash(r.place.gitDir)
	switch {
	case strings.HasPrefix(pattern, "~/"), strings.HasPrefix(pattern, "./"):
		slash := strings.HasSuffix(pattern, "/")
		pattern = filepath.ToSlash(expand(pattern, filepath.Dir(file)))
		if slash {
			pattern += "/"
		}
	case !filepath.IsAbs(pattern):
		pattern = "**/" + pattern
	}
	if strings.HasSuffix(pattern, "/") {
		pattern += "**"
	}
	switch kind {
	case "gitdir/i":
		pattern, dir = strings.ToLower(pattern), strings.ToLower(dir)
	case "gitdir":
	default:
		return false
	}
	// A pattern of gitignore(5) takes the same wildcards.
	return gitignore.ParsePattern(pattern, nil).Match(strings.Split(strings.TrimPrefix(dir, "/"), "/"), true) == gitignore.Exclude
}

// expand is a path in a file of settings that lies in dir.
func expand(path, dir string) string {
	return absolute(dir, expandHome(path))
}

func expandHome(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

// value is the one that counts, "" where there is none.
func (s settings) value(key string) string {
	all := s[key]
	if len(all) == 0 {
		return ""
	}
	return all[len(all)-1]
}

func (s settings) isTrue(key string) bool { return isTrue(s.value(key)) }

// isNotFalse is isTrue of what is true where nothing is said.
func (s settings) isNotFalse(key string) bool { return s.value(key) == "" || s.isTrue(key) }

func isTrue(value string) bool {
	return slices.Contains([]string{"true", "yes", "on", "1"}, strings.ToLower(value))
}

// Extensions of the repository's format that change nothing that is read or
// written here.
var harmlessExtensions = []string{
	"noop", "noop-v1", "partialclone", "preciousobjects", "worktreeconfig", "relativeworktrees",
}

// check refuses repositories in a format that would be read or written wrongly.
func (s settings) check(p place) error {
	if v := s.value("core.repositoryformatversion"); v != "" && v != "0" && v != "1" {
		return fmt.Errorf("%w: %s has repository format %s; rodlore knows 0 and 1", errUnsupported, p.commonDir, v)
	}
	if hash := s.value("extensions.objectformat"); hash != "" && hash != "sha1" {
		return fmt.Errorf("%w: %s names its objects by %s; rodlore reads sha1 only: make a new repository with `git init --object-format=sha1` and bring the files over",
			errUnsupported, p.commonDir, hash)
	}
	if refs := s.value("extensions.refstorage"); refs != "" && refs != "files" {
		return fmt.Errorf("%w: %s keeps its branches as %s; run `git refs migrate --ref-format=files`",
			errUnsupported, p.commonDir, refs)
	}
	if s.isTrue("core.bare") && p.gitDir == p.commonDir {
		return fmt.Errorf("%w: %s is marked as bare, without working files: run `git config core.bare false` if it has them",
			errUnsupported, p.commonDir)
	}
	return s.checkExtensions(p)
}

func (s settings) checkExtensions(p place) error {
	known := append([]string{"objectformat", "refstorage"}, harmlessExtensions...)
	for key := range s {
		name, ok := strings.CutPrefix(key, "extensions.")
		if ok && !slices.Contains(known, name) {
			return fmt.Errorf("%w: %s uses the extension %q, which rodlore does not know", errUnsupported, p.commonDir, name)
		}
	}
	return nil
}

// isPartial reports whether the repository was cloned without all its content.
func (s settings) isPartial() bool {
	for key := range s {
		if strings.HasPrefix(key, "remote.") && strings.HasSuffix(key, ".promisor") && s.isTrue(key) {
			return true
		}
	}
	return s.value("extensions.partialclone") != ""
}
