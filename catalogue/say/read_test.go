package say

import (
	"errors"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

func TestReadIsWhatFileGives(t *testing.T) {
	w, err := Read("words.yaml", File())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(English().texts, w.texts); diff != "" {
		t.Error(diff)
	}
}

func TestReadOverEnglish(t *testing.T) {
	w := mustRead(t, "shifts: {weight: {down: 'Lighter by {change}{like}.'}}\n")
	if got, want := w.Say("shifts.weight.down", "change", "7 g", "like", ""), "Lighter by 7 g."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := w.Name("weight"); got != "weight" {
		t.Errorf("the name is %q", got)
	}
	if w.Language() != "en" {
		t.Errorf("the language is %q", w.Language())
	}
}

func TestReadAnotherLanguage(t *testing.T) {
	src := strings.Replace(string(File()), "language: en", "language: nl", 1)
	src = strings.Replace(src, "decimal: point", "decimal: comma", 1)
	w := mustRead(t, src)
	if w.Language() != "nl" || !w.Comma() {
		t.Errorf("language %s, comma %v", w.Language(), w.Comma())
	}
}

func TestReadFaults(t *testing.T) {
	tests := []struct{ name, src, want string }{
		{"an unknown text", "shifts: {weight: {dwon: x}}",
			"words.yaml:1:25: shifts.weight.dwon: unknown text; did you mean shifts.weight.down?"},
		{"a text that has forms", "pictures: {swing: {title: x}}",
			"words.yaml:1:27: pictures.swing.title: has a form for every kind of number; write one: and other: below it"},
		{"a placeholder missing", "shifts: {weight: {down: 'Lighter by {change}.'}}",
			"words.yaml:1:25: shifts.weight.down: {like} is missing; it is filled in and must stay"},
		{"a placeholder unknown", "names: {weight: '{mass}'}",
			"words.yaml:1:17: names.weight: {mass} means nothing here; nothing is filled in"},
		{"a placeholder of another text", "shifts: {weight: {same: 'As heavy as {old}.', down: 'Lighter by {change}{like}, {n}.'}}",
			"words.yaml:1:25: shifts.weight.same: {old} means nothing here; nothing is filled in\n" +
				"words.yaml:1:53: shifts.weight.down: {n} means nothing here; there is {change}, {like}"},
		{"no language", "language: englisch\n",
			"words.yaml:1:11: language: \"englisch\" is no code of a language; write one such as de or pt-BR"},
		{"no decimal", "decimal: dot\n", "words.yaml:1:10: decimal: \"dot\" is unknown; expected point or comma"},
		{"the number in words", "likes: {sheets: {one: ', ein Blatt'}}", ""},
		{"the number left out", "likes: {sheets: {other: ', viele Blatt'}}",
			"words.yaml:1:25: likes.sheets.other: {n} is missing; it is filled in and must stay"},
		{"a form that English has not", "likes: {sheets: {few: ', {n} kartki'}}", ""},
		{"a form of something not counted", "names: {few: x}", "words.yaml:1:14: names.few: unknown text"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := Read("words.yaml", []byte(test.src))
			got := ""
			if err != nil {
				got = err.Error()
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Of names that are equally near the same one is offered every time.
func TestReadOffersTheSame(t *testing.T) {
	want := "words.yaml:1:28: yearbook.repairs.true: unknown text; did you mean yearbook.repairs.done?"
	for range 20 {
		if _, err := Read("words.yaml", []byte("yearbook: {repairs: {true: x}}")); err == nil || err.Error() != want {
			t.Fatalf("got  %v\nwant %s", err, want)
		}
	}
}

func TestAnotherLanguageMustBeWhole(t *testing.T) {
	src := strings.Replace(string(File()), "language: en", "language: de", 1)
	src = strings.Replace(src, "    same: It weighs the same.\n", "", 1)
	_, err := Read("words.yaml", []byte(src))
	want := `words.yaml:1:1: shifts.weight.same: is missing; in English it is "It weighs the same."`
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// TestTranslationBegun tells a translator how much there is to do in one line, and
// what is wrong with what is done besides.
func TestTranslationBegun(t *testing.T) {
	_, err := Read("words.yaml", []byte("language: de\nstory: {title: Das Modell}\n"))
	var faults models.Faults
	if !errors.As(err, &faults) || len(faults) != 2 {
		t.Fatalf("got %v, want two faults", err)
	}
	all := len(English().texts)
	if text := faults[0].Error(); !regexp.MustCompile(`^words\.yaml:1:1: .*: is missing; in English it is .*; so are \d+ more of ` + strconv.Itoa(all) + ` sentences, from `).MatchString(text) {
		t.Errorf("got %s", text)
	}
	if text := faults[1].Error(); !strings.HasSuffix(text, "story.title: {model} is missing; it is filled in and must stay") {
		t.Errorf("got %s", text)
	}
}
