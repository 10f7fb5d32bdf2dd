package gitstore

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/plumbing/format/gitattributes"
)

// withLineEnds is content as git would store it under that path in the
// repository: with LF where the attributes or core.autocrlf say that the file is
// text, else as it is. See gitattributes(5), text and eol.
func (s *Store) withLineEnds(repoPath string, content []byte) ([]byte, error) {
	if !bytes.Contains(content, []byte("\r\n")) {
		return content, nil
	}
	text, err := s.isText(repoPath, content)
	if err != nil || !text {
		return content, err
	}
	return bytes.ReplaceAll(content, []byte("\r\n"), []byte("\n")), nil
}

func (s *Store) isText(repoPath string, content []byte) (bool, error) {
	attributes, err := s.attributes(repoPath)
	if err != nil {
		return false, err
	}
	text, eol := attributes["text"], attributes["eol"]
	binary := bytes.IndexByte(content, 0) >= 0
	switch {
	case text != nil && text.IsUnset():
		return false, nil
	case text != nil && text.IsSet(), eol != nil && eol.IsValueSet():
		return true, nil
	case text != nil && text.IsValueSet() && text.Value() == "auto":
		return !binary, nil
	}
	autocrlf := s.config.value("core.autocrlf")
	return !binary && (isTrue(autocrlf) || strings.EqualFold(autocrlf, "input")), nil
}

// attributes are those that hold for a path: the deeper file counts more, the
// later line counts more, and the repository's own info/attributes most.
func (s *Store) attributes(repoPath string) (map[string]gitattributes.Attribute, error) {
	found := map[string]gitattributes.Attribute{}
	parts := strings.Split(repoPath, "/")
	for depth := range parts {
		dir := path.Join(parts[:depth]...)
		file := filepath.Join(s.top, filepath.FromSlash(dir), attributesFile)
		if err := addAttributes(found, file, parts[:depth], parts); err != nil {
			return nil, err
		}
	}
	return found, addAttributes(found, filepath.Join(s.commonDir, "info", "attributes"), nil, parts)
}

// addAttributes adds to found what the file, whose patterns start in dir, says
// of a path.
func addAttributes(found map[string]gitattributes.Attribute, file string, dir, parts []string) error {
	raw, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("reading the ends of lines to keep: %w", err)
	}
	rules, err := gitattributes.ReadAttributes(bytes.NewReader(raw), dir, true)
	if err != nil {
		return fmt.Errorf("reading %s: %w", file, err)
	}
	for _, rule := range rules {
		if rule.Pattern == nil || !rule.Pattern.Match(parts) {
			continue
		}
		for _, a := range rule.Attributes {
			found[a.Name()] = a
		}
	}
	return nil
}
