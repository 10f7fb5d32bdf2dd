package gitstore

import (
	"context"
	"errors"
	"os"
	"path"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

func TestTagIsWhatGitWrites(t *testing.T) {
	r := newRange(t)
	s := r.open()
	err := s.Tag(context.Background(), catalogue.Tag{
		Name: "skerry-10/2025", State: r.head(), When: at(0), Message: "for sale\n\nFigures: 1\n",
	})
	if err != nil {
		t.Fatal(err)
	}
	r.git("tag", "-a", "-m", "for sale\n\nFigures: 1", "native", "HEAD")
	want := strings.Replace(r.git("cat-file", "tag", "native"), "tag native", "tag skerry-10/2025", 1)
	if diff := cmp.Diff(want, r.git("cat-file", "tag", "skerry-10/2025")); diff != "" {
		t.Errorf("(-native +here):\n%s", diff)
	}
	r.clean()
}

func TestTagRefuses(t *testing.T) {
	for name, row := range map[string]struct {
		tag  string
		says string
		is   error
	}{
		"the same name":             {"skerry-10/2025", "skerry-10/2025", catalogue.ErrTagTaken},
		"a packed name":             {"skerry-10/2024", "skerry-10/2024", catalogue.ErrTagTaken},
		"a name above another":      {"skerry-10", "skerry-10/202", catalogue.ErrTagTaken},
		"a name below another":      {"skerry-10/2025/a", "skerry-10/2025", catalogue.ErrTagTaken},
		"a name below a packed one": {"skerry-10/2024/a", "skerry-10/2024", catalogue.ErrTagTaken},
		"locked":                    {"locked", "locked.lock", nil},
		"no name":                   {"", "cannot be the name of a tag", nil},
		"a space":                   {"a b", "cannot be the name of a tag", nil},
		"dots":                      {"a..b", "cannot be the name of a tag", nil},
		"upwards":                   {"../../x", "cannot be the name of a tag", nil},
		"a leading dash":            {"-d", "cannot be the name of a tag", nil},
		"a doubled slash":           {"a//b", "cannot be the name of a tag", nil},
		"the end of a lock":         {"a.lock/b", "cannot be the name of a tag", nil},
		"a line end":                {"a\nb", "cannot be the name of a tag", nil},
		"an at sign alone":          {"@", "cannot be the name of a tag", nil},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			r.git("tag", "skerry-10/2024")
			r.git("pack-refs", "--all")
			r.git("tag", "skerry-10/2025")
			r.write(".git/refs/tags/locked.lock", "")
			before := r.snapshot()
			s := r.open()
			s.patience = lockInterval
			err := s.Tag(context.Background(), catalogue.Tag{Name: row.tag, State: r.head(), Message: "for sale"})
			wantError(t, err, row.says)
			if row.is != nil && !errors.Is(err, row.is) {
				t.Errorf("error %v is no %v", err, row.is)
			}
			if diff := cmp.Diff(before, r.snapshot()); diff != "" {
				t.Errorf("the repository was altered (-before +after):\n%s", diff)
			}
		})
	}
}

// Names are right or wrong as git check-ref-format has them.
func TestTagNamesAgainstGit(t *testing.T) {
	r := newRepo(t)
	for _, name := range []string{
		"2025", "a/b", "a/b/c", "é/ü", "a.b", "a-b", "a@b", "{", "a@{b", "@", "a/@", ".a", "a/.b", "a.", "a./b", "a/",
		"/a", "a//b", "a.lock", "a.lock/b", "a.lockb", "a b", "a~b", "a^b", "a:b", "a?b", "a*b", "a[b", "a]b", `a\b`, "a..b",
		"a\tb", "a\x7fb", "", "HEAD", "a.b.lock",
	} {
		native := r.command("check-ref-format", "refs/tags/"+name).Run() == nil
		// refs/tags/@ is a ref, but @ alone stands for HEAD, and the library takes it for
		// no part of a name.
		if ours := checkRefName(name) == nil; ours != native && path.Base(name) != "@" {
			t.Errorf("%q: taken here %t, by git %t", name, ours, native)
		}
	}
}

