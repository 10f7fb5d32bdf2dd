package story_test

import (
	"encoding/json"
	"strings"
	"testing"

	"rodlore/catalogue/pages/pagetest"
	"rodlore/catalogue/pages/story"
)

// Without scripts a load is shown, and there is no control that does nothing.
func TestBendWithoutScripts(t *testing.T) {
	page := string(html(t, tell(t, open(t, demoSource(t, nil)), "skerry-10", story.Options{Reader: story.Customer})))
	before, _, scripted := strings.Cut(page, "<script>")
	if !scripted {
		t.Fatal("the page has no script")
	}
	if !strings.Contains(before, `<path id="bend-rod-0" d="M`) || !strings.Contains(before, `id="bend-load"`) {
		t.Error("no bend is drawn")
	}
	for _, control := range []string{"<input", "<button", "<output", "onclick"} {
		if strings.Contains(before, control) {
			t.Errorf("%s is there without a script", control)
		}
	}
}

// With scripts every load of the control has its shape, its words and a name for
// people who do not see it, and the keys of the keyboard move it.
func TestBendByTheSlider(t *testing.T) {
	b := pagetest.Open(t, site(t))
	b.Show(t, "skerry-10.html", pagetest.Views[0])
	const ask = `(() => {
		const input = document.getElementById("bend-slider"), seen = [];
		for (let i = 0; i <= +input.max; i++) {
			input.value = i;
			input.dispatchEvent(new Event("input"));
			seen.push([document.getElementById("bend-rod-1").getAttribute("d"),
				document.getElementById("bend-load").textContent, input.getAttribute("aria-valuetext"),
				document.getElementById("pull-way-1").getAttribute("d"),
				document.getElementById("bend-load").closest("svg").querySelector("desc").textContent]);
		}
		input.focus();
		return JSON.stringify({label: input.labels[0].textContent, focused: document.activeElement === input, seen: seen});
	})()`
	var got struct {
		Label   string
		Focused bool
		Seen    [][5]string
	}
	if err := json.Unmarshal([]byte(b.Ask(t, ask)), &got); err != nil {
		t.Fatal(err)
	}
	if got.Label != "Weight hung from the tip:" || !got.Focused {
		t.Errorf("the control is called %q, and has the keyboard: %v", got.Label, got.Focused)
	}
	if n := len(got.Seen); n < 8 {
		t.Fatalf("%d loads", n)
	}
	shapes, loads, pulled, said := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range got.Seen {
		shapes[s[0]], loads[s[1]], pulled[s[3]], said[s[4]] = true, true, true, true
		if s[1] != s[2] {
			t.Errorf("the load %q is told as %q", s[1], s[2])
		}
	}
	if len(pulled) != len(got.Seen) || len(said) != len(got.Seen) {
		t.Errorf("%d loads give %d shapes with the line and %d descriptions", len(got.Seen), len(pulled), len(said))
	}
	if len(shapes) != len(got.Seen) || len(loads) != len(got.Seen) {
		t.Errorf("%d loads give %d shapes and %d texts", len(got.Seen), len(shapes), len(loads))
	}
	if got.Seen[0][1] != "0 g" || got.Seen[1][1] != "50.0 g" {
		t.Errorf("the loads begin with %s and %s", got.Seen[0][1], got.Seen[1][1])
	}
}

// Where the test curve alone became another, the page says why the bends under it lie on
// each other all the same.
func TestBendOfAnotherTestCurve(t *testing.T) {
	r := open(t, demoSource(t, nil))
	for model, curve := range map[string]bool{"groyne-13": true, "wrack-9": true, "skerry-10": false, "ferry-8": false} {
		_, said, _ := strings.Cut(text(t, tell(t, r, model, story.Options{Reader: story.Customer})), "## How it bends")
		said, _, _ = strings.Cut(said, "## After a cast")
		if told := strings.Contains(said, "Its test curve is"); told != curve || told != strings.Contains(said, "You will hardly see it here") {
			t.Errorf("%s: %s", model, said)
		}
	}
}

// On a screen the rods are bent a second time, folded, with the line through their
// rings, which a load hung from the tip does not show.
func TestBendWithTheLine(t *testing.T) {
	d := tell(t, open(t, demoSource(t, nil)), "groyne-13", story.Options{Reader: story.Customer})
	if said := text(t, d); !strings.Contains(said, "of pull in the line through the rings, at 90.0° to the butt") {
		t.Error("no rod is bent by its line")
	}
}
