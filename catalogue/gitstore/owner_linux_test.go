package gitstore

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// A repository of another user is refused where git refuses it, and let in where
// git lets it in; what its own settings say of it does not count.
func TestForeignRepository(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can give a file to another user")
	}
	const other = 4711
	for name, row := range map[string]struct {
		mine   []string // that stay the user's
		user   string   // the user's settings
		config string   // a safe.directory of the repository's own
		sudo   string
		taken  bool
	}{
		"all of it another's":            {},
		"the working tree another's":     {mine: []string{".git"}},
		"the repository another's":       {mine: []string{"."}},
		"trusted by itself":              {config: "*"},
		"trusted by the user":            {user: "DIR", taken: true},
		"all trusted by the user":        {user: "*", taken: true},
		"trust taken back":               {user: "*\n\tdirectory =", taken: false},
		"another trusted":                {user: "/nowhere", taken: false},
		"of whoever became root":         {sudo: "4711", taken: true},
		"of neither root nor who became": {sudo: "4712", taken: false},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			if row.config != "" {
				r.git("config", "safe.directory", row.config)
			}
			giveAway(t, r.dir, other)
			for _, mine := range row.mine {
				if err := os.Chown(r.path(mine), 0, 0); err != nil {
					t.Fatal(err)
				}
			}
			settings := filepath.Join(tempDir(t), "gitconfig")
			user := row.user
			if user == "DIR" {
				user = r.dir
			}
			if user != "" {
				writeFile(t, settings, "[safe]\n\tdirectory = "+user+"\n")
			}
			t.Setenv("GIT_CONFIG_GLOBAL", settings)
			t.Setenv("SUDO_UID", row.sudo)
			s, err := Open(r.dir)
			if err == nil {
				defer s.Close()
			}
			if native := exec.Command("git", "-C", r.dir, "log", "-1").Run() == nil; native != row.taken {
				t.Errorf("git takes it: %t, and the test expects %t", native, row.taken)
			}
			if row.taken != (err == nil) {
				t.Errorf("error %v, want it taken: %t", err, row.taken)
			}
			if !row.taken {
				wantError(t, err, "belongs to another user", "safe.directory "+r.dir)
				if !errors.Is(err, errForeign) {
					t.Errorf("%v is no errForeign", err)
				}
			}
		})
	}
}

// giveAway makes another user the owner of a folder and all in it.
func giveAway(t *testing.T, dir string, uid int) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		return os.Lchown(path, uid, uid)
	})
	if err != nil {
		t.Fatal(err)
	}
}
