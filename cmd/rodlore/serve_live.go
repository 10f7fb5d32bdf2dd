package main

import (
	"fmt"
	"hash/fnv"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"rodlore/catalogue/pages/screen"
)

// settled is how often the files are looked at, and how long they are left alone after a
// change, so that an editor or a save that writes several makes one change of them.
const settled = 250 * time.Millisecond

// filesState names the state that the files of the range are in, and those by which git
// names saved states, as this run sees them: by their sizes and times.
func (s *screenServer) filesState() string {
	files := s.program.files()
	names, _, _ := files.List() // what cannot be listed the views tell
	names = append(names, ".git/HEAD", ".git/packed-refs")
	_ = filepath.WalkDir(files.Within(".git/refs"), func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) != ".lock" {
			name, _ := filepath.Rel(files.Path(), path)
			names = append(names, name)
		}
		return nil // where it is gone meanwhile, the next look sees that
	})
	sum := fnv.New64a()
	fmt.Fprintln(sum, s.begun)
	for _, name := range names {
		if info, err := os.Lstat(files.Within(name)); err == nil {
			fmt.Fprintln(sum, name, info.Size(), info.ModTime().UnixNano())
		}
	}
	return strconv.FormatUint(sum.Sum64(), 36)
}

// mostFollowers is how many views follow the files at a time.
const mostFollowers = 100

// beat is how often whoever follows is told that the server is still there.
const beat = 20 * time.Second

// tellChanges says once that the files are in another state than the one asked for
// (HTML Living Standard, 9.2, server-sent events).
func (s *screenServer) tellChanges(w http.ResponseWriter, r *http.Request) {
	select {
	case s.followers <- struct{}{}:
		defer func() { <-s.followers }()
	default:
		http.Error(w, "too many views are open", http.StatusServiceUnavailable)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	timed := time.NewTicker(settled)
	defer timed.Stop()
	since, last := r.URL.Query().Get(screen.SinceKey), ""
	for spent := time.Duration(0); ; spent += settled {
		state := s.filesState()
		if state != since && state == last {
			fmt.Fprintf(w, "data: %s\n\n", s.words.Say("screen.changed"))
			return
		}
		last = state
		if spent%beat == 0 {
			answer := http.NewResponseController(w)
			_ = answer.SetWriteDeadline(time.Now().Add(2 * beat))
			if spent > 0 {
				fmt.Fprint(w, ":\n\n")
			}
			if answer.Flush() != nil {
				return
			}
		}
		select {
		case <-timed.C:
		case <-r.Context().Done():
			return
		}
	}
}
