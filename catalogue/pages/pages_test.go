package pages_test

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
	"rodlore/cmd/rodlore/demo"
	"rodlore/models"
)

// model is one of the demo's models: what went on sale, and how it stands.
type model struct {
	releases []pages.Labelled // oldest first
	now      *models.Spec
}

// theRange is the demo, read once for all tests.
var theRange = sync.OnceValues(func() (map[string]*model, error) {
	states, err := demo.States()
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	found := map[string]*model{}
	for _, state := range states {
		maps.Copy(files, state.Files)
		for _, r := range state.Releases {
			spec, err := resolved(files, r.Model)
			if err != nil {
				return nil, err
			}
			if found[r.Model] == nil {
				found[r.Model] = &model{}
			}
			found[r.Model].releases = append(found[r.Model].releases, pages.Labelled{Label: r.Label, Spec: spec})
		}
	}
	for file, src := range files {
		name, ok := strings.CutSuffix(strings.TrimPrefix(file, "models/"), ".yaml")
		if !ok || src == nil || !strings.HasPrefix(file, "models/") {
			continue
		}
		if found[name] == nil {
			found[name] = &model{}
		}
		if found[name].now, err = resolved(files, name); err != nil {
			return nil, err
		}
	}
	return found, nil
})

// resolved is a model of the demo as the files have it.
func resolved(files map[string][]byte, name string) (*models.Spec, error) {
	parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
	if err != nil {
		return nil, err
	}
	materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	if err != nil {
		return nil, err
	}
	file := "models/" + name + ".yaml"
	return models.ParseSpec(file, files[file], parts, materials)
}

// names are the models that are there today.
func names(t testing.TB) []string {
	t.Helper()
	found, err := theRange()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for name, m := range found {
		if m.now != nil {
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

func modelOf(t testing.TB, name string) *model {
	t.Helper()
	found, err := theRange()
	if err != nil {
		t.Fatal(err)
	}
	return found[name]
}

// pensWords are the words of all pens.
var pensWords = say.English()

// pens are the pens that pictures are made with, by what for.
func pens() map[string]pages.Pen {
	set := models.DefaultSettings()
	return map[string]pages.Pen{"screen": pages.Screen(pensWords, set), "print": pages.Print(pensWords, set)}
}

// picture is what a drawing function gave, where nothing may go wrong.
func picture(t testing.TB) func(*drawing.Picture, error) *drawing.Picture {
	return func(p *drawing.Picture, err error) *drawing.Picture {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

// keep writes a picture to the folder that PICTURES names, with its style sheet, to
// look at.
func keep(t testing.TB, name string, p *drawing.Picture) {
	dir := os.Getenv("PICTURES")
	if dir == "" {
		return
	}
	for file, content := range map[string][]byte{name + ".svg": p.SVG(), "style.css": []byte(drawing.CSS())} {
		if err := os.WriteFile(filepath.Join(dir, file), content, 0o600); err != nil {
			t.Fatal(err)
		}
	}
}
