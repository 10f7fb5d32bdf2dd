package gitstore

import (
	"bytes"
	"strings"
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
