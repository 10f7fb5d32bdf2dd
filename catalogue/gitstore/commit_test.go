package gitstore

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// rawCommit writes a commit object as it stands, however odd, on the branch odd.
func (r *repo) rawCommit(header, message string) string {
	r.t.Helper()
	cmd := r.command("hash-object", "-t", "commit", "-w", "--literally", "--stdin")
	cmd.Stdin = strings.NewReader("tree " + r.git("rev-parse", "HEAD^{tree}") + "\n" + header + "\n" + message)
	out, err := cmd.Output()
	if err != nil {
		r.t.Fatal(err)
	}
	id := strings.TrimSpace(string(out))
	r.write(".git/refs/heads/odd", id+"\n")
	return id
}

func TestLogOfOddCommits(t *testing.T) {
	const who = "Isla Reed <isla@skerry.example>"
	for name, row := range map[string]struct {
		header, message string
		want            catalogue.State
	}{
		"latin 1": {
			"author Ren\xe9 <r@skerry.example> 5 +0000\ncommitter x <x> 5 +0000\nencoding ISO-8859-1\n", "caf\xe9\n",
			catalogue.State{Author: "René <r@skerry.example>", When: time.Unix(5, 0), Message: "café\n"},
		},
		"no utf-8 at all": {
			"author " + who + " 5 +0000\ncommitter x <x> 5 +0000\n", "caf\xe9\n",
			catalogue.State{Author: who, When: time.Unix(5, 0), Message: "caf\uFFFD\n"},
		},
		"an encoding nobody knows": {
			"author " + who + " 5 +0000\ncommitter x <x> 5 +0000\nencoding klingon\n", "a\n",
			catalogue.State{Author: who, When: time.Unix(5, 0), Message: "a\n"},
		},
		"no message": {
			"author " + who + " 5 +0000\ncommitter x <x> 5 +0000\n", "",
			catalogue.State{Author: who, When: time.Unix(5, 0)},
		},
		"no author": {
			"committer x <x> 5 +0000\n", "a\n",
			catalogue.State{When: time.Unix(5, 0), Message: "a\n"},
		},
		"no committer": {
			"author " + who + " 5 +0000\n", "a\n",
			catalogue.State{Author: who, When: time.Unix(5, 0), Message: "a\n"},
		},
		"no address": {
			"author Isla\ncommitter x <x> 5 +0000\n", "a\n", // and so no time either
			catalogue.State{Author: "Isla", When: time.Unix(5, 0), Message: "a\n"},
		},
		"before 1970": {
			"author " + who + " -86400 +0000\ncommitter x <x> 5 +0000\n", "a\n",
			catalogue.State{Author: who, When: time.Unix(-86400, 0), Message: "a\n"},
		},
		"far in the future": {
			"author " + who + " 99999999999999999999 +0000\ncommitter x <x> 5 +0000\n", "a\n",
			catalogue.State{Author: who, When: time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC), Message: "a\n"},
		},
		"an odd zone": {
			"author " + who + " 5 PM\ncommitter x <x> 5 +0000\n", "a\n",
			catalogue.State{Author: who, When: time.Unix(5, 0), Message: "a\n"},
		},
		"a signature and a header of the future": {
			"author " + who + " 5 +0000\ncommitter x <x> 5 +0000\ngpgsig -----BEGIN PGP SIGNATURE-----\n tree " + noFile + "\n -----END PGP SIGNATURE-----\nmood fine\n", "a\n\nb\n",
			catalogue.State{Author: who, When: time.Unix(5, 0), Message: "a\n\nb\n"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			row.want.ID = r.rawCommit(row.header, row.message)
			for _, reading := range []string{"first", "second"} {
				log := quietLog(t, r.open())
				at := slices.IndexFunc(log.States, func(s catalogue.State) bool { return s.ID == row.want.ID })
				if at < 0 {
					t.Fatalf("%s reading: the state is not there", reading)
				}
				got := log.States[at]
				got.Changes = nil
				if diff := cmp.Diff(row.want, got); diff != "" {
					t.Errorf("%s reading (-want +got):\n%s", reading, diff)
				}
				if _, err := got.When.MarshalJSON(); err != nil {
					t.Error(err)
				}
			}
		})
	}
	t.Run("no tree", func(t *testing.T) {
		r := newRange(t)
		cmd := r.command("hash-object", "-t", "commit", "-w", "--literally", "--stdin")
		cmd.Stdin = strings.NewReader("author x\n\na\n")
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		r.write(".git/refs/heads/odd", string(out))
		log := readLog(t, r.open())
		hasNote(t, log, "names no tree")
		if len(log.States) != 1 {
			t.Errorf("states %v", ids(log))
		}
	})
}
