package gitstore

import (
	"bytes"
	"context"
	"crypto/sha1"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// threeStates is a range with three states, newest first.
func threeStates(t testing.TB) (r *repo, states []string) {
	r = newRange(t)
	states = []string{r.head()}
	for _, length := range []string{"9 ft", "10 ft"} {
		r.write("models/skerry-10.yaml", "name: Skerry 10\nlength: "+length+"\n")
		states = slices.Insert(states, 0, r.commit("make it "+length))
	}
	return r, states
}

// object is the file of a loose object.
func (r *repo) object(rev string) string {
	id := r.git("rev-parse", rev)
	return r.path(".git/objects/" + id[:2] + "/" + id[2:])
}

// What is broken becomes a note, and the rest of the history is there.
func TestLogOfBrokenRepositories(t *testing.T) {
	for name, row := range map[string]struct {
		damage func(r *repo)
		states []int    // of three, newest first, that are still read
		notes  []string // in the order of the log
	}{
		"a missing commit in the middle": {
			func(r *repo) { _ = os.Remove(r.object("HEAD^")) },
			[]int{0}, []string{"left out of the history: object", "is missing"},
		},
		"a missing first commit": {
			func(r *repo) { _ = os.Remove(r.object("HEAD^^")) },
			[]int{0, 1}, []string{"is missing"},
		},
		"a commit full of zeros": {
			func(r *repo) { rewrite(r, r.object("HEAD^"), make([]byte, 50)) },
			[]int{0}, []string{"is damaged in its file"},
		},
		"an empty commit file": {
			func(r *repo) { rewrite(r, r.object("HEAD^"), nil) },
			[]int{0}, []string{"is damaged in its file"},
		},
		"a commit that is a file": {
			func(r *repo) { copyFile(r, r.object("HEAD:range.yaml"), r.object("HEAD^")) },
			[]int{0}, []string{"its content is that of another"},
		},
		"a missing tree": {
			func(r *repo) { _ = os.Remove(r.object("HEAD^^{tree}")) },
			[]int{0, 1, 2}, []string{"what saved state", "is missing", "what saved state"},
		},
		"a missing folder": {
			func(r *repo) { _ = os.Remove(r.object("HEAD^:models")) },
			[]int{0, 1, 2}, []string{"is missing", "is missing"},
		},
		"an empty branch": {
			func(r *repo) { r.write(".git/refs/heads/trial", "") },
			[]int{0, 1, 2}, []string{"refs/heads/trial is broken"},
		},
		"rubbish over a packed branch": {
			func(r *repo) {
				r.git("checkout", "-q", "-b", "other")
				r.commit("only on the other branch")
				r.git("checkout", "-q", "main")
				r.git("pack-refs", "--all")
				r.write(".git/refs/heads/other", "rubbish\n")
			},
			[]int{0, 1, 2}, []string{"refs/heads/other is broken"},
		},
		"rubbish in a branch": {
			func(r *repo) { r.write(".git/refs/remotes/x/trial", "rubbish\n") },
			[]int{0, 1, 2}, []string{"refs/remotes/x/trial is broken"},
		},
		"a branch to nowhere": {
			func(r *repo) { r.write(".git/refs/heads/trial", strings.Repeat("1", 40)+"\n") },
			[]int{0, 1, 2}, []string{"is missing"},
		},
		"the branch in hand is empty": {
			func(r *repo) {
				r.git("branch", "other")
				r.write(".git/refs/heads/main", "")
			},
			[]int{0, 1, 2}, []string{"refs/heads/main is broken", "the state in hand is not known"},
		},
		"a link between branches to nowhere": {
			func(r *repo) { r.write(".git/refs/remotes/x/HEAD", "ref: refs/remotes/x/gone\n") },
			[]int{0, 1, 2}, nil,
		},
		"branches linked in a circle": {
			func(r *repo) {
				r.write(".git/refs/heads/a", "ref: refs/heads/b\n")
				r.write(".git/refs/heads/b", "ref: refs/heads/a\n")
			},
			[]int{0, 1, 2}, nil,
		},
		"a lock left over": {
			func(r *repo) { r.write(".git/refs/heads/main.lock", "") },
			[]int{0, 1, 2}, nil,
		},
		"replaced objects": {
			func(r *repo) { r.git("replace", "HEAD", "HEAD^^") },
			[]int{0, 1, 2}, []string{"refs/replace"},
		},
		"grafts": {
			func(r *repo) { r.write(".git/info/grafts", r.head()+"\n") },
			[]int{0, 1, 2}, []string{"info/grafts"},
		},
		"a damaged index of a pack": {
			func(r *repo) { r.write(".git/objects/pack/pack-"+strings.Repeat("1", 40)+".idx", "rubbish") },
			[]int{0, 1, 2}, []string{"git index-pack"},
		},
		"a cut pack": {
			func(r *repo) { cutPack(r) },
			nil, []string{"damaged in its pack"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, states := threeStates(t)
			row.damage(r)
			for _, reading := range []string{"first", "second"} {
				log := readLog(t, r.open())
				var want []string
				for _, i := range row.states {
					want = append(want, states[i])
				}
				if diff := cmp.Diff(want, ids(log)); diff != "" {
					t.Errorf("%s reading: states (-want +got):\n%s", reading, diff)
				}
				for _, note := range row.notes {
					hasNote(t, log, note)
				}
				if row.notes == nil && len(log.Notes) > 0 {
					t.Errorf("%s reading: notes %v", reading, log.Notes)
				}
			}
		})
	}
}

func rewrite(r *repo, file string, content []byte) {
	r.t.Helper()
	if err := os.Remove(file); err != nil {
		r.t.Fatal(err)
	}
	if err := os.WriteFile(file, content, 0o444); err != nil {
		r.t.Fatal(err)
	}
}

func copyFile(r *repo, from, to string) {
	r.t.Helper()
	raw, err := os.ReadFile(from)
	if err != nil {
		r.t.Fatal(err)
	}
	rewrite(r, to, raw)
}

// packFile packs everything and gives the one pack there is.
func packFile(r *repo) string {
	r.t.Helper()
	r.git("gc", "-q")
	packs, err := filepath.Glob(r.path(".git/objects/pack/*.pack"))
	if err != nil || len(packs) != 1 {
		r.t.Fatalf("packs %v, error %v", packs, err)
	}
	return packs[0]
}

func cutPack(r *repo) { rewrite(r, packFile(r), []byte("PACK\x00\x00\x00\x02\x00\x00\x00\x01")) }

// Whatever byte of a pack is altered, what is read is right or is a note or an
// error, never something else.
func TestLogOfDamagedPacks(t *testing.T) {
	r, _ := threeStates(t)
	pack := packFile(r)
	good, err := os.ReadFile(pack)
	if err != nil {
		t.Fatal(err)
	}
	right := logLines(quietLog(t, r.open()))
	removeOwn(r)
	for at := 12; at < len(good)-20; at += 2 {
		bad := bytes.Clone(good)
		bad[at] ^= 1 << (at % 8)
		rewrite(r, pack, bad)
		s := r.open()
		log := readLog(t, s)
		if len(log.Notes) == 0 && !slices.Equal(right, logLines(log)) {
			t.Errorf("byte %d altered: another history without a note:\n%s", at, cmp.Diff(right, logLines(log)))
		}
		for _, st := range log.States {
			for _, c := range st.Changes {
				content, err := s.Blob(context.Background(), c.New)
				if err == nil && blobID(content) != c.New {
					t.Errorf("byte %d altered: wrong content of %s without an error", at, c.Path)
				}
			}
		}
		removeOwn(r)
	}
}

func removeOwn(r *repo) {
	r.t.Helper()
	if err := errors.Join(os.RemoveAll(r.path(".git/"+ownFolder)), os.RemoveAll(cacheOf(r.dir))); err != nil {
		r.t.Fatal(err)
	}
}

func TestLogOfAShallowClone(t *testing.T) {
	r, states := threeStates(t)
	shallow := &repo{t, r.clone("shallow", "--depth", "2")}
	for _, reading := range []string{"first", "second"} {
		log := readLog(t, shallow.open())
		if diff := cmp.Diff(states[:2], ids(log)); diff != "" {
			t.Errorf("%s reading: %s", reading, diff)
		}
		hasNote(t, log, "cut short")
		if last := log.States[1]; len(last.Parents) != 0 || len(last.Changes) != 3 {
			t.Errorf("%s reading: the state at the cut has parents %v and %d changes against nothing", reading, last.Parents, len(last.Changes))
		}
		if len(log.Notes) != 1 {
			t.Errorf("notes %v", log.Notes)
		}
	}
	mustSave(t)(shallow.save(shallow.open(), map[string]string{"parts.yaml": "rings: [s]\n"}))
	shallow.clean()
	shallow.git("fetch", "-q", "--unshallow")
	shallow.sameAsNative(quietLog(t, shallow.open()), "")
}

// What was kept of a state is of no use once one of its parents is gone.
func TestKeptOfAStateWithoutItsParent(t *testing.T) {
	r, states := threeStates(t)
	r.write(".git/shallow", states[1]+"\n")
	readLog(t, r.open()) // keeps the first state, but not the one at the cut
	if err := os.Remove(r.object("HEAD^")); err != nil {
		t.Fatal(err)
	}
	log := readLog(t, r.open())
	if len(log.States) != 1 || len(log.States[0].Parents) != 0 || len(log.States[0].Changes) != 3 {
		t.Errorf("want one state with three files from nothing, got %+v", log.States)
	}
}

func TestPartialClone(t *testing.T) {
	r, _ := threeStates(t)
	r.git("config", "uploadpack.allowFilter", "true")
	partial := &repo{t, r.clone("partial", "--filter=blob:none")}
	s := partial.open()
	log := quietLog(t, s)
	partial.sameAsNative(log, "")
	first := log.States[2].Changes[0]
	second := log.States[1].Changes[0]
	if _, err := s.Blob(context.Background(), second.New); err == nil {
		t.Fatalf("the content of %s is there", second.Path)
	} else {
		wantError(t, err, "partial clone", "git fetch --refetch --no-filter")
	}
	if _, err := s.Blob(context.Background(), first.New); err != nil && !strings.Contains(err.Error(), "partial clone") {
		t.Error(err)
	}
	partial.git("fetch", "-q", "--refetch", "--no-filter")
	if _, err := s.Blob(context.Background(), second.New); err != nil {
		t.Errorf("after the advice was followed: %v", err)
	}
}

// blobID is the identity that git gives to content.
func blobID(content []byte) string {
	return fmt.Sprintf("%x", sha1.Sum(fmt.Appendf(nil, "blob %d\x00%s", len(content), content)))
}

func TestLogStopsWhenTold(t *testing.T) {
	r, _ := threeStates(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := r.open().Log(ctx); err != context.Canceled {
		t.Errorf("error %v", err)
	}
	if _, err := r.open().Save(ctx, catalogue.Save{Parent: r.head(), Message: "x", Files: map[string][]byte{"parts.yaml": []byte("y")}}); err != context.Canceled {
		t.Errorf("error %v", err)
	}
}

// Git packs and prunes while a store is open.
func TestLogWhileGitPacks(t *testing.T) {
	r, states := threeStates(t)
	s := r.open()
	quietLog(t, s)
	r.git("gc", "-q", "--prune=now")
	removeOwn(r)
	if diff := cmp.Diff(states, ids(quietLog(t, s))); diff != "" {
		t.Error(diff)
	}
	r.write("parts.yaml", "rings: [b]\n")
	r.commit("more")
	r.git("gc", "-q", "--prune=now")
	if log := quietLog(t, s); len(log.States) != 4 {
		t.Errorf("%d states", len(log.States))
	}
}
