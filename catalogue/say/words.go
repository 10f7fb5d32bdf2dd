package say

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"rodlore/catalogue"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Words are the sentences in one language.
type Words struct {
	texts map[string]string
	tag   language.Tag
}

// Paths of the texts that say how the others are meant.
const (
	languagePath = "language"
	decimalPath  = "decimal"
)

//go:embed english.yaml
var englishFile []byte

// English are the sentences as they come.
var English = sync.OnceValue(func() *Words {
	w, err := read("english.yaml", File())
	if err != nil {
		panic("say: " + err.Error())
	}
	return w
})

// Of are the sentences of a range's pages, as its words.yaml stands now.
func Of(r *catalogue.Range) (*Words, error) {
	file, src, err := r.WordsFile()
	if err != nil {
		return nil, err
	}
	return Read(file, src)
}

// read takes the texts of a file without holding them against others.
func read(file string, src []byte) (*Words, error) {
	texts, err := models.ParseTexts(file, src)
	if err != nil {
		return nil, err
	}
	w := &Words{texts: make(map[string]string, len(texts.All))}
	for _, t := range texts.All {
		w.texts[t.Path] = t.Text
	}
	w.tag = language.Make(w.texts[languagePath])
	return w, nil
}

// File is the file of all English sentences, to begin a words.yaml with: names
// and meanings of the figures are those of every other output.
func File() []byte {
	var b strings.Builder
	b.Write(englishFile)
	b.WriteString("\n# What the figures are called.\nnames:\n")
	for _, f := range figures.All() {
		fmt.Fprintf(&b, "  %s: %q\n", f.Key, figures.Short(f.Key))
	}
	b.WriteString("\n# What they are.\nmeanings:\n")
	for _, f := range figures.All() {
		fmt.Fprintf(&b, "  %s: %q\n", f.Key, strings.Replace(figures.Of(f.Key).Sentence, "%s", "{value}", 1))
	}
	return []byte(b.String())
}

// Language is the code of the language, "en".
func (w *Words) Language() string { return w.tag.String() }

// Comma reports whether decimals stand behind a comma.
func (w *Words) Comma() bool { return w.texts[decimalPath] == "comma" }

// Display is how figures are written in these words.
func (w *Words) Display(set *models.Settings) figures.Display {
	d := set.Display()
	d.Comma, d.Times = w.Comma(), w.Say("times")
	return d
}

// Say gives the text at path with its placeholders filled in by pairs of name
// and value. A path that is not there is a fault of the program.
func (w *Words) Say(path string, pairs ...string) string {
	text, ok := w.texts[path]
	if !ok {
		panic("say: no text at " + path)
	}
	return fill(text, pairs)
}

// fill fills the placeholders of a text in.
func fill(text string, pairs []string) string {
	if len(pairs) == 0 {
		return text
	}
	filled := make([]string, len(pairs))
	for i, p := range pairs {
		filled[i] = p
		if i%2 == 0 {
			filled[i] = "{" + p + "}"
		}
	}
	return strings.NewReplacer(filled...).Replace(text)
}

// Has reports whether there is a text at path.
func (w *Words) Has(path string) bool { _, ok := w.texts[path]; return ok }

// Count gives the text at path in the form that the language has for n, which
// is filled in as n, and in words as number and Number, with the other pairs.
func (w *Words) Count(path string, n int, pairs ...string) string {
	form := path + "." + formNames[plural.Cardinal.MatchPlural(w.tag, n, 0, 0, 0, 0)]
	if !w.Has(form) {
		form = path + "." + formNames[plural.Other]
	}
	return w.Say(form, append(w.counting(n), pairs...)...)
}

// counting are the pairs that fill a number in: in digits, in words, and in words as a
// sentence begins with them.
func (w *Words) counting(n int) []string {
	digits := strconv.Itoa(n)
	word := digits
	if w.Has("numbers." + digits) {
		word = w.Say("numbers." + digits)
	}
	first, size := utf8.DecodeRuneInString(word)
	return []string{"n", digits, "number", word, "Number", string(unicode.ToUpper(first)) + word[size:]}
}

// formNames are the forms that a text may have by a number: the categories of
// the Unicode Common Locale Data Repository (UTS 35, part 3, section 5).
var formNames = map[plural.Form]string{
	plural.Other: "other", plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many",
}

// Each is what of makes of every entry of a list, and never nil.
func Each[E, V any](list []E, of func(E) V) []V {
	values := make([]V, len(list))
	for i, entry := range list {
		values[i] = of(entry)
	}
	return values
}

// List joins items as in "a, b and c".
func (w *Words) List(items []string) string {
	list := ""
	for i, item := range items {
		switch {
		case i == 0:
			list = item
		case i == len(items)-1:
			list = w.Say("lists.last", "list", list, "next", item)
		default:
			list = w.Say("lists.more", "list", list, "next", item)
		}
	}
	return list
}
