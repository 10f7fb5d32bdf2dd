package gitstore

import (
	"fmt"
	"strings"
)

// parseConfig reads a file in the form of git-config(1), section SYNTAX, and
// gives each variable to put in the order of the file: section and key in lower
// case, the sub-section as it stands. A variable without a value is true.
//
// The library's reader refuses files that git takes, such as a variable on the
// line of its section.
func parseConfig(text string, put func(section, sub, key, value string) error) error {
	in := &configReader{rest: strings.TrimPrefix(strings.ReplaceAll(text, "\r\n", "\n"), "\ufeff"), line: 1}
	for {
		before := in.rest
		switch c := in.next(); {
		case c == 0 && in.rest == "":
			return nil
		case isBlank(c) || c == '\n':
		case c == '#' || c == ';':
			in.skipLine()
		case c == '[':
			if !in.header() {
				return in.fault("a section is written [name] or [name \"sub\"]")
			}
		case isKeyByte(c) && in.section != "":
			in.rest = before
			key := strings.ToLower(in.takeWhile(isKeyByte))
			value, ok := in.variable()
			if !ok {
				return in.fault("a variable is written key = value")
			}
			if err := put(in.section, in.sub, key, value); err != nil {
				return err
			}
		default:
			return in.fault("here should be a section or a variable")
		}
	}
}

// configReader takes a configuration apart from its front.
type configReader struct {
	rest         string
	line         int
	section, sub string
}

func (in *configReader) fault(what string) error { return fmt.Errorf("line %d: %s", in.line, what) }

// next takes a byte; it is 0 at the end.
func (in *configReader) next() byte {
	if in.rest == "" {
		return 0
	}
	c := in.rest[0]
	in.rest = in.rest[1:]
	if c == '\n' {
		in.line++
	}
	return c
}

func (in *configReader) takeWhile(wanted func(byte) bool) string {
	n := 0
	for n < len(in.rest) && wanted(in.rest[n]) {
		n++
	}
	taken := in.rest[:n]
	in.rest = in.rest[n:]
	return taken
}

func (in *configReader) skipLine() { in.takeWhile(func(c byte) bool { return c != '\n' }) }

// header reads a section's header after its bracket. A sub-section may also be
// written [name.sub], and is then in lower case.
func (in *configReader) header() bool {
	name := strings.ToLower(in.takeWhile(func(c byte) bool { return isKeyByte(c) || c == '.' }))
	in.section, in.sub, _ = strings.Cut(name, ".")
	in.takeWhile(isBlank)
	c := in.next()
	if c == '"' {
		var ok bool
		if in.sub, ok = in.quoted(); !ok {
			return false
		}
		c = in.next()
	}
	return c == ']' && in.section != ""
}

// quoted reads a sub-section after its quote. A backslash only lets a quote or
// another backslash stand in it.
func (in *configReader) quoted() (string, bool) {
	var text []byte
	for {
		c := in.next()
		if c == '"' {
			return string(text), true
		}
		if c == '\\' {
			c = in.next()
		}
		if c == 0 || c == '\n' {
			return "", false
		}
		text = append(text, c)
	}
}

// variable reads what follows a key.
func (in *configReader) variable() (value string, ok bool) {
	in.takeWhile(isBlank)
	switch in.next() {
	case '\n', 0:
		return "true", true
	case '=':
		return in.value()
	}
	return "", false
}

var configEscapes = map[byte]byte{'t': '\t', 'n': '\n', 'b': '\b', '\\': '\\', '"': '"'}

// value reads to the end of the line: parts in quotes keep their blanks and
// comment signs, a backslash at the end joins the next line.
func (in *configReader) value() (value string, ok bool) {
	var out []byte
	kept := 0 // what is not blank, or is in quotes, ends here
	quotes := false
	in.takeWhile(isBlank)
	for {
		c := in.next()
		switch {
		case c == '\n' || c == 0:
			return string(out[:kept]), !quotes
		case !quotes && (c == '#' || c == ';'):
			in.skipLine()
			continue
		case c == '"':
			quotes = !quotes
			kept = max(kept, len(out))
			continue
		case c == '\\':
			if c = in.next(); c == '\n' || c == 0 {
				continue
			}
			if c, ok = configEscapes[c]; !ok {
				return "", false
			}
			out = append(out, c)
			kept = len(out)
			continue
		}
		if isBlank(c) && !quotes {
			if len(out) > 0 {
				out = append(out, c)
			}
			continue
		}
		out = append(out, c)
		kept = len(out)
	}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\v' || c == '\f' || c == '\r' }

func isKeyByte(c byte) bool {
	return c == '-' || '0' <= c && c <= '9' || 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z'
}
