package catalogue

import (
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"rodlore/catalogue/visible"
	"rodlore/models"
)

// deviceName are names that Windows keeps for devices, with any ending (Microsoft,
// "Naming Files, Paths, and Namespaces").
var deviceName = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)`)

// ModelRule is what a new model may be called: it stands in commands, in git's tags
// and in the names of files.
var ModelRule = regexp.MustCompile(`^[\p{Ll}\p{Lo}\p{M}\p{N}]+([-.][\p{Ll}\p{Lo}\p{M}\p{N}]+)*$`)

// Unfit says why a file may not have its name, "" where it may: not every system
// can have it, or no command could name the model by it.
func Unfit(file string) string {
	base := path.Base(file)
	name := strings.TrimSuffix(base, ".yaml")
	switch {
	case !utf8.ValidString(name):
		return "the name of the file is not UTF-8 text"
	case visible.Steers(name) || strings.ContainsAny(name, "\t\n"):
		return "the name of the file has a character that does not show"
	case strings.Contains(name, "+"):
		return `the name of the file has a "+", which parts a model from one of its tops`
	case strings.Contains(name, "@"):
		return `the name of the file has an "@", which parts a model from its revision`
	case strings.ContainsAny(name, `\:*?"<>|`):
		at := strings.IndexAny(name, `\:*?"<>|`)
		return fmt.Sprintf("the name of the file has a %s, which Windows does not allow", name[at:at+1])
	case deviceName.MatchString(base):
		return "the name of the file is that of a device on Windows"
	case strings.HasPrefix(name, "-"):
		return `the name of the file begins with "-", as options do`
	case strings.TrimSpace(name) != name:
		return "the name of the file begins or ends with a space"
	}
	return ""
}

// nameFaults are the faults of the names of those of files that are asked for,
// among all that the range has and had saved last, with what to do about them.
func (c *Checks) nameFaults(asked []string, todo string) (models.Faults, error) {
	files, err := c.workingFiles()
	if err != nil {
		return nil, err
	}
	all := map[string]bool{}
	for _, f := range slices.Concat(files, slices.Collect(maps.Keys(c.index.savedFiles())), asked) {
		all[f] = true
	}
	alike := map[string][]string{}
	for _, f := range slices.Sorted(maps.Keys(all)) {
		alike[folded(f)] = append(alike[folded(f)], f)
	}
	var faults models.Faults
	for _, f := range asked {
		why := Unfit(f)
		if others := alike[folded(f)]; why == "" && len(others) > 1 {
			other := others[0]
			if other == f {
				other = others[1]
			}
			but := "capitals"
			if norm.NFC.String(f) == norm.NFC.String(other) {
				but = "how its accents are made up"
			}
			why = fmt.Sprintf("the name of the file is that of %s but for %s, and many computers take them for one", other, but)
		}
		if model, ok := modelName(f); ok && why == "" && !ModelRule.MatchString(model) {
			why = "the name of the file has more than small letters, digits, dashes and dots between them"
		}
		if why != "" {
			faults = append(faults, faultAt(models.Pos{File: f, Line: 1, Col: 1}, "", "%s; %s", why, todo))
		}
	}
	return faults, nil
}

// folded is one name for all that computers take for one: whatever the capitals,
// and whether an accent is part of its letter or follows it (Unicode Standard Annex
// 15, normalization form C).
func folded(file string) string { return norm.NFC.String(strings.ToLower(norm.NFC.String(file))) }

// MayAdd says why a model of that name cannot be added; nil where it can.
func (c *Checks) MayAdd(model string) error {
	faults, err := c.nameFaults([]string{modelFile(model)}, "take another name")
	if err != nil || len(faults) == 0 {
		return err
	}
	return fmt.Errorf("model %q cannot be added: %s", model, faults[0].Msg)
}

// checkedNames are the faults of the names of all files or, of specs, of those of
// the models named.
func (c *Checks) checkedNames(names []string) (models.Faults, error) {
	files, err := c.workingFiles()
	if err != nil {
		return nil, err
	}
	return c.nameFaults(slices.DeleteFunc(files, func(f string) bool {
		name, isModel := modelName(f)
		return isModel && !slices.Contains(names, name)
	}), "rename it")
}

// newNames are the faults of the names of files that are to be saved for the first
// time. One that is saved already stops no save.
func (c *Checks) newNames(files map[string][]byte) (models.Faults, error) {
	saved := c.index.savedFiles()
	var fresh []string
	for _, f := range slices.Sorted(maps.Keys(files)) {
		if files[f] != nil && saved[f] == "" {
			fresh = append(fresh, f)
		}
	}
	if len(fresh) == 0 {
		return nil, nil
	}
	return c.nameFaults(fresh, "rename it")
}
