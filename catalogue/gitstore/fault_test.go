package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// faultDisk lets the first alterations through and then goes wrong.
type faultDisk struct {
	osDisk
	through int   // alterations that succeed
	kind    fault // what happens then
	done    int
}

type fault int

const (
	full       fault = iota // one alteration fails for want of space
	killed                  // it is not made, and the program is no more
	killedHalf              // it is made in part, and the program is no more
)

var errKilled = errors.New("the program was killed")

// alter makes an alteration, or goes wrong. half makes it in part.
func (d *faultDisk) alter(whole, half func() error) error {
	d.done++
	switch {
	case d.done <= d.through:
		return whole()
	case d.kind == full && d.done == d.through+1:
		return syscall.ENOSPC
	case d.kind == full:
		return whole()
	case d.done > d.through+1:
		return errKilled
	case d.kind == killedHalf:
		return errors.Join(errKilled, half())
	}
	return errKilled
}

func nothing() error { return nil }

func (d *faultDisk) create(path string, content []byte, perm fs.FileMode) error {
	return d.alter(func() error { return d.osDisk.create(path, content, perm) },
		func() error { return d.osDisk.create(path, content[:len(content)/2], perm) })
}

func (d *faultDisk) extend(path string, content []byte) error {
	return d.alter(func() error { return d.osDisk.extend(path, content) },
		func() error { return d.osDisk.extend(path, content[:len(content)/2]) })
}

func (d *faultDisk) cut(path string, size int64) error {
	return d.alter(func() error { return d.osDisk.cut(path, size) }, nothing)
}

// A test need not wait for what would only count with a loss of power.
func (d *faultDisk) flush(string) error { return d.alter(nothing, nothing) }

func (d *faultDisk) rename(from, to string) error {
	return d.alter(func() error { return d.osDisk.rename(from, to) }, nothing)
}

func (d *faultDisk) link(from, to string) error {
	return d.alter(func() error { return d.osDisk.link(from, to) }, nothing)
}

func (d *faultDisk) remove(path string) error {
	return d.alter(func() error { return d.osDisk.remove(path) }, nothing)
}

func (d *faultDisk) mkdir(path string) error {
	return d.alter(func() error { return d.osDisk.mkdir(path) }, nothing)
}

// faultRange is a range with one file edited, which is to be saved.
func faultRange(t *testing.T) (*repo, catalogue.Save) {
	r := newRange(t)
	r.write("notes.txt", "staged by the user\n")
	r.git("add", "notes.txt")
	r.git("status") // lets git refresh its index once and for all
	r.write("models/skerry-10.yaml", "name: Skerry 10\nlength: 10 ft\n")
	return r, catalogue.Save{
		Parent: r.head(), Message: "longer", When: at(1),
		Files: map[string][]byte{"models/skerry-10.yaml": []byte("name: Skerry 10\nlength: 10 ft\n")},
	}
}

// alterations is how many alterations a save makes.
func alterations(t *testing.T) int {
	t.Helper()
	r, save := faultRange(t)
	s := r.open()
	d := &faultDisk{through: 1 << 30}
	s.disk = d
	if _, err := s.Save(context.Background(), save); err != nil {
		t.Fatal(err)
	}
	if d.done < 15 {
		t.Fatalf("a save makes only %d alterations: are all of them made through disk?", d.done)
	}
	return d.done
}

