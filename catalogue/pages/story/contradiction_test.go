package story_test

import (
	"bytes"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/say"
	"rodlore/cmd/rodlore/demo"
	"rodlore/diffing"
	"rodlore/models"
)

// TestNothingIsSaidBothWays holds, for whole pages of random pairs of rods as two
// releases, that no figure has changed in one sentence and is as before in another,
// nor grown in one and shrunk in another, and that what is said to be as before is
// proven by the pairs of rods built to the two specs.
func TestNothingIsSaidBothWays(t *testing.T) {
	const pairs, among = 30, 12 // few rods in many pairs, so that what is worked out of each is kept
	said := claims(t)
	r := rand.New(rand.NewPCG(7, 13))
	all := everyRod(t)
	var rods []rodFiles
	for len(rods) < among {
		i := r.IntN(len(all) - 1)
		rods = append(rods, all[i], all[i+1])
	}
	kept := cache.Open(t.TempDir(), nil, "pairs")
	stayed, changed, compared := 0, 0, 0
	for range pairs {
		i, j := r.IntN(among), r.IntN(among)
		if r.IntN(3) > 0 { // the two of a model have more in common
			j = i ^ 1
		}
		ring := open(t, twoReleases(rods[i], rods[j]))
		ring.Keep(kept)
		d, err := story.Of(t.Context(), ring, "rod", story.Options{Reader: story.Customer})
		if err != nil {
			t.Log(err)
			continue // a spec with faults has no story
		}
		page, counts := parted(text(t, d))
		shifts := betweenReleases(t, ring, "rod")
		for key, of := range said {
			same := of.same.FindString(page)
			ways := slices.DeleteFunc([]string{of.up.FindString(page), of.down.FindString(page), same}, func(s string) bool { return s == "" })
			if len(ways) > 1 {
				t.Errorf("rods %d and %d, %s: %q", i, j, key, ways)
			}
			if same != "" && !proven(shifts[key], of.designed.MatchString(page)) {
				t.Errorf("rods %d and %d, %s: %q is not proven", i, j, key, same)
			}
			if len(ways) > 0 && same == "" {
				changed++
			} else if same != "" {
				stayed++
			}
			for _, lists := range counts {
				ours, theirs := of.changed().FindString(lists[0]), of.changed().FindString(lists[1])
				if ours != "" && theirs != "" {
					t.Errorf("rods %d and %d, %s is better of both: %q and %q", i, j, key, ours, theirs)
				}
				if ours+theirs != "" {
					compared++
				}
			}
		}
	}
	t.Logf("%d figures changed, %d stayed, %d compared by count", changed, stayed, compared)
	if stayed < 10 || changed < 50 || compared < 100 {
		t.Error("too few cases")
	}
}

// TestOpeningIsNoticed holds that a page begins with nothing that nobody would notice,
// though it changed for certain and is told of further down.
func TestOpeningIsNoticed(t *testing.T) {
	r, small := open(t, demoSource(t, nil)), 0
	for _, model := range released {
		lead, _, _ := strings.Cut(text(t, tell(t, r, model, story.Options{Reader: story.Customer})), "\n> ")
		for key, s := range betweenReleases(t, r, model) {
			path := "opening." + key + ".down"
			if s.Change > 0 {
				path = "opening." + key + ".up"
			}
			if !say.English().Has(path) || !s.Within() {
				continue
			}
			small++
			clause := regexp.MustCompile(say.English().Say(path, "change", `\S+ \S+`, "percent", `\d+`))
			if said := clause.FindString(strings.ReplaceAll(lead, "\u00a0", " ")); said != "" {
				t.Errorf("%s begins with %q", model, said)
			}
		}
	}
	if small == 0 {
		t.Error("too few cases")
	}
}

// proven reports whether what became of a figure may be called the same: hardly any
// pair of rods differs by what is noticed, or, where that is said of the two designs,
// these differ by less than half of it.
func proven(s diffing.Shift, ofDesign bool) bool {
	change := s.InPairs()
	if ofDesign {
		return math.Abs(s.Change)+s.Error < s.Noticed/2
	}
	return s.Change == 0 && change.Tolerance == 0 || math.Abs(change.Mean)+change.Tolerance <= s.Noticed
}

