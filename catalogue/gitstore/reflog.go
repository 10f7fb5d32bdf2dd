package gitstore

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// logMoves is what was added to the logs that git keeps of a branch's moves.
type logMoves struct {
	disk  disk
	sizes map[string]int64 // of each log before
}

// logMove adds the move of the branch to the logs of the head and the branch,
// where git would keep them.
func (s *Store) logMove(d *saving) (*logMoves, error) {
	moves := &logMoves{disk: s.disk, sizes: map[string]int64{}}
	what := "commit"
	if d.parent.IsZero() {
		what = "commit (initial)"
	}
	subject, _, _ := strings.Cut(d.message, "\n")
	line := fmt.Sprintf("%s %s %s\t%s: %s\n", d.parent, d.id, d.signed.committer, what, subject)
	logs := []string{filepath.Join(s.gitDir, "logs", headRef)}
	if d.ref != headRef {
		logs = append(logs, filepath.Join(s.commonDir, "logs", filepath.FromSlash(d.ref)))
	}
	for _, log := range logs {
		if !s.config.isNotFalse("core.logallrefupdates") && !isFile(log) {
			continue
		}
		if err := moves.add(log, line); err != nil {
			return moves, fmt.Errorf("logging the move: %w", err)
		}
	}
	return moves, nil
}

func (m *logMoves) add(log, line string) error {
	if err := m.disk.mkdir(filepath.Dir(log)); err != nil {
		return err
	}
	size := int64(-1)
	switch info, err := os.Lstat(log); {
	case err == nil && !info.Mode().IsRegular(): // a pipe would be waited for, a link lead elsewhere
		return fmt.Errorf("%s is no ordinary file: take it out", log)
	case err == nil:
		size = info.Size()
	}
	if err := m.disk.extend(log, []byte(line)); err != nil {
		return err
	}
	m.sizes[log] = size
	return nil
}

// undo takes away what was added.
func (m *logMoves) undo() error {
	var errs []error
	for log, size := range m.sizes {
		if size < 0 {
			errs = append(errs, m.disk.remove(log))
		} else {
			errs = append(errs, m.disk.cut(log, size))
		}
	}
	return errors.Join(errs...)
}
