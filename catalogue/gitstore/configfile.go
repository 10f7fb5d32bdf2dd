package gitstore

import (
	"fmt"
	"regexp"
	"strings"
)

// What a file of settings has at its front, as git-config(1), section SYNTAX, gives it:
// what says nothing, the head of a section, and a variable with its value. A sub-section
// may also be written [name.sub], and is then in lower case. A backslash at the end of a
// line joins the next one to a value.
var (
	configSkipped  = regexp.MustCompile(`^(?:[\s\v]|[#;][^\n]*)+`)
	configSection  = regexp.MustCompile(`^\[([-\da-zA-Z]+)(?:\.([-.\da-zA-Z]*))?[ \t\v\f\r]*("(?:[^"\\\n]|\\[^\n])*")?\]`)
	configVariable = regexp.MustCompile(`^([-\da-zA-Z]+)[ \t\v\f\r]*(=(?:[^"\\\n#;]|\\(?s:.|$)|"(?:[^"\\\n]|\\(?s:.|$))*")*(?:[#;][^\n]*)?)?(?:\n|$)`)

	configQuoted  = regexp.MustCompile(`\\(.)`)
	configEscapes = map[byte]byte{'t': '\t', 'n': '\n', 'b': '\b', '\\': '\\', '"': '"'}
)

// parseConfig gives each variable of a file of settings to put in the order of the file:
// section and key in lower case, the sub-section as it stands. A variable without a value
// is true.
//
// The library's reader refuses files that git takes, such as a variable on the line of
// its section.
func parseConfig(text string, put func(section, sub, key, value string) error) error {
	text = strings.TrimPrefix(strings.ReplaceAll(text, "\r\n", "\n"), "\ufeff")
	section, sub := "", ""
	for rest := text; rest != ""; {
		found := configSkipped.FindStringSubmatch(rest)
		if found == nil {
			if found = configSection.FindStringSubmatch(rest); found != nil {
				section, sub = strings.ToLower(found[1]), strings.ToLower(found[2])
				if quoted := found[3]; quoted != "" {
					sub = configQuoted.ReplaceAllString(quoted[1:len(quoted)-1], "$1")
				}
			}
		}
		if found == nil && section != "" {
			if found = configVariable.FindStringSubmatch(rest); found != nil {
				value, ok := configValue(found[2])
				if !ok {
					found = nil
				} else if err := put(section, sub, strings.ToLower(found[1]), value); err != nil {
					return err
				}
			}
		}
		if found == nil {
			return fmt.Errorf("line %d: here should be a section, [name] or [name \"sub\"], or in one a variable, key = value",
				1+strings.Count(text[:len(text)-len(rest)], "\n"))
		}
		rest = rest[len(found[0]):]
	}
	return nil
}

// configValue reads what follows a key: parts in quotes keep their blanks and comment
// signs.
func configValue(text string) (value string, ok bool) {
	text, ok = strings.CutPrefix(text, "=")
	if !ok {
		return "true", true
	}
	var out []byte
	kept := 0 // what is not blank, or is in quotes, ends here
	quoted := false
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case (c == '#' || c == ';') && !quoted:
			return string(out[:kept]), true
		case c == '"':
			quoted = !quoted
			kept = max(kept, len(out))
			continue
		case c == '\\':
			if i++; i == len(text) || text[i] == '\n' {
				continue
			}
			if c, ok = configEscapes[text[i]]; !ok {
				return "", false
			}
		case strings.IndexByte(" \t\v\f\r", c) >= 0 && !quoted:
			if len(out) > 0 {
				out = append(out, c)
			}
			continue
		}
		out = append(out, c)
		kept = len(out)
	}
	return string(out[:kept]), true
}
