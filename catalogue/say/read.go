package say

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/language"

	"rodlore/models"
	"rodlore/models/spelling"
)

// Read reads a maker's words.yaml. In English its texts stand for the ones that
// come with the program, in any other language it must have them all. The
// error, if any, is a models.Faults: a text that is unknown or missing, or one
// whose placeholders are not those of the English. An empty src is English.
func Read(file string, src []byte) (*Words, error) {
	texts, err := models.ParseTexts(file, src)
	if err != nil {
		return nil, err
	}
	r := translation{file: file, base: English(), words: &Words{texts: map[string]string{}, tag: language.English}}
	for _, t := range texts.All {
		r.take(t)
	}
	r.complete()
	if len(r.faults) > 0 {
		return nil, r.faults.Sorted()
	}
	return r.words, nil
}

// translation is a file being held against the English texts.
type translation struct {
	file   string
	base   *Words
	words  *Words
	faults models.Faults
}

func (r *translation) fault(pos models.Pos, path, format string, args ...any) {
	r.faults = append(r.faults, &models.Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)})
}

// take takes one text over.
func (r *translation) take(t models.Text) {
	english, known := r.english(t.Path)
	switch {
	case !known && r.base.Has(t.Path+".other"):
		r.fault(t.Pos, t.Path, "has a form for every kind of number; write one: and other: below it")
		return
	case !known:
		r.fault(t.Pos, t.Path, "unknown text%s", spelling.DidYouMean(t.Path, slices.Sorted(maps.Keys(r.base.texts))))
		return
	case t.Path == languagePath:
		tag, err := language.Parse(t.Text)
		if err != nil {
			r.fault(t.Pos, t.Path, "%q is no code of a language; write one such as de or pt-BR", t.Text)
			return
		}
		r.words.tag = tag
	case t.Path == decimalPath:
		if t.Text != "point" && t.Text != "comma" {
			r.fault(t.Pos, t.Path, "%q is unknown; expected point or comma", t.Text)
		}
	default:
		r.compare(t, english)
	}
	r.words.texts[t.Path] = t.Text
}

// english is the English text that one at path stands for. Forms of a number
// that English has not go by the one for all others.
func (r *translation) english(path string) (string, bool) {
	if text, ok := r.base.texts[path]; ok {
		return text, true
	}
	text, ok := r.base.texts[counted(path)]
	return text, ok
}

// counted is the path of the form for all other numbers, of any form's path;
// "" where path is that of no form.
func counted(path string) string {
	i := strings.LastIndexByte(path, '.')
	for _, name := range formNames {
		if i >= 0 && path[i+1:] == name {
			return path[:i+1] + "other"
		}
	}
	return ""
}

var inDigits = strings.NewReplacer("{number}", "{n}", "{Number}", "{n}")

var placeholder = regexp.MustCompile(`\{[^{}]*\}`)

// compare holds the placeholders of a text against those of the English. A form
// for some numbers may have them in words: "one ring".
func (r *translation) compare(t models.Text, english string) {
	other := counted(t.Path)
	if text, ok := r.base.texts[other]; ok {
		english = text
	}
	inWords := other != "" && other != t.Path
	text := t.Text
	if other != "" || inDigits.Replace(english) != english { // the number may be written either way
		english, text = inDigits.Replace(english), inDigits.Replace(text)
	}
	want, got := placeholder.FindAllString(english, -1), placeholder.FindAllString(text, -1)
	for _, p := range want {
		if !slices.Contains(got, p) && !(p == "{n}" && inWords) {
			r.fault(t.Pos, t.Path, "%s is missing; it is filled in and must stay", p)
		}
	}
	for _, p := range got {
		if !slices.Contains(want, p) {
			r.fault(t.Pos, t.Path, "%s means nothing here; %s", p, offered(want))
		}
	}
}

// offered says which placeholders a text has.
func offered(placeholders []string) string {
	if len(placeholders) == 0 {
		return "nothing is filled in"
	}
	return "there is " + strings.Join(placeholders, ", ")
}

// complete notes the texts that are missing in another language, and takes the
// English ones in English.
func (r *translation) complete() {
	base, _ := r.words.tag.Base()
	english, _ := language.English.Base()
	var missing []string
	for _, path := range slices.Sorted(maps.Keys(r.base.texts)) {
		if _, ok := r.words.texts[path]; ok {
			continue
		}
		switch form := counted(path); {
		case base == english, path == decimalPath:
			r.words.texts[path] = r.base.texts[path]
		case form != "" && path != form && r.base.Has(form):
		default:
			missing = append(missing, path)
		}
	}
	if len(missing) > 0 {
		r.fault(models.Pos{File: r.file, Line: 1, Col: 1}, missing[0], "%s", r.untranslated(missing))
	}
}

// untranslated says what a translation lacks, in one line however much it is.
func (r *translation) untranslated(missing []string) string {
	text := fmt.Sprintf("is missing; in English it is %q", r.base.texts[missing[0]])
	if more := len(missing) - 1; more > 0 {
		text += fmt.Sprintf("; so are %d more of %d sentences, from %s to %s", more, len(r.base.texts), missing[1], missing[more])
	}
	return text
}
