package gitstore

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// TestBlobsTooLarge holds that a saved file is unpacked no further than a file of
// a range may be long, loose or packed, whole or as a difference.
func TestBlobsTooLarge(t *testing.T) {
	r, _ := threeStates(t)
	spaces := bytes.Repeat([]byte(" "), 40<<20)
	r.write("models/old.yaml", "name: Old\n"+string(spaces))
	r.commit("a bomb")
	r.write("models/old.yaml", "name: Older\n"+string(spaces))
	r.commit("another")
	r.write("models/middling.yaml", "name: Middling\n"+strings.Repeat("#\n", 1<<20)) // too large for a spec alone
	r.write("models/old.yaml", "name: Small\n")
	r.commit("small again")
	s := r.open()
	for _, packed := range []bool{false, true} {
		if packed {
			r.git("gc", "-q", "--prune=now")
		}
		for back, want := range map[int]string{0: "", 1: "more than a range has room for", 2: "more than a range has room for"} {
			if _, err := s.Blob(t.Context(), r.git("rev-parse", "HEAD:models/middling.yaml")); err == nil {
				t.Errorf("packed %v: the middling one is read", packed)
			}
			id := r.git("rev-parse", fmt.Sprintf("HEAD~%d:models/old.yaml", back))
			_, err := s.Blob(t.Context(), strings.TrimSpace(id))
			if want == "" && err != nil || want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
				t.Errorf("packed %v, %d back: error %v", packed, back, err)
			}
		}
	}
}
