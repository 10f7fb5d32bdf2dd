package main

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"rodlore/catalogue/pages/screen"
)

// settled is how long files are left alone after a change, so that an editor or a save
// that writes several makes one change of them.
const settled = 100 * time.Millisecond

// folderState is which state the files of a range are in, by a name of no meaning. For
// concurrent use.
type folderState struct {
	mu      sync.Mutex
	begun   time.Time
	changes int
	next    chan struct{} // closed by the next change
}

func newFolderState() *folderState {
	return &folderState{begun: time.Now(), next: make(chan struct{})}
}

// now is the state, and what is closed once it is another.
func (s *folderState) now() (state string, next <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strconv.FormatInt(s.begun.UnixNano(), 36) + "." + strconv.Itoa(s.changes), s.next
}

func (s *folderState) changed() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.changes++
	close(s.next)
	s.next = make(chan struct{})
}

// follow changes the state whenever a file of the range at root changes, until the
// context ends.
func (s *folderState) follow(ctx context.Context, root string) error {
	w, err := fsnotify.NewWatcher()
	if err == nil {
		err = watchFolders(w, root, root)
	}
	if err != nil {
		return fmt.Errorf("the files cannot be followed: %w", err)
	}
	go func() {
		defer w.Close()
		var quiet <-chan time.Time
		for {
			select {
			case <-ctx.Done():
				return
			case e := <-w.Events:
				if !tellsOfRange(root, e) {
					continue
				}
				if e.Has(fsnotify.Create) {
					_ = watchFolders(w, root, e.Name) // a file, or gone already
				}
			case <-w.Errors: // some events are lost, and anything may have changed
			case <-quiet:
				quiet = nil
				s.changed()
				continue
			}
			if quiet == nil {
				quiet = time.After(settled)
			}
		}
	}()
	return nil
}

// watchFolders watches a folder of a range and those in it.
func watchFolders(w *fsnotify.Watcher, root, folder string) error {
	return filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil && path == root:
			return err
		case err != nil || !d.IsDir():
			return nil
		case path != root && !followed(root, path):
			return fs.SkipDir
		}
		return w.Add(path)
	})
}

// followed reports whether what happens to a file or folder may tell of a range: it is
// not hidden, or git keeps a name of a commit there.
func followed(root, path string) bool {
	inside, err := filepath.Rel(root, path)
	if err != nil {
		return false
	}
	top, rest, _ := strings.Cut(filepath.ToSlash(inside), "/")
	if top == ".git" {
		names := rest == "" || rest == "HEAD" || rest == "packed-refs" || rest == "refs" || strings.HasPrefix(rest, "refs/")
		return names && !strings.HasSuffix(rest, ".lock")
	}
	return !strings.HasPrefix(top, ".")
}

func tellsOfRange(root string, e fsnotify.Event) bool {
	return e.Op != fsnotify.Chmod && followed(root, e.Name)
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
	timed := time.NewTicker(beat)
	defer timed.Stop()
	for {
		state, next := s.files.now()
		if state != r.URL.Query().Get(screen.SinceKey) {
			fmt.Fprintf(w, "data: %s\n\n", s.words.Say("screen.changed"))
			return
		}
		answer := http.NewResponseController(w)
		_ = answer.SetWriteDeadline(time.Now().Add(2 * beat))
		if answer.Flush() != nil {
			return
		}
		select {
		case <-next:
		case <-timed.C:
			fmt.Fprint(w, ":\n\n")
		case <-r.Context().Done():
			return
		}
	}
}