func TestTagsAreRead(t *testing.T) {
	r := newRange(t)
	head := r.head()
	r.git("tag", "plain")
	r.git("tag", "-a", "-m", "for sale", "annotated")
	r.git("-c", "advice.nestedTag=false", "tag", "-a", "-m", "again", "nested", "annotated")
	r.git("pack-refs", "--all")
	r.git("tag", "-a", "-m", "first line\n\n-----BEGIN SSH SIGNATURE-----\nabc\n-----END SSH SIGNATURE-----", "signed")
	r.git("tag", "of-a-tree", "HEAD^{tree}")
	r.git("tag", "of-a-file", "HEAD:range.yaml")
	r.write(".git/refs/tags/lost", strings.Repeat("1", 40)+"\n")
	r.write(".git/refs/tags/empty", "")
	log := readLog(t, r.open())

	author := "Isla Reed <isla@skerry.example>"
	want := []catalogue.Tag{
		{Name: "annotated", State: head, When: at(0), Author: author, Message: "for sale\n"},
		{Name: "nested", State: head, When: at(0), Author: author, Message: "again\n"},
		{Name: "plain", State: head},
		{Name: "signed", State: head, When: at(0), Author: author, Message: "first line\n\n"},
	}
	for i := range want {
		want[i].ID = r.git("rev-parse", want[i].Name)
		if want[i].Message != "" {
			want[i].Named = want[i].Name
		}
	}
	if diff := cmp.Diff(want, log.Tags); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	for _, note := range []string{"of-a-tree", "of-a-file", "lost", "empty"} {
		hasNote(t, log, note)
	}
	if len(log.Notes) != 4 {
		t.Errorf("%d notes: %v", len(log.Notes), log.Notes)
	}
}

// A tag whose commit no branch reaches is part of the history.
func TestTagsReachStates(t *testing.T) {
	r := newRange(t)
	r.git("checkout", "-q", "--detach")
	lone := r.commit("a trial")
	r.git("tag", "trial")
	r.git("checkout", "-q", "main")
	log := quietLog(t, r.open())
	if len(log.States) != 2 || log.States[1].ID != lone && log.States[0].ID != lone {
		t.Errorf("states %v, want %s among them", ids(log), lone)
	}
}

// Packing refs may leave folders behind where a tag is to go.
func TestTagTakesThePlaceOfEmptyFolders(t *testing.T) {
	r := newRange(t)
	r.write(".git/refs/tags/a/b/c", r.head())
	if err := os.Remove(r.path(".git/refs/tags/a/b/c")); err != nil {
		t.Fatal(err)
	}
	if err := r.open().Tag(context.Background(), catalogue.Tag{Name: "a", State: r.head(), Message: "for sale"}); err != nil {
		t.Fatal(err)
	}
	r.clean()
}

// TestTagOfTwoRanges holds that a tag never speaks of two models at once.
func TestTagOfTwoRanges(t *testing.T) {
	for name, row := range map[string]struct {
		other string // a spec elsewhere in the repository
		mark  string // a file beside its folder
		says  string
	}{
		"of the same name in another range":  {other: "sea/models/skerry-10.yaml", mark: "sea/range.yaml", says: "sea/models/skerry-10.yaml"},
		"of another name in another range":   {other: "sea/models/wrack-9.yaml", mark: "sea/range.yaml"},
		"of a longer name in another range":  {other: "sea/models/my-skerry-10.yaml", mark: "sea/range.yaml"},
		"in a folder that is no range":       {other: "sea/models/skerry-10.yaml", mark: "sea/notes.yaml"},
		"in a folder of the same end's name": {other: "sea/old-models/skerry-10.yaml", mark: "sea/range.yaml"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			r.write(row.other, "name: Other\n")
			r.write(row.mark, "maker: x\n")
			r.commit("another range")
			err := r.open().Tag(context.Background(), catalogue.Tag{Name: "skerry-10/2025", State: r.head(), Message: "for sale"})
			if row.says == "" {
				if err != nil {
					t.Fatal(err)
				}
				return
			}
			wantError(t, err, row.says)
			if tags := r.git("tag"); tags != "" {
				t.Errorf("there is a tag for all that: %s", tags)
			}
		})
	}
}
