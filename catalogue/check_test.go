package catalogue

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestCheck(t *testing.T) {
	m := twoModels()
	m.working[partsFile] = strings.Replace(testParts, "mass: 2.4 g", "mass: 2.4", 1)
	m.working["models/brook.yaml"] = strings.Replace(testModel("Brook"), "name:", "nmae:", 1)
	tests := []struct {
		name   string
		models []string
		files  []string // of the faults, in order
	}{
		{"all", nil, []string{"models/brook.yaml", "models/brook.yaml", partsFile}},
		{"one, with the shared files", []string{"ditch"}, []string{partsFile}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			faults, err := m.open(t).Check(t.Context(), test.models...)
			if err != nil {
				t.Fatal(err)
			}
			var files []string
			for _, f := range faults {
				files = append(files, f.Pos.File)
			}
			// A fault in the parts is told once and not by every model again.
			if !slices.Equal(files, test.files) {
				t.Errorf("faults in %v, not in %v:\n%v", files, test.files, faults)
			}
		})
	}
}

func TestCheckFindsNothing(t *testing.T) {
	if faults, err := twoModels().open(t).Check(t.Context()); faults != nil || err != nil {
		t.Errorf("got %v, %v", faults, err)
	}
}

func TestCheckUnknownModel(t *testing.T) {
	if _, err := twoModels().open(t).Check(t.Context(), "broook"); !errors.Is(err, ErrNotFound) || !strings.Contains(err.Error(), "did you mean brook?") {
		t.Errorf("got %v", err)
	}
}

func TestFolder(t *testing.T) {
	dir := t.TempDir()
	for file, content := range twoModels().working {
		path := filepath.Join(dir, filepath.FromSlash(file))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(content), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, rangeFile), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	src, err := OpenFolder(filepath.Join(dir, modelsFolder))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Open(context.Background(), src)
	if err != nil {
		t.Fatal(err)
	}
	if names, err := r.Models(); err != nil || !slices.Equal(names, []string{"brook", "ditch"}) {
		t.Errorf("models %v, %v", names, err)
	}
	rev, err := r.Find("brook", "")
	if err != nil || rev.Status != Draft {
		t.Fatalf("got %+v, %v", rev, err)
	}
	if _, err := r.Figures(rev); err != nil {
		t.Error(err)
	}
	if _, err := r.Save(context.Background(), SaveRequest{Why: "a reason"}); !errors.Is(err, ErrNoHistory) {
		t.Errorf("a save without a repository gave %v", err)
	}
}

func TestFolderWithoutRange(t *testing.T) {
	if _, err := OpenFolder(t.TempDir()); err == nil {
		t.Error("a folder without range.yaml passed for a range")
	}
}

// TestCheckTellsWhatCannotBeSaved holds that a file that git would store otherwise
// is told before anybody tries to save it.
func TestCheckTellsWhatCannotBeSaved(t *testing.T) {
	m := twoModels()
	m.refused = map[string]error{"models/ditch.yaml": errors.New("it is to be encrypted")}
	faults, err := m.open(t).Check(context.Background())
	if err != nil || len(faults) != 1 || faults[0].Error() != "models/ditch.yaml:1:1: it is to be encrypted" {
		t.Errorf("faults are %v, %v", faults, err)
	}
}
