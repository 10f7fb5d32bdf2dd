package gitstore

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"rodlore/catalogue/visible"
)

// Signing goes by the user's own settings, as git-config(1) gives them under
// gpg.format, gpg.program, gpg.<format>.program, gpg.ssh.defaultKeyCommand and
// user.signingKey, and calls the program that git would call.

// signers make a signature by the format that gpg.format names.
var signers = map[string]struct {
	program string // that git calls unless told otherwise
	sign    func(ctx context.Context, program, key string, payload []byte) ([]byte, error)
}{
	"openpgp": {"gpg", signDetached},
	"x509":    {"gpgsm", signDetached},
	"ssh":     {"ssh-keygen", signBySSH},
}

// signing is how something is to be signed.
type signing struct {
	settings settings
	own      settings // the user's, which alone say what to run
	help     string   // what to do to have it unsigned
}

// signing reads the settings for something that is signed. Programs that the
// repository's own settings name are refused: those may have come with it.
func (s *Store) signing(help string) (*signing, error) {
	all, err := readSettings(s.place)
	if err != nil {
		return nil, err
	}
	own, err := readUserSettings(s.place)
	if err != nil {
		return nil, err
	}
	for _, key := range []string{"gpg.program", "gpg.openpgp.program", "gpg.x509.program", "gpg.ssh.program", "gpg.ssh.defaultkeycommand"} {
		if named := all.value(key); named != own.value(key) {
			return nil, fmt.Errorf("nothing is signed: the repository's own settings have %s = %s, and rodlore runs no program that a repository names; if it is yours, run `git config --global %s %s`, %s",
				key, named, key, visible.Arg(named), help)
		}
	}
	return &signing{all, own, help}, nil
}

// signingProgram is what signs and checks by a format.
func (s settings) signingProgram(format string) string {
	program := s.value("gpg." + format + ".program")
	if format == "openpgp" {
		program = cmp.Or(program, s.value("gpg.program"))
	}
	return expandHome(cmp.Or(program, signers[format].program))
}

// sign gives the signature of a payload that is written below it. committer,
// "Name <address>", finds the key where the settings name none.
func (s *signing) sign(ctx context.Context, payload []byte, committer string) ([]byte, error) {
	format := cmp.Or(s.settings.value("gpg.format"), "openpgp")
	signer, ok := signers[format]
	if !ok {
		return nil, fmt.Errorf("git's gpg.format is %q; rodlore signs by openpgp, x509 and ssh", format)
	}
	key, err := s.key(ctx, format, committer)
	if err != nil {
		return nil, err
	}
	program := s.own.signingProgram(format)
	signature, err := signer.sign(ctx, program, key, payload)
	if err != nil {
		return nil, s.explain(err, program)
	}
	return bytes.ReplaceAll(signature, []byte("\r\n"), []byte("\n")), nil
}

// explain says what to do about a signature that could not be made.
func (s *signing) explain(err error, program string) error {
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return fmt.Errorf("nothing is signed: git would sign with %s, which is not there; install it, or name another with gpg.program, %s", program, s.help)
	case s.settings.value("user.signingkey") == "":
		return fmt.Errorf("nothing is signed: git names no key of yours; run `git config --global user.signingKey KEY`, with gpg.format ssh for a key of ssh, %s: %w", s.help, err)
	}
	return fmt.Errorf("nothing is signed: %w; put that right, %s", err, s.help)
}

// key is what names the key to the program.
func (s *signing) key(ctx context.Context, format, committer string) (string, error) {
	key := s.settings.value("user.signingkey")
	if format != "ssh" {
		return cmp.Or(key, committer), nil
	}
	if command := s.own.value("gpg.ssh.defaultkeycommand"); key == "" && command != "" {
		out, err := output(exec.CommandContext(ctx, "sh", "-c", command))
		if err != nil {
			return "", fmt.Errorf("nothing is signed: gpg.ssh.defaultKeyCommand: %w", err)
		}
		key, _, _ = strings.Cut(string(out), "\n")
		key = strings.TrimSpace(key)
	}
	if key == "" {
		return "", fmt.Errorf("nothing is signed: git signs by ssh and names no key; run `git config --global user.signingKey ~/.ssh/id_ed25519.pub`, %s", s.help)
	}
	return key, nil
}

// signDetached signs with gpg or a program that takes its options.
func signDetached(ctx context.Context, program, key string, payload []byte) ([]byte, error) {
	cmd := exec.CommandContext(ctx, program, "--status-fd=2", "-bsau", key)
	cmd.Stdin = bytes.NewReader(payload)
	var status bytes.Buffer
	cmd.Stderr = &status
	out, err := output(cmd)
	if err == nil && !strings.Contains("\n"+status.String(), "\n[GNUPG:] SIG_CREATED ") {
		err = fmt.Errorf("%s ended without a signature", program)
	}
	return out, err
}

// signBySSH signs with ssh-keygen, which works on files.
func signBySSH(ctx context.Context, program, key string, payload []byte) (signature []byte, err error) {
	dir, err := os.MkdirTemp("", "rodlore-sign-")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	file := filepath.Join(dir, "payload")
	if err := os.WriteFile(file, payload, 0o600); err != nil {
		return nil, err
	}
	args := []string{"-Y", "sign", "-n", "git"}
	if literal, ok := literalKey(key); ok { // the agent has the other half
		public := filepath.Join(dir, "key")
		if err := os.WriteFile(public, []byte(literal+"\n"), 0o600); err != nil {
			return nil, err
		}
		args = append(args, "-f", public, "-U")
	} else {
		args = append(args, "-f", expandHome(key))
	}
	if _, err := output(exec.CommandContext(ctx, program, append(args, file)...)); err != nil {
		return nil, err
	}
	return os.ReadFile(file + ".sig")
}

// literalKey is the public key itself, where the settings give that instead of
// its file.
func literalKey(key string) (string, bool) {
	if literal, ok := strings.CutPrefix(key, "key::"); ok {
		return literal, true
	}
	return key, strings.HasPrefix(key, "ssh-")
}

// output runs a program; its error has the last of what the program says of it.
func output(cmd *exec.Cmd) ([]byte, error) {
	said, ok := cmd.Stderr.(*bytes.Buffer)
	if !ok {
		said = &bytes.Buffer{}
		cmd.Stderr = said
	}
	out, err := cmd.Output()
	if err == nil {
		return out, nil
	}
	last := ""
	for line := range strings.Lines(said.String()) {
		if line = strings.TrimSpace(line); line != "" && !strings.HasPrefix(line, "[GNUPG:]") {
			last = line
		}
	}
	if last == "" {
		return nil, fmt.Errorf("%s: %w", cmd.Path, err)
	}
	return nil, fmt.Errorf("%s says: %s", cmd.Path, last)
}
