package gitstore

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/format/gitattributes"

	"rodlore/catalogue/visible"
	"rodlore/catalogue/working"
)

// attributes are what gitattributes(5) gives to a path, by name.
type attributes map[string]gitattributes.Attribute

// value is the text given to an attribute; "" where it has none.
func (a attributes) value(name string) string {
	if found := a[name]; found != nil && found.IsValueSet() {
		return found.Value()
	}
	return ""
}

// filtered is an error: a file whose content git is to alter on its way into the
// repository in a way that is not done here.
type filtered struct{ path, what string }

func (f *filtered) Error() string {
	return fmt.Sprintf("%s is not saved, and nothing with it: .gitattributes has git %s, which rodlore does not do, so the file would be stored as it stands; save it by hand: `git add %s` and `git commit`",
		f.path, f.what, visible.Arg(f.path))
}

// Refused says why a file of the range cannot be saved here as it stands now, or
// once it is there; nil where it can.
func (s *Store) Refused(name string) error {
	content, err := s.Working(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil // whoever reads it is told
	}
	return s.checkFilters(s.prefix+name, content)
}

// checkFilters refuses content that git would alter by more than the ends of
// lines: by a filter, whether or not it is set up here, since one that encrypts is
// not to be missed for want of a setting; by its own words ($Id$); or by another
// encoding.
func (s *Store) checkFilters(repoPath string, content []byte) error {
	a, err := s.attributes(repoPath)
	if err != nil {
		return err
	}
	encoding := a.value("working-tree-encoding")
	name := strings.TrimPrefix(repoPath, s.prefix)
	switch ident := a["ident"]; {
	case a.value("filter") != "":
		return &filtered{name, fmt.Sprintf("put it through the filter %q", a.value("filter"))}
	case encoding != "" && !strings.EqualFold(encoding, "UTF-8") && !strings.EqualFold(encoding, "UTF8"):
		return &filtered{name, fmt.Sprintf("turn it from %s into UTF-8", encoding)}
	case ident != nil && ident.IsSet() && bytes.Contains(content, []byte("$Id")):
		return &filtered{name, "put the identity of its content into it (ident)"}
	}
	return nil
}

// attributes are those that hold for a path: the deeper file counts more, the
// later line counts more, and the repository's own info/attributes most. Before
// them come those of the system and of the user.
func (s *Store) attributes(repoPath string) (attributes, error) {
	rules := attributeRules{macros: map[string][]gitattributes.Attribute{}, fold: s.config.isTrue("core.ignorecase")}
	rules.add([]byte("[attr]binary -diff -merge -text"), nil)
	for _, file := range s.outerAttributes() {
		if err := rules.addFile(file); err != nil {
			return nil, err
		}
	}
	parts := strings.Split(repoPath, "/")
	for depth := range parts {
		raw, err := s.attributesIn(path.Join(parts[:depth]...))
		if err != nil {
			return nil, err
		}
		rules.add(raw, parts[:depth])
	}
	if err := rules.addFile(filepath.Join(s.commonDir, "info", "attributes")); err != nil {
		return nil, err
	}
	return rules.of(parts), nil
}

// outerAttributes are the files that count before the repository's.
func (s *Store) outerAttributes() []string {
	files := []string{"/etc/gitattributes"}
	if file := s.config.value("core.attributesfile"); file != "" {
		return append(files, expand(file, s.top))
	}
	if dir := configFolder(); dir != "" {
		files = append(files, filepath.Join(dir, "git", "attributes"))
	}
	return files
}

// attributesIn is the file of a folder of the repository: as it stands or, where
// it is not there, as git has it staged.
func (s *Store) attributesIn(dir string) ([]byte, error) {
	name := path.Join(dir, AttributesFile)
	raw, err := s.readRules(name)
	if raw != nil {
		return raw, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading how files are to be stored: %w", err)
	}
	index, err := s.stagedOnce()
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(index.entries, func(e stagedEntry) bool { return e.name == name })
	if i < 0 {
		return nil, nil
	}
	var id plumbing.Hash
	copy(id[:], index.entries[i].fields[statFields:])
	raw, err = s.objects.read(id, plumbing.BlobObject)
	if err != nil {
		return nil, fmt.Errorf("reading %s as git has it staged: %w", name, err)
	}
	return raw, nil
}

