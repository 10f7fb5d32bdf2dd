package gitstore

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"testing"

	"rodlore/catalogue"
)

// Many save at once, each on what it has seen: every save that succeeds is in
// the history, every other one is told.
func TestSavingAtOnceLosesNothing(t *testing.T) {
	const savers, each = 6, 5
	r := newRange(t)
	var group sync.WaitGroup
	for n := range savers {
		s := r.open()
		group.Go(func() {
			if err := saveSeveral(s, strconv.Itoa(n), each); err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	allSaved(t, r, savers*each)
}

// The same with programs of their own, and native git among them.
func TestProgramsSavingAtOnceLoseNothing(t *testing.T) {
	const savers, each = 4, 5
	r := newRange(t)
	var group sync.WaitGroup
	for n := range savers {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), saverEnv+"="+r.dir, saverEnv+"_NAME="+strconv.Itoa(n), saverEnv+"_EACH="+strconv.Itoa(each))
		group.Go(func() {
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
	native := 0
	for range 20 {
		// Git gives up at once where it finds a lock or another head.
		if r.command("commit", "-q", "--allow-empty", "-m", "by native git").Run() == nil {
			native++
		}
	}
	group.Wait()
	allSaved(t, r, savers*each+native)
}

// saverEnv tells the test program to save into a repository and no more.
const saverEnv = "RODLORE_TEST_SAVER"

// runSaver is such a program.
func runSaver(dir string) error {
	each, err := strconv.Atoi(os.Getenv(saverEnv + "_EACH"))
	if err != nil {
		return err
	}
	s, err := Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(saveSeveral(s, os.Getenv(saverEnv+"_NAME"), each), s.Close())
}

// saveSeveral saves that many new models, each until it succeeds.
func saveSeveral(s *Store, name string, each int) error {
	for done := 0; done < each; {
		log, err := s.Log(context.Background())
		if err != nil {
			return err
		}
		file := "models/m" + name + "-" + strconv.Itoa(done) + ".yaml"
		_, err = s.Save(context.Background(), catalogue.Save{
			Parent: log.Head, Files: map[string][]byte{file: []byte("name: x\n")}, Message: file,
		})
		switch {
		case err == nil:
			done++
		case !errors.Is(err, catalogue.ErrMoved) && !errors.Is(err, errIndexMoved):
			return err
		}
	}
	return nil
}

// allSaved fails unless the history is one line of the first state and that many
// more, each with its own file.
func allSaved(t *testing.T, r *repo, saved int) {
	t.Helper()
	log := quietLog(t, r.open())
	if len(log.States) != saved+1 {
		t.Errorf("%d states, want %d", len(log.States), saved+1)
	}
	for i, s := range log.States {
		last := i == len(log.States)-1
		if !last && (len(s.Parents) != 1 || s.Parents[0] != log.States[i+1].ID) {
			t.Errorf("state %s is not on top of the one before", s.ID)
		}
	}
	r.git("checkout", "-q", "--", ".")
	r.clean()
}