// betweenReleases is what became of each figure from the first release to the last.
func betweenReleases(t *testing.T, r *catalogue.Range, model string) map[string]diffing.Shift {
	t.Helper()
	revs, err := r.Revisions(model)
	if err != nil {
		t.Fatal(err)
	}
	revs = slices.DeleteFunc(slices.Clone(revs), func(rev *catalogue.Revision) bool { return rev.Status != catalogue.Released })
	step, err := r.Compare(t.Context(), revs[len(revs)-1], revs[0])
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]diffing.Shift{}
	for _, s := range step.Shifts {
		all[s.Key] = s
	}
	return all
}

// parted is what a page says of the two releases, and for every number of rings that
// the new one is held against what either does better.
func parted(page string) (releases string, counts [][2]string) {
	const ours, theirs, whole = "**What our ", "**What ", "Count and parts together"
	head, rest, found := strings.Cut(page, "### How many rings has yours?")
	if !found {
		return page, nil
	}
	asked, tail, _ := strings.Cut(rest, "\n## ")
	for _, count := range strings.Split(asked, ours)[1:] {
		better, worse, _ := strings.Cut(count, theirs)
		worse, together, _ := strings.Cut(worse, whole)
		counts = append(counts, [2]string{better, worse})
		together, _, _ = strings.Cut(together, "\n")
		head += together + "\n"
	}
	return head + tail, counts
}

// claim is how a page says that a figure is more, is less and is as before, the last
// of them of the design as well.
type claim struct{ up, down, same, designed *regexp.Regexp }

func (c claim) changed() *regexp.Regexp {
	return regexp.MustCompile(c.up.String() + "|" + c.down.String())
}

// claims are those of the sentences, by figure.
func claims(t testing.TB) map[string]claim {
	t.Helper()
	texts, err := models.ParseTexts("english.yaml", say.File())
	if err != nil {
		t.Fatal(err)
	}
	ways := map[string]map[string][]string{}
	filled := regexp.MustCompile(`\\\{[^}]*\\\}`)
	add := func(key, way, pattern string) {
		if ways[key] == nil {
			ways[key] = map[string][]string{}
		}
		ways[key][way] = append(ways[key][way], pattern)
	}
	for _, text := range texts.All {
		path := strings.Split(text.Path, ".")
		value := `[^.;]*?`
		if path[0] == "opening" { // where several clauses make a sentence
			value = `\S*`
		}
		pattern := filled.ReplaceAllString(regexp.QuoteMeta(text.Text), value)
		switch {
		case len(path) == 3 && (path[0] == "shifts" || path[0] == "opening"):
			add(path[1], path[2], pattern)
		case text.Path == "bends.same" || text.Path == "bends.design":
			add("third-load", path[1], pattern)
		case len(path) == 3 && path[0] == "figures" && path[2] == "name": // as the picture of all figures has it
			add(path[1], "same", regexp.QuoteMeta(text.Text)+`: [^()]*\(the same\)`)
		}
	}
	all := map[string]claim{}
	for key, of := range ways {
		if len(of["same"]) > 0 && len(of["up"]) > 0 {
			all[key] = claim{
				anyOf(of["up"]), anyOf(of["down"]), anyOf(append(of["same"], of["design"]...)),
				anyOf(append(of["design"], `$never`)),
			}
		}
	}
	if len(all) < 20 {
		t.Fatalf("%d figures", len(all))
	}
	return all
}

func anyOf(patterns []string) *regexp.Regexp { return regexp.MustCompile(strings.Join(patterns, "|")) }

// rodFiles are the files that a rod of the demo hangs on, as they stood at some time.
type rodFiles struct {
	path                              string
	model, parts, materials, settings []byte
}

// everyRod are the models of the demo in every state, by model.
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
				all = append(all, rodFiles{path, files[path], files["parts.yaml"], files["materials.yaml"], files["range.yaml"]})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b rodFiles) int { return strings.Compare(a.path, b.path) })
	return all
}

// twoReleases is a range of one model that was one rod and is another.
func twoReleases(was, is rodFiles) *saved {
	s := &saved{files: map[string][]byte{}, blobs: map[string][]byte{}}
	for i, rod := range []rodFiles{was, is} {
		settings := bytes.Replace(rod.settings, []byte("  logo: logo.svg\n"), nil, 1) // the files of pictures are left out
		files := map[string][]byte{"models/rod.yaml": rod.model, "parts.yaml": rod.parts, "range.yaml": settings}
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
