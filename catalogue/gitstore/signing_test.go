package gitstore

import (
	"context"
	"net"
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
	r.own("gpg.ssh.allowedSignersFile", file+".allowed")
	return file
}

// own gives the user a setting of their own, for all repositories.
func (r *repo) own(key, value string) {
	r.t.Helper()
	file := os.Getenv("GIT_CONFIG_GLOBAL")
	if file == os.DevNull {
		file = filepath.Join(tempDir(r.t), "gitconfig")
		r.t.Setenv("GIT_CONFIG_GLOBAL", file)
	}
	r.git("config", "--file", file, key, value)
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
	for range 500 {
		// The socket may be there before anybody listens.
		if conn, err := net.Dial("unix", socket); err == nil {
			_ = conn.Close()
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

// gpgHome is a folder of keys of its own.
func gpgHome(r *repo) string {
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
	return home
}

// gpgKey makes a key in a folder of its own.
func gpgKey(r *repo) {
	gpgHome(r)
	r.run("gpg", "--batch", "--quiet", "--passphrase", "", "--quick-generate-key", "Isla Reed <isla@skerry.example>", "ed25519", "sign", "never")
}

// pinentry gives gpg's agent the pass phrase x.
const pinentry = `#!/bin/sh
echo OK
while read -r word rest; do
	case $word in
	GETPIN) echo "D x"; echo OK ;;
	BYE) echo OK; exit ;;
	*) echo OK ;;
	esac
done
`

const certificate = `Key-Type: RSA
Key-Length: 2048
Key-Usage: sign, cert
Serial: random
Name-DN: CN=Isla Reed,O=Skerry Rods
Name-Email: isla@skerry.example
Hash-Algo: SHA256
`

// x509Key makes a certificate signed by itself, which gpgsm is told to trust.
func x509Key(r *repo) {
	home := gpgHome(r)
	at := func(name string) string { return filepath.Join(home, name) }
	writeFile(r.t, at("pin"), pinentry)
	if err := os.Chmod(at("pin"), 0o755); err != nil {
		r.t.Fatal(err)
	}
	writeFile(r.t, at("gpg-agent.conf"), "pinentry-program "+at("pin")+"\n")
	writeFile(r.t, at("gpgsm.conf"), "disable-crl-checks\n")
	writeFile(r.t, at("parameters"), certificate)
	r.run("gpgsm", "--batch", "--quiet", "--output", at("certificate"), "--gen-key", at("parameters"))
	r.run("gpgsm", "--batch", "--quiet", "--import", at("certificate"))
	for line := range strings.Lines(r.run("gpgsm", "--batch", "--with-colons", "-k")) {
		if fields := strings.Split(line, ":"); fields[0] == "fpr" {
			writeFile(r.t, at("trustlist.txt"), fields[9]+" S relax\n")
		}
	}
	r.run("gpgconf", "--homedir", home, "--kill", "gpg-agent")
	r.own("gpg.format", "x509")
	r.own("user.signingKey", "isla@skerry.example")
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
			r.own("gpg.ssh.defaultKeyCommand", "echo key::$(cat "+key+".pub)")
		}, "Good \"git\" signature"},
		"openpgp, by the name": {gpgKey, "Good signature from \"Isla Reed"},
		"openpgp, by a key and a program": {func(r *repo) {
			gpgKey(r)
			program := filepath.Join(tempDir(r.t), "sign")
			writeFile(r.t, program, "#!/bin/sh\nexec gpg --quiet \"$@\"\n")
			if err := os.Chmod(program, 0o755); err != nil {
				r.t.Fatal(err)
			}
			r.own("gpg.program", program)
			r.git("config", "user.signingKey", "isla@skerry.example")
		}, "Good signature from \"Isla Reed"},
		"x509, by a certificate": {x509Key, "Good signature from \"/CN=Isla Reed"},
	} {
		t.Run(name, func(t *testing.T) {
			needs(t, name)
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

// needs goes on only where the program is that a format is signed with: git and
// ssh-keygen are needed for all tests, gpg and gpgsm for those of their formats.
func needs(t *testing.T, name string) {
	t.Helper()
	for format, program := range map[string]string{"openpgp": "gpg", "x509": "gpgsm"} {
		if _, err := exec.LookPath(program); err != nil && strings.HasPrefix(name, format) {
			without(t, program)
		}
	}
}

// without skips a test for what is not there. Where CI says that all of it must be,
// that is a failure.
func without(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("there is no %s, which this test needs", what)
	}
	t.Skipf("there is no %s", what)
}

// What git is told to sign is signed unasked, tags and saved states; where that
// cannot be done, neither is made.
func TestSigningUnasked(t *testing.T) {
	save := func(r *repo) error {
		_, err := r.open().Save(context.Background(), catalogue.Save{
			Parent: r.head(), Files: map[string][]byte{"models/rill-7.yaml": []byte("name: Rill 7\n")}, Message: "another\n\nTell: nothing",
		})
		return err
	}
	tag := func(r *repo) error {
		return r.open().Tag(context.Background(), catalogue.Tag{Name: "skerry-10/2025", State: r.head(), Message: "x"})
	}
	for name, row := range map[string]struct {
		setting string
		do      func(r *repo) error
		verify  []string
	}{
		"tag.gpgSign":            {"tag.gpgSign", tag, []string{"verify-tag", "skerry-10/2025"}},
		"tag.forceSignAnnotated": {"tag.forceSignAnnotated", tag, []string{"verify-tag", "skerry-10/2025"}},
		"commit.gpgSign":         {"commit.gpgSign", save, []string{"verify-commit", "HEAD"}},
	} {
		for _, format := range []string{"ssh", "openpgp"} {
			t.Run(name+" "+format, func(t *testing.T) {
				needs(t, format)
				r := newRange(t)
				r.git("config", row.setting, "true")
				before := r.git("for-each-ref")
				r.own("gpg.format", "ssh")
				wantError(t, row.do(r), "nothing is signed", "run `git config "+strings.Replace(row.setting, "forceSignAnnotated", "gpgSign", 1)+" false`")
				if r.git("for-each-ref") != before {
					t.Error("something was made")
				}
				if format == "ssh" {
					r.own("user.signingKey", r.sshKey())
				} else {
					r.own("gpg.format", format)
					gpgKey(r)
				}
				if err := row.do(r); err != nil {
					t.Fatal(err)
				}
				r.git(row.verify...)
				r.sound()
				if got := quietLog(t, r.open()).States[0].Message; strings.Contains(got, "BEGIN") {
					t.Errorf("the message is read as %q", got)
				}
			})
		}
	}
}

// A program that the repository names is not run, neither to sign nor to check.
func TestNoProgramOfTheRepository(t *testing.T) {
	for _, key := range []string{"gpg.program", "gpg.openpgp.program", "gpg.ssh.program", "gpg.x509.program", "gpg.ssh.defaultKeyCommand"} {
		t.Run(key, func(t *testing.T) {
			r := newRange(t)
			r.own("gpg.format", "ssh")
			r.own("user.signingKey", r.sshKey())
			made := catalogue.Tag{Name: "a", State: r.head(), Message: "x", Sign: true}
			if err := r.open().Tag(context.Background(), made); err != nil {
				t.Fatal(err)
			}
			ran := filepath.Join(tempDir(t), "ran")
			program := filepath.Join(tempDir(t), "program")
			writeFile(t, program, "#!/bin/sh\ntouch "+ran+"\n")
			if err := os.Chmod(program, 0o755); err != nil {
				t.Fatal(err)
			}
			r.git("config", key, program)
			r.git("config", "tag.gpgSign", "true")
			made.Name, made.Sign = "b", false
			wantError(t, r.open().Tag(context.Background(), made), "nothing is signed", program, "git config --global")
			s := r.open()
			if found, err := s.Signature(context.Background(), quietLog(t, s).Tags[0]); err != nil || len(found.By) == 0 {
				t.Errorf("the signature is %+v, %v", found, err)
			}
			if exists(ran) {
				t.Error("the program was run")
			}
		})
	}
}

// Where nothing can be signed, nothing is tagged, and the error says what to do.
func TestSigningRefuses(t *testing.T) {
	for name, row := range map[string]struct {
		settings map[string]string
		says     []string
	}{
		"no set-up at all":     {map[string]string{"gpg.format": "openpgp"}, []string{"nothing is signed", "leave --sign away"}},
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
				r.own(key, value)
			}
			err := r.open().Tag(context.Background(), catalogue.Tag{Name: "a", State: r.head(), Message: "x", Sign: true})
			wantError(t, err, row.says...)
			if exists(r.path(".git/refs/tags/a")) {
				t.Error("there is a tag")
			}
		})
	}
}