// readAttributes reads a file of attributes; nil is one that is not there.
func readAttributes(file string) ([]byte, error) {
	raw, err := working.ReadFile(file)
	if gone(err) != nil && !errors.Is(err, syscall.ENOTDIR) && !errors.Is(err, working.ErrUnusable) {
		return nil, fmt.Errorf("reading how files are to be stored: %w", err)
	}
	return raw, nil
}

// attributeRules are lines of attributes, the one that counts most last.
type attributeRules struct {
	rules  []attributeRule
	macros map[string][]gitattributes.Attribute
	fold   bool // names count alike in large and small letters
}

type attributeRule struct {
	dir, pattern []string
	attributes   []gitattributes.Attribute
}

func (r *attributeRules) addFile(file string) error {
	raw, err := readAttributes(file)
	if err == nil {
		r.add(raw, nil)
	}
	return err
}

// add adds the lines of a file whose patterns start in dir. As git does, it passes
// over what is no such line, patterns that are negated, and macros below the top.
func (r *attributeRules) add(raw []byte, dir []string) {
	for line := range strings.Lines(strings.TrimPrefix(string(raw), "\ufeff")) {
		rule, err := gitattributes.ParseAttributesLine(line, dir, len(dir) == 0)
		switch {
		case err != nil, rule.Name == "", rule.Name[0] == '!':
		case rule.Pattern == nil:
			r.macros[rule.Name] = rule.Attributes
		default:
			r.rules = append(r.rules, attributeRule{dir, patternParts(rule.Name), rule.Attributes})
		}
	}
}

// patternParts takes a pattern apart at its slashes, in the signs that path.Match
// knows. The library's own matching does not go back where ** matched too little.
func patternParts(pattern string) []string {
	if !strings.Contains(pattern, "/") {
		pattern = "**/" + pattern
	}
	parts := strings.Split(strings.TrimPrefix(pattern, "/"), "/")
	for i, part := range parts {
		if part != "**" {
			parts[i] = strings.ReplaceAll(strings.ReplaceAll(part, "**", "*"), "[!", "[^")
		}
	}
	return parts
}

// of are the attributes of a path.
func (r *attributeRules) of(parts []string) attributes {
	found := attributes{}
	for _, rule := range r.rules {
		if len(parts) > len(rule.dir) && slices.Equal(parts[:len(rule.dir)], rule.dir) &&
			matchParts(rule.pattern, parts[len(rule.dir):], r.fold) {
			r.set(found, rule.attributes, len(r.macros))
		}
	}
	return found
}

// set gives attributes to a path, with what macros stand for; depth bounds macros
// that lead to themselves.
func (r *attributeRules) set(found attributes, given []gitattributes.Attribute, depth int) {
	for _, a := range given {
		if a.IsSet() && depth > 0 {
			r.set(found, r.macros[a.Name()], depth-1)
		}
		found[a.Name()] = a
	}
}

// matchParts reports whether a pattern fits a whole path, part by part.
func matchParts(pattern, parts []string, fold bool) bool {
	switch {
	case len(pattern) == 0:
		return len(parts) == 0
	case pattern[0] == "**" && len(pattern) == 1:
		return len(parts) > 0
	case pattern[0] == "**":
		for skipped := range len(parts) + 1 {
			if matchParts(pattern[1:], parts[skipped:], fold) {
				return true
			}
		}
		return false
	case len(parts) == 0:
		return false
	}
	wanted, part := pattern[0], parts[0]
	if fold {
		wanted, part = strings.ToLower(wanted), strings.ToLower(part)
	}
	ok, err := path.Match(wanted, part)
	return err == nil && ok && matchParts(pattern[1:], parts[1:], fold)
}
