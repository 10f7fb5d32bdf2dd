package story_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/say"
	"rodlore/cmd/rodlore/demo"
	"rodlore/models"
)

// TestNothingIsSaidBothWays holds, for pages of random pairs of rods as two releases,
// that no figure has changed in one sentence and is as before in another.
func TestNothingIsSaidBothWays(t *testing.T) {
	said := claims(t)
	r := rand.New(rand.NewPCG(7, 13))
	rods := everyRod(t)
	both := 0 // figures of which something is said
	for range 6 {
		i, j := r.IntN(len(rods)), r.IntN(len(rods))
		if r.IntN(2) == 0 { // rods that stand near each other have more in common
			j = (i + 1) % len(rods)
		}
		src := twoReleases(rods[i], rods[j])
		d, err := story.Of(t.Context(), open(t, src), "rod", story.Options{Reader: story.Customer})
		if err != nil {
			continue // a spec with faults has no story
		}
		page := text(t, d)
		page, _, _ = strings.Cut(page, "## Why ") // behind it other rods are compared, and what follows says it again
		for key, of := range said {
			changed, same := of.changed.FindString(page), of.same.FindString(page)
			if changed != "" && same != "" {
				t.Errorf("rods %d and %d, %s: %q and %q", i, j, key, changed, same)
			}
			if changed+same != "" {
				both++
			}
		}
	}
	if both < 6 {
		t.Errorf("too few cases: %d figures", both)
	}
}

// claim is how a page says that a figure changed and that it is as before.
type claim struct{ changed, same *regexp.Regexp }

// claims are those of the sentences, by figure.
func claims(t testing.TB) map[string]claim {
	t.Helper()
	texts, err := models.ParseTexts("english.yaml", say.File())
	if err != nil {
		t.Fatal(err)
	}
	changed, same := map[string][]string{}, map[string][]string{}
	filled := regexp.MustCompile(`\\\{[^}]*\\\}`)
	for _, text := range texts.All {
		path := strings.Split(text.Path, ".")
		if len(path) != 3 || path[0] != "shifts" && path[0] != "opening" {
			continue
		}
		pattern := filled.ReplaceAllString(regexp.QuoteMeta(text.Text), `[^.;]*?`)
		switch path[2] {
		case "up", "down":
			changed[path[1]] = append(changed[path[1]], pattern)
		case "same", "design":
			same[path[1]] = append(same[path[1]], pattern)
		}
	}
	all := map[string]claim{}
	for key := range changed {
		if len(same[key]) > 0 {
			all[key] = claim{regexp.MustCompile(strings.Join(changed[key], "|")), regexp.MustCompile(strings.Join(same[key], "|"))}
		}
	}
	if len(all) < 20 {
		t.Fatalf("%d figures", len(all))
	}
	return all
}

// rodFiles are the files that a rod of the demo hangs on, as they stood at some time.
type rodFiles struct{ model, parts, materials, settings []byte }

// everyRod are the models of the demo in every state.
func everyRod(t testing.TB) []rodFiles {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	var all []rodFiles
	for _, state := range states {
		maps.Copy(files, state.Files)
		for _, path := range slices.Sorted(maps.Keys(state.Files)) {
			if strings.HasPrefix(path, "models/") && files[path] != nil {
				all = append(all, rodFiles{files[path], files["parts.yaml"], files["materials.yaml"], files["range.yaml"]})
			}
		}
	}
	return all
}

// twoReleases is a range of one model that was one rod and is another.
func twoReleases(was, is rodFiles) *saved {
	s := &saved{files: map[string][]byte{}, blobs: map[string][]byte{}}
	for i, rod := range []rodFiles{was, is} {
		files := map[string][]byte{"models/rod.yaml": rod.model, "parts.yaml": rod.parts, "range.yaml": rod.settings}
		if rod.materials != nil {
			files["materials.yaml"] = rod.materials
		}
		s.save(demo.State{
			When: time.Date(2020+i, 1, 1, 9, 0, 0, 0, time.UTC), Author: "Maker <maker@example.org>", Why: "another rod",
			Files: files, Releases: []demo.Release{{Model: "rod", Label: fmt.Sprint(2020 + i)}},
		})
	}
	return s
}
