package gitstore

import (
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/format/gitignore"

	"rodlore/catalogue/working"
)

// Ignored reports whether git is told to leave a file of the range alone, and
// does not track it for all that. See gitignore(5).
func (s *Store) Ignored(name string) (bool, error) {
	index, err := s.readStaging()
	if err != nil || index.find(s.prefix+name) >= 0 {
		return false, err
	}
	parts := strings.Split(s.prefix+name, "/")
	patterns, err := s.ignorePatterns(parts)
	if err != nil {
		return false, err
	}
	for n := range parts { // a file in a folder that is ignored cannot be taken back
		if isIgnored(patterns, parts[:n+1], n+1 < len(parts)) {
			return true, nil
		}
	}
	return false, nil
}

// isIgnored reports whether a path is ignored by itself: the last pattern that
// is about it decides. One that matches a folder matches all that is in it too,
// which is not meant here.
func isIgnored(patterns []gitignore.Pattern, parts []string, folder bool) bool {
	for _, p := range slices.Backward(patterns) {
		above := p.Match(parts[:len(parts)-1], true)
		if found := p.Match(parts, folder); found != gitignore.NoMatch && above == gitignore.NoMatch {
			return found == gitignore.Exclude
		}
	}
	return false
}

// ignorePatterns are those that can be about a path, the one that counts most
// last: the user's, the repository's own, and those of the folders from the top
// down.
func (s *Store) ignorePatterns(parts []string) ([]gitignore.Pattern, error) {
	var patterns []gitignore.Pattern
	for _, file := range []string{s.ownRules("core.excludesfile", "ignore"), filepath.Join(s.commonDir, "info", "exclude")} {
		raw, err := working.ReadFile(file)
		if gone(err) != nil && !errors.Is(err, working.ErrUnusable) {
			return nil, fmt.Errorf("reading what git is to leave alone: %w", err)
		}
		patterns = addIgnored(patterns, raw, nil)
	}
	for depth := range parts {
		raw, err := s.readRules(path.Join(path.Join(parts[:depth]...), ignoreFile))
		if err != nil {
			return nil, fmt.Errorf("reading what git is to leave alone: %w", err)
		}
		patterns = addIgnored(patterns, raw, parts[:depth])
	}
	return patterns, nil
}

// ignoreFile tells git what to leave alone.
const ignoreFile = ".gitignore"

// ownRules is the user's file of rules for all repositories: the one that a setting names,
// else that of git's own name for it; "" where there is none.
func (s *Store) ownRules(key, name string) string {
	if file := s.config.value(key); file != "" {
		return expand(file, s.top)
	}
	if dir := configFolder(); dir != "" {
		return filepath.Join(dir, "git", name)
	}
	return ""
}

// addIgnored appends the patterns in a file, which start in dir.
func addIgnored(patterns []gitignore.Pattern, raw []byte, dir []string) []gitignore.Pattern {
	for line := range strings.Lines(string(raw)) {
		line = strings.TrimRight(line, "\r\n")
		if strings.Trim(line, " ") != "" && !strings.HasPrefix(line, "#") {
			patterns = append(patterns, gitignore.ParsePattern(line, dir))
		}
	}
	return patterns
}
