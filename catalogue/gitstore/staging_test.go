package gitstore

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// indexFiles is indexes as native git writes them, by what is odd about them.
func indexFiles(t testing.TB) map[string][]byte {
	files := map[string][]byte{}
	for name, prepare := range map[string]func(r *repo){
		"plain":     func(r *repo) {},
		"version 4": func(r *repo) { r.git("update-index", "--index-version", "4") },
		"flags": func(r *repo) {
			r.write("new.txt", "x")
			r.git("add", "-N", "new.txt")
			r.git("update-index", "--assume-unchanged", "range.yaml")
			r.git("update-index", "--skip-worktree", "parts.yaml")
		},
		"flags in version 4": func(r *repo) {
			r.git("update-index", "--index-version", "4")
			r.git("update-index", "--skip-worktree", "parts.yaml")
		},
		"long names": func(r *repo) {
			for i := range 40 {
				r.write(strings.Repeat("a folder/", 30)+fmt.Sprint(strings.Repeat("f", 3*i), i), "x")
			}
			r.git("add", "-A")
		},
		"a conflict settled": func(r *repo) {
			conflict(r)
			r.write("parts.yaml", "settled\n")
			r.git("add", "parts.yaml")
		},
		"a conflict": conflict,
	} {
		r := newRange(t)
		prepare(r)
		raw, err := os.ReadFile(r.path(".git/index"))
		if err != nil {
			t.Fatal(err)
		}
		files[name] = raw
	}
	return files
}

// conflict merges two branches that have altered the same line.
func conflict(r *repo) {
	r.git("checkout", "-q", "-b", "trial")
	r.write("parts.yaml", "one\n")
	r.commit("one")
	r.git("checkout", "-q", "main")
	r.write("parts.yaml", "other\n")
	r.commit("other")
	if out, err := r.command("merge", "trial").CombinedOutput(); err == nil {
		r.t.Fatalf("no conflict: %s", out)
	}
}

// An index read and written is the same, entry by entry, to native git.
func TestStagingIsWrittenAsRead(t *testing.T) {
	for name, raw := range indexFiles(t) {
		t.Run(name, func(t *testing.T) {
			index, err := parseStaging(raw)
			if err != nil {
				t.Fatal(err)
			}
			if (index.conflict() != "") != (name == "a conflict") {
				t.Errorf("conflict %q", index.conflict())
			}
			r := newRange(t)
			list := func(content []byte) string {
				if err := os.WriteFile(r.path(".git/index"), content, 0o666); err != nil {
					t.Fatal(err)
				}
				return r.git("ls-files", "--stage", "--debug", "-t", "-v") + r.git("ls-files", "--resolve-undo")
			}
			if diff := cmp.Diff(list(raw), list(index.format())); diff != "" {
				t.Errorf("(-read +written):\n%s", diff)
			}
		})
	}
}

func FuzzParseStaging(f *testing.F) {
	for _, raw := range indexFiles(f) {
		// Without a sum, as git may be told to write it, the fuzzer gets further.
		f.Add(append(bytes.Clone(raw[:len(raw)-20]), make([]byte, 20)...))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		index, err := parseStaging(raw)
		if err != nil {
			return
		}
		again, err := parseStaging(index.format())
		if err != nil {
			t.Fatalf("written again: %v", err)
		}
		if len(again.entries) != len(index.entries) {
			t.Errorf("%d entries, %d before", len(again.entries), len(index.entries))
		}
	})
}

func TestSaveIntoAConflict(t *testing.T) {
	r := newRange(t)
	conflict(r)
	if err := os.Remove(r.path(".git/MERGE_HEAD")); err != nil {
		t.Fatal(err)
	}
	_, err := r.save(r.open(), map[string]string{"models/b.yaml": "name: B\n"})
	wantError(t, err, "parts.yaml is still undecided", "git add parts.yaml")
}
