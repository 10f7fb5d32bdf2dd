package gitstore

import (
	"os"
	"strings"
	"testing"
)

// TestMissing takes objects out of a repository: what was lost is told, whether or
// not the history was kept from an earlier reading, and of a whole one nothing is.
func TestMissing(t *testing.T) {
	for name, row := range map[string]struct {
		lost string // the object, as git names it
		want []string
	}{
		"nothing":                {"", nil},
		"an old state's root":    {"HEAD^^{tree}", []string{"what saved state", "held is lost"}},
		"an old state's folder":  {"HEAD^^:models", []string{"the folder models of saved state", "is missing from the repository"}},
		"an old file":            {"HEAD^:models/skerry-10.yaml", []string{"1 saved files are missing", "models/skerry-10.yaml of 2023-11-14"}},
		"an old state":           {"HEAD^", []string{"was left out of the history", "is missing"}},
		"the last state":         {"HEAD", []string{"was left out of the history", "is missing"}},
		"the file of all states": {"HEAD:range.yaml", []string{"1 saved files are missing", "range.yaml of"}},
	} {
		t.Run(name, func(t *testing.T) {
			r, _ := threeStates(t)
			quietLog(t, r.open()) // keeps all
			if row.lost != "" {
				if err := os.Remove(r.object(row.lost)); err != nil {
					t.Fatal(err)
				}
			}
			for _, kept := range []bool{true, false} {
				if !kept {
					removeOwn(r)
				}
				missing, err := r.open().Missing(t.Context())
				if err != nil {
					t.Fatal(err)
				}
				var told strings.Builder
				for _, m := range missing {
					told.WriteString(m.Error() + "\n")
				}
				if (told.Len() == 0) != (row.want == nil) {
					t.Errorf("kept %v: %s", kept, &told)
				}
				for _, want := range row.want {
					if !strings.Contains(told.String(), want) {
						t.Errorf("kept %v: it does not say %q:\n%s", kept, want, &told)
					}
				}
			}
		})
	}
}

// TestMissingOfAPartialClone holds that a clone without old files says what it lacks
// and how to have it, whatever is known of the files from elsewhere.
func TestMissingOfAPartialClone(t *testing.T) {
	r, _ := threeStates(t)
	r.git("config", "uploadpack.allowFilter", "true")
	partial := &repo{t, r.clone("partial", "--filter=blob:none")}
	for range 2 {
		s := partial.open()
		quietLog(t, s)
		missing, err := s.Missing(t.Context())
		if err != nil || len(missing) != 1 {
			t.Fatalf("missing %v, error %v", missing, err)
		}
		wantError(t, missing[0], "2 saved files are not in this clone, which is a partial one", "git fetch --refetch --no-filter")
	}
}
