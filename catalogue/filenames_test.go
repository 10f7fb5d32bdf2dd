package catalogue

import (
	"context"
	"errors"
	"strings"
	"testing"

	"rodlore/models"
)

// Names that not every system can have, or that no command can name, are told,
// are not saved for the first time, and keep nothing else from being saved.
func TestUnfitNames(t *testing.T) {
	for name, want := range map[string]string{
		"a@b":             `has an "@"`,
		`a\b`:             `has a \`,
		"a:b":             "has a :",
		"con":             "a device on Windows",
		"LPT1.old":        "a device on Windows",
		"a\xffb":          "not UTF-8",
		"a\x1bb":          "does not show",
		"a\nb":            "does not show",
		"-x":              `begins with "-"`,
		" x":              "a space",
		"Skerry-10":       "but for capitals",
		"Gro\u0308ße-7":   "but for capitals",
		"gro\u0308ße-7":   "but for how its accents",
		"conger":          "",
		"skerry 10":       "more than small letters",
		"Conger-8":        "more than small letters",
		"conger_8":        "more than small letters",
		"conger-":         "more than small letters",
		"größe-9":         "",
		"$(touch PWN)":    "more than small letters",
		"skerry-10-tip":   "",
		"compact":         "",
		"skerry-10.2":     "",
		"nulla":           "",
		"o'brien":         "more than small letters",
		"\u05e9\u05dc":    "",
		"a\u202egnp.exe":  "does not show",
		"aux.models.long": "a device on Windows",
	} {
		m := newMemory()
		spec := testModel("Skerry")
		m.commit("begin", nil, map[string]string{"range.yaml": "maker: x\n", "parts.yaml": testParts, "materials.yaml": testMaterials, "models/skerry-10.yaml": spec, "models/größe-7.yaml": spec})
		file := "models/" + name + ".yaml"
		m.working[file] = spec
		r, err := Open(context.Background(), m)
		if err != nil {
			t.Fatal(err)
		}
		faults, err := r.Check(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		told := ""
		for _, f := range faults {
			if f.Pos.File == file && strings.Contains(f.Msg, "name of the file") {
				told = f.Msg
			}
		}
		if (told == "") != (want == "") || !strings.Contains(told, want) {
			t.Errorf("%q is told as %q, not as %q", name, told, want)
		}
		if want == "" {
			continue
		}
		var refused models.Faults
		if _, err := r.Save(context.Background(), SaveRequest{Files: []string{file}, Why: "x"}); !errors.As(err, &refused) {
			t.Errorf("%q was saved: %v", name, err)
		}
		m.working["models/skerry-10.yaml"] = strings.Replace(spec, "length:", "# edited\nlength:", 1)
		if _, err := r.Save(context.Background(), SaveRequest{Models: []string{"skerry-10"}, Why: "x"}); err != nil {
			t.Errorf("%q keeps skerry-10 from being saved: %v", name, err)
		}
	}
}

func TestMayAdd(t *testing.T) {
	m := newMemory()
	m.commit("begin", nil, map[string]string{"range.yaml": "maker: x\n", "models/Skerry-10.yaml": testModel("Skerry")})
	r, err := Open(context.Background(), m)
	if err != nil {
		t.Fatal(err)
	}
	for model, fine := range map[string]bool{"skerry-10": false, "con": false, "gull-9": true} {
		if err := r.MayAdd(model); (err == nil) != fine {
			t.Errorf("%s: %v", model, err)
		}
	}
}
