package gitstore

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"syscall"

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

// filtered is the error of a file whose content git is to alter on its way into the
// repository in a way that is not done here.
func filtered(path, what string) error {
	return fmt.Errorf("%s is not saved, and nothing with it: .gitattributes has git %s, which rodlore does not do, so the file would be stored as it stands; save it by hand: `git add %s` and `git commit`",
		path, what, visible.Arg(path))
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
		return filtered(name, fmt.Sprintf("put it through the filter %q", a.value("filter")))
	case encoding != "" && !strings.EqualFold(encoding, "UTF-8") && !strings.EqualFold(encoding, "UTF8"):
		return filtered(name, fmt.Sprintf("turn it from %s into UTF-8", encoding))
	case ident != nil && ident.IsSet() && bytes.Contains(content, []byte("$Id")):
		return filtered(name, "put the identity of its content into it (ident)")
	}
	return nil
}

// attributes are those that hold for a path: the deeper file counts more, the
// later line counts more, and the repository's own info/attributes most. Before
// them come those of the system and of the user.
func (s *Store) attributes(repoPath string) (attributes, error) {
	rules := attributeRules{macros: map[string][]gitattributes.Attribute{}, fold: s.config.isTrue("core.ignorecase")}
	parts := strings.Split(rules.folded(repoPath), "/")
	rules.add([]byte("[attr]binary -diff -merge -text"), nil)
	for _, file := range []string{"/etc/gitattributes", s.ownRules("core.attributesfile", "attributes")} {
		if err := rules.addFile(file); err != nil {
			return nil, err
		}
	}
	dirs := strings.Split(repoPath, "/")
	for depth := range dirs {
		raw, err := s.readRules(path.Join(path.Join(dirs[:depth]...), AttributesFile))
		if err != nil {
			return nil, fmt.Errorf("reading how files are to be stored: %w", err)
		}
		rules.add(raw, parts[:depth])
	}
	if err := rules.addFile(filepath.Join(s.commonDir, "info", "attributes")); err != nil {
		return nil, err
	}
	return rules.of(parts), nil
}

// attributeRules are lines of attributes, the one that counts most last.
type attributeRules struct {
	rules  []gitattributes.MatchAttribute
	macros map[string][]gitattributes.Attribute
	fold   bool // names count alike in large and small letters
}

// addFile adds the lines of a file outside the working tree, where it is there.
func (r *attributeRules) addFile(file string) error {
	raw, err := working.ReadFile(file)
	if gone(err) != nil && !errors.Is(err, syscall.ENOTDIR) && !errors.Is(err, working.ErrUnusable) {
		return fmt.Errorf("reading how files are to be stored: %w", err)
	}
	r.add(raw, nil)
	return nil
}

// add adds the lines of a file whose patterns start in dir. As git does, it passes
// over what is no such line, patterns that are negated or of folders, and macros below
// the top. The library knows classes by the sign of path.Match alone.
func (r *attributeRules) add(raw []byte, dir []string) {
	for line := range strings.Lines(strings.TrimPrefix(string(raw), "\ufeff")) {
		rule, err := gitattributes.ParseAttributesLine(line, dir, len(dir) == 0)
		switch {
		case err != nil, rule.Name == "", rule.Name[0] == '!', strings.HasSuffix(rule.Name, "/"):
		case rule.Pattern == nil:
			r.macros[rule.Name] = rule.Attributes
		default:
			rule.Pattern = gitattributes.ParsePattern(r.folded(strings.ReplaceAll(rule.Name, "[!", "[^")), dir)
			r.rules = append(r.rules, rule)
		}
	}
}

// of are the attributes of a path. The library's own way through the rules has the
// first of them win.
func (r *attributeRules) of(parts []string) attributes {
	found := attributes{}
	for _, rule := range r.rules {
		if rule.Pattern.Match(parts) {
			r.set(found, rule.Attributes, len(r.macros))
		}
	}
	return found
}

// folded is a name as it is compared.
func (r *attributeRules) folded(name string) string {
	if r.fold {
		return strings.ToLower(name)
	}
	return name
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