// Whichever alteration fails for want of space, either the state is saved or
// all is as before.
func TestSaveOnAFullDisk(t *testing.T) {
	for n := range alterations(t) {
		t.Run(fmt.Sprint("alteration ", n+1), func(t *testing.T) {
			t.Parallel()
			r, save := faultRange(t)
			before := withoutOwn(r.snapshot())
			s := r.open()
			s.disk = &faultDisk{through: n, kind: full}
			id, err := s.Save(context.Background(), save)
			switch {
			case id == "" && err == nil:
				t.Error("neither a state nor an error")
			case id == "":
				if !errors.Is(err, syscall.ENOSPC) {
					t.Errorf("error %v does not say that the disk is full", err)
				}
				if diff := cmp.Diff(before, withoutOwn(r.snapshot())); diff != "" {
					t.Errorf("not all is as before (-before +after):\n%s", diff)
				}
			case id != r.head():
				t.Errorf("saved as %s, but git is at %s", id, r.head())
			case err != nil: // and an identity
				wantError(t, err, id, "run `git reset`")
				r.git("reset", "-q", "models")
			}
			s.disk = osDisk{}
			saveAgain(t, r, s)
		})
	}
}

// Whichever alteration the program is killed at, there is the state before or
// the state after, and the next save goes on from there.
func TestSaveKilledAtAnyPoint(t *testing.T) {
	total := alterations(t)
	for name, kind := range map[string]fault{"before": killed, "half way": killedHalf} {
		for n := range total {
			t.Run(fmt.Sprint(name, " alteration ", n+1), func(t *testing.T) {
				t.Parallel()
				r, save := faultRange(t)
				before := withoutOwn(r.snapshot())
				s := r.open()
				s.disk = &faultDisk{through: n, kind: kind}
				_, _ = s.Save(context.Background(), save)

				s = r.open()
				s.patience = lockInterval
				switch r.head() {
				case save.Parent:
					after := withoutOwn(r.snapshot())
					for log := range after {
						if strings.HasPrefix(log, ".git/logs/") {
							after[log] = before[log] // may tell of a move that did not come
						}
					}
					if diff := cmp.Diff(before, after); diff != "" {
						t.Errorf("not all is as before (-before +after):\n%s", diff)
					}
				default:
					if got := r.git("status", "--porcelain"); got != "A  notes.txt" {
						t.Errorf("git status after the state was saved:\n%s", got)
					}
				}
				saveAgain(t, r, s)
			})
		}
	}
}

// saveAgain saves what may be left to save, and then another file.
func saveAgain(t *testing.T, r *repo, s *Store) {
	t.Helper()
	if r.git("status", "--porcelain", "models") != "" {
		mustSave(t)(r.save(s, map[string]string{"models/skerry-10.yaml": "name: Skerry 10\nlength: 10 ft\n"}))
	}
	mustSave(t)(r.save(s, map[string]string{"parts.yaml": "rings: [next]\n"}))
	if got := r.git("status", "--porcelain"); got != "A  notes.txt" {
		t.Errorf("git status after the next save:\n%s", got)
	}
	if exists(s.pendingPath()) {
		t.Error("the note of a save under way is still there")
	}
	r.sound()
}

// withoutOwn leaves out what the store keeps for itself.
func withoutOwn(files map[string]string) map[string]string {
	for name := range files {
		if strings.HasPrefix(name, filepath.Join(".git", ownFolder)+string(filepath.Separator)) {
			delete(files, name)
		}
	}
	return files
}

func TestTagOnAFullDisk(t *testing.T) {
	for n := 0; ; n++ {
		r := newRange(t)
		before := withoutOwn(r.snapshot())
		s := r.open()
		d := &faultDisk{through: n, kind: full}
		s.disk = d
		err := s.Tag(context.Background(), catalogue.Tag{Name: "a/b", State: r.head(), Message: "for sale"})
		switch {
		case err == nil:
			if r.git("tag", "-l") != "a/b" {
				t.Errorf("alteration %d: neither a tag nor an error", n+1)
			}
		case !errors.Is(err, syscall.ENOSPC):
			t.Errorf("alteration %d: error %v", n+1, err)
		default:
			if diff := cmp.Diff(before, withoutOwn(r.snapshot())); diff != "" {
				t.Errorf("alteration %d: not all is as before (-before +after):\n%s", n+1, diff)
			}
		}
		r.clean()
		if d.done <= n { // no fault was met
			return
		}
	}
}

