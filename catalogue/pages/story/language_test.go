package story_test

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/say"
	"rodlore/cmd/rodlore/demo"
	"rodlore/models"
)

// foreign is the file of all sentences in a language that has them in capitals.
func foreign(t testing.TB) []byte {
	t.Helper()
	texts, err := models.ParseTexts("english.yaml", say.File())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	var open []string
	for _, text := range texts.All {
		path := strings.Split(text.Path, ".")
		same := 0
		for same < len(path)-1 && same < len(open) && open[same] == path[same] {
			same++
		}
		for i, name := range path[same:] {
			b.WriteString(strings.Repeat("  ", same+i) + `"` + name + `":`)
			if same+i < len(path)-1 {
				b.WriteString("\n")
			}
		}
		open = path[:len(path)-1]
		said := capitals(text.Text)
		switch text.Path {
		case "language":
			said = "nl"
		case "decimal":
			said = "comma"
		}
		b.WriteString(` "` + strings.ReplaceAll(said, `"`, `\"`) + "\"\n")
	}
	return []byte(b.String())
}

// capitals puts a text into capitals, but for what is filled in.
func capitals(text string) string {
	inside := false
	return strings.Map(func(r rune) rune {
		switch {
		case r == '{' || r == '}':
			inside = r == '{'
		case !inside:
			return unicode.ToUpper(r)
		}
		return r
	}, text)
}

var (
	script   = regexp.MustCompile(`(?s)<(script|style)[^>]*>.*?</(script|style)>`)
	tag      = regexp.MustCompile(`<[^>]*>`)
	word     = regexp.MustCompile(`\p{L}[\p{L}'-]*\p{Ll}[\p{L}'-]*`)
	format   = regexp.MustCompile(`#.*|\b(?:[a-z][a-z ]*:|kind: \w+)`) // of the maker's files: remarks, keys, kinds of joint
	entities = strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&amp;", "&", "\u00a0", " ")
)

// Put into another language by one file, a story says nothing more in English:
// what is left is the maker's own, and units.
func TestAnotherLanguage(t *testing.T) {
	own := ownWords(t)
	r := open(t, demoSource(t, map[string][]byte{"words.yaml": foreign(t)}))
	pages, err := story.Site(t.Context(), r, story.Options{Reader: story.Customer})
	if err != nil {
		t.Fatal(err)
	}
	for name, page := range pages {
		if name == "style.css" {
			continue
		}
		if !strings.Contains(string(page), `<html lang="nl">`) || !strings.Contains(string(page), "ALL FIGURES ARE WORKED OUT") {
			t.Errorf("%s is in another language", name)
		}
		text := entities.Replace(tag.ReplaceAllString(script.ReplaceAllString(string(page), " "), " "))
		for _, w := range slices.Compact(slices.Sorted(slices.Values(word.FindAllString(text, -1)))) {
			if !own[strings.ToLower(w)] {
				t.Errorf("%s says %q", name, w)
			}
		}
	}
}

// ownWords are those that the maker wrote, and units.
func ownWords(t testing.TB) map[string]bool {
	t.Helper()
	own := map[string]bool{}
	add := func(text string) {
		for _, w := range word.FindAllString(text, -1) {
			own[strings.ToLower(w)] = true
		}
	}
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	for _, state := range states {
		add(state.Tell)
		for _, src := range state.Files {
			add(format.ReplaceAllString(string(src), ""))
		}
	}
	add("mm g kg lb oz in Hz s min m N")
	return own
}

var (
	point  = regexp.MustCompile(`[^ ]*\d\.\d[^,;]*`)
	signed = regexp.MustCompile(`<li>[^<]*\([+−][^<]*`)
)

// With a decimal comma no number has a point, in pictures neither; and where
// figures stand in two units, what a sentence calls less is less in both.
func TestCommaAndTwoUnits(t *testing.T) {
	src := demoSource(t, nil)
	src.files["words.yaml"] = []byte("decimal: comma\n")
	src.files["range.yaml"] = bytes.Replace(src.files["range.yaml"], []byte("units: metric"), []byte("units: both"), 1)
	pages, err := story.Site(t.Context(), open(t, src), story.Options{Reader: story.Customer})
	if err != nil {
		t.Fatal(err)
	}
	delete(pages, "style.css")
	for name, page := range pages {
		text := entities.Replace(tag.ReplaceAllString(script.ReplaceAllString(string(page), " "), "\n"))
		for _, found := range append(point.FindAllString(text, -1), signed.FindAllString(string(page), -1)...) {
			t.Errorf("%s says %q", name, found)
		}
	}
	if story := string(pages["skerry-10.html"]); !strings.Contains(story, "2,3\u00a0g (0,08\u00a0oz)") || !strings.Contains(story, "0,16\u00a0mm") {
		t.Error("it has not two units with a comma")
	}
}
