package gitstore

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue"
)

// run runs a program that must succeed, in the repository's folder.
func (r *repo) run(program string, args ...string) string {
	r.t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = r.dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		r.t.Fatalf("%s %s: %v\n%s", program, strings.Join(args, " "), err, out)
	}
	return string(out)
}

// sshKey makes a key and has git take its signatures for the maker's.
func (r *repo) sshKey() (file string) {
	r.t.Helper()
	file = filepath.Join(tempDir(r.t), "id")
	r.run("ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", "isla", "-f", file)
	public, err := os.ReadFile(file + ".pub")
	if err != nil {
		r.t.Fatal(err)
	}
	writeFile(r.t, file+".allowed", "isla@skerry.example "+string(public))
	r.git("config", "gpg.ssh.allowedSignersFile", file+".allowed")
	return file
}

// agent gives the key to an agent and takes away its file.
func agent(r *repo, file string) {
	socket := filepath.Join(filepath.Dir(file), "agent")
	cmd := exec.Command("ssh-agent", "-D", "-a", socket)
	if err := cmd.Start(); err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	})
	for range 200 {
		if exists(socket) {
			break
		}
		time.Sleep(20 * time.Millisecond)
	}
	r.t.(*testing.T).Setenv("SSH_AUTH_SOCK", socket)
	r.run("ssh-add", "-q", file)
	if err := os.Remove(file); err != nil {
		r.t.Fatal(err)
	}
}

// gpgKey makes a key in a folder of its own.
func gpgKey(r *repo) {
	// The sockets in it must have short names.
	home, err := os.MkdirTemp("", "gpg")
	if err != nil {
		r.t.Fatal(err)
	}
	r.t.Cleanup(func() {
		_ = exec.Command("gpgconf", "--homedir", home, "--kill", "all").Run()
		_ = os.RemoveAll(home)
	})
	r.t.(*testing.T).Setenv("GNUPGHOME", home)
	r.run("gpg", "--batch", "--quiet", "--passphrase", "", "--quick-generate-key", "Isla Reed <isla@skerry.example>", "ed25519", "sign", "never")
}

// A tag is signed as git signs it: git finds the signature good, and the message
// is read without it.
func TestSignedTagIsGoodForGit(t *testing.T) {
	for name, row := range map[string]struct {
		prepare func(r *repo)
		says    string // by git tag -v
	}{
		"ssh, a key's file": {func(r *repo) {
			r.git("config", "gpg.format", "ssh")
			r.git("config", "user.signingKey", r.sshKey())
		}, "Good \"git\" signature for isla@skerry.example"},
		"ssh, the file of the public half": {func(r *repo) {
			r.git("config", "gpg.format", "ssh")
			r.git("config", "user.signingKey", r.sshKey()+".pub")
		}, "Good \"git\" signature"},
		"ssh, a file in the home folder": {func(r *repo) {
			key := r.sshKey()
			r.t.(*testing.T).Setenv("HOME", filepath.Dir(key))
			r.git("config", "gpg.format", "ssh")
			r.git("config", "user.signingKey", "~/id")
		}, "Good \"git\" signature"},
		"ssh, the key itself and an agent": {func(r *repo) {
			key := r.sshKey()
			public, _ := os.ReadFile(key + ".pub")
			agent(r, key)
			r.git("config", "gpg.format", "ssh")
			r.git("config", "user.signingKey", "key::"+strings.TrimSpace(string(public)))
		}, "Good \"git\" signature"},
		"ssh, a command that gives the key": {func(r *repo) {
			key := r.sshKey()
			agent(r, key)
			r.git("config", "gpg.format", "ssh")
			r.git("config", "gpg.ssh.defaultKeyCommand", "echo key::$(cat "+key+".pub)")
		}, "Good \"git\" signature"},
		"openpgp, by the name": {gpgKey, "Good signature from \"Isla Reed"},
		"openpgp, by a key and a program": {func(r *repo) {
			gpgKey(r)
			program := filepath.Join(tempDir(r.t), "sign")
			writeFile(r.t, program, "#!/bin/sh\nexec gpg --quiet \"$@\"\n")
			if err := os.Chmod(program, 0o755); err != nil {
				r.t.Fatal(err)
			}
			r.git("config", "gpg.program", program)
			r.git("config", "user.signingKey", "isla@skerry.example")
		}, "Good signature from \"Isla Reed"},
	} {
		if _, err := exec.LookPath("gpg"); err != nil && strings.HasPrefix(name, "openpgp") {
			continue // git and ssh-keygen are needed for the tests, and gpg is not
		}
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			row.prepare(r)
			s := r.open()
			tag := catalogue.Tag{Name: "skerry-10/2025", State: r.head(), When: at(0), Message: "for sale\n\nFigures: 1\n", Sign: true}
			if err := s.Tag(context.Background(), tag); err != nil {
				t.Fatal(err)
			}
			if out := r.git("tag", "-v", tag.Name); !strings.Contains(out, row.says) {
				t.Errorf("git tag -v says:\n%s\nwant %q", out, row.says)
			}
			if got := quietLog(t, r.open()).Tags[0].Message; got != tag.Message {
				t.Errorf("the message is read as %q", got)
			}
			r.clean()
		})
	}
}

// Where nothing can be signed, nothing is tagged, and the error says what to do.
func TestSigningRefuses(t *testing.T) {
	for name, row := range map[string]struct {
		settings map[string]string
		says     []string
	}{
		"no set-up at all":     {nil, []string{"nothing is signed", "leave --sign away"}},
		"ssh without a key":    {map[string]string{"gpg.format": "ssh"}, []string{"names no key", "user.signingKey"}},
		"a key that is not":    {map[string]string{"gpg.format": "ssh", "user.signingKey": "/nowhere/id"}, []string{"nothing is signed", "/nowhere/id"}},
		"a format of tomorrow": {map[string]string{"gpg.format": "wax"}, []string{`"wax"`, "openpgp, x509 and ssh"}},
		"a program that is not there": {map[string]string{"gpg.program": "no-such-program", "user.signingKey": "x"},
			[]string{"no-such-program, which is not there"}},
		"a program of no use": {map[string]string{"gpg.program": "true", "user.signingKey": "x"}, []string{"ended without a signature"}},
		"a command that fails": {map[string]string{"gpg.format": "ssh", "gpg.ssh.defaultKeyCommand": "echo no key today >&2; exit 1"},
			[]string{"defaultKeyCommand", "no key today"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("GNUPGHOME", t.TempDir())
			r := newRange(t)
			for key, value := range row.settings {
				r.git("config", key, value)
			}
			err := r.open().Tag(context.Background(), catalogue.Tag{Name: "a", State: r.head(), Message: "x", Sign: true})
			wantError(t, err, row.says...)
			if exists(r.path(".git/refs/tags/a")) {
				t.Error("there is a tag")
			}
		})
	}
}