// tagAlterations is how many alterations the making of a tag takes.
func tagAlterations(t *testing.T) int {
	t.Helper()
	r := newRange(t)
	s := r.open()
	d := &faultDisk{through: 1 << 30}
	s.disk = d
	if err := s.Tag(context.Background(), catalogue.Tag{Name: "a/b", State: r.head(), Message: "for sale"}); err != nil {
		t.Fatal(err)
	}
	if d.done < 10 {
		t.Fatalf("a tag takes only %d alterations: are all of them made through disk?", d.done)
	}
	return d.done
}

// Whichever alteration the program is killed at, the tag is there whole or not
// at all, and what opens the repository next says which.
func TestTagKilledAtAnyPoint(t *testing.T) {
	total := tagAlterations(t)
	for name, kind := range map[string]fault{"before": killed, "half way": killedHalf} {
		for n := range total {
			t.Run(fmt.Sprint(name, " alteration ", n+1), func(t *testing.T) {
				t.Parallel()
				r := newRange(t)
				tag := catalogue.Tag{Name: "a/b", State: r.head(), Message: "for sale", When: at(1)}
				s := r.open()
				s.disk = &faultDisk{through: n, kind: kind}
				_ = s.Tag(context.Background(), tag)
				pending := exists(s.pendingPath())

				s = r.open()
				s.patience = lockInterval
				log := readLog(t, s)
				made := r.git("tag", "-l") != ""
				switch {
				case made && (len(log.Tags) != 1 || log.Tags[0].Message != "for sale\n" || log.Tags[0].State != tag.State):
					t.Errorf("the tag is there in part: %+v", log.Tags)
				case !made && len(log.Tags) > 0:
					t.Errorf("git has no tag, and there is %+v", log.Tags)
				case made && pending:
					hasNote(t, log, "the release a/b was cut short after it was made: it is there whole")
				case pending:
					hasNote(t, log, "was cut short before it was made")
				}
				err := s.Tag(context.Background(), tag)
				if made != errors.Is(err, catalogue.ErrTagTaken) || !made && err != nil {
					t.Errorf("made %t, and once more: %v", made, err)
				}
				if quietLog(t, r.open()); exists(s.pendingPath()) {
					t.Error("the note of a tag under way is still there")
				}
				r.clean()
			})
		}
	}
}

// A save that was made and one that was not are told apart when the repository
// is opened next; of a branch that has gone on since nothing is said.
func TestSaveCutShortIsTold(t *testing.T) {
	for name, row := range map[string]struct {
		leave func(r *repo) string // what pending says
		says  string
	}{
		"made": {func(r *repo) string { return "refs/heads/main " + r.head() + " x\n" }, "the last save was cut short after it was made"},
		"not made": {func(r *repo) string {
			child := r.commit("not there")
			r.git("reset", "-q", "--hard", "HEAD^")
			return "refs/heads/main " + child + " x\n"
		}, "the last save was cut short before it was made: nothing of it is there"},
		"gone on": {func(r *repo) string {
			made := r.head()
			r.commit("later")
			return "refs/heads/main " + made + " x\n"
		}, ""},
		"a note in part": {func(*repo) string { return "refs/heads/ma" }, "cut short before it was made"},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			r.write(".git/rodlore/pending", row.leave(r))
			if row.says == "" {
				quietLog(t, r.open())
			} else {
				hasNote(t, readLog(t, r.open()), row.says)
			}
			quietLog(t, r.open())
		})
	}
}

// Where a file cannot have two names, a lock is written in its place.
func TestLockWithoutLinks(t *testing.T) {
	r, save := faultRange(t)
	s := r.open()
	s.disk = noLinks{}
	mustSave(t)(s.Save(context.Background(), save))
	r.sound()
}

// noLinks is a disk on which no file has two names.
type noLinks struct{ osDisk }

func (noLinks) link(from, to string) error {
	return &os.LinkError{Op: "link", Old: from, New: to, Err: syscall.EPERM}
}
