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

const signingHelp = "or leave --sign away"

// sign gives the signature of a payload that is written below it. committer,
// "Name <address>", finds the key where the settings name none.
func (s settings) sign(ctx context.Context, payload []byte, committer string) ([]byte, error) {
	format := cmp.Or(s.value("gpg.format"), "openpgp")
	signer, ok := signers[format]
	if !ok {
		return nil, fmt.Errorf("git's gpg.format is %q; rodlore signs by openpgp, x509 and ssh", format)
	}
	key, err := s.signingKey(ctx, format, committer)
	if err != nil {
		return nil, err
	}
	program := s.value("gpg." + format + ".program")
	if format == "openpgp" {
		program = cmp.Or(program, s.value("gpg.program"))
	}
	program = expandHome(cmp.Or(program, signer.program))
	signature, err := signer.sign(ctx, program, key, payload)
	if err != nil {
		return nil, s.explain(err, program)
	}
	return bytes.ReplaceAll(signature, []byte("\r\n"), []byte("\n")), nil
}

// explain says what to do about a signature that could not be made.
func (s settings) explain(err error, program string) error {
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return fmt.Errorf("nothing is signed: git would sign with %s, which is not there; install it, or name another with gpg.program, %s", program, signingHelp)
	case s.value("user.signingkey") == "":
		return fmt.Errorf("nothing is signed: git names no key of yours; run `git config --global user.signingKey KEY`, with gpg.format ssh for a key of ssh, %s: %w", signingHelp, err)
	}
	return fmt.Errorf("nothing is signed: %w", err)
}

// signingKey is what names the key to the program.
func (s settings) signingKey(ctx context.Context, format, committer string) (string, error) {
	key := s.value("user.signingkey")
	if format != "ssh" {
		return cmp.Or(key, committer), nil
	}
	if command := s.value("gpg.ssh.defaultkeycommand"); key == "" && command != "" {
		out, err := output(exec.CommandContext(ctx, "sh", "-c", command))
		if err != nil {
			return "", fmt.Errorf("nothing is signed: gpg.ssh.defaultKeyCommand: %w", err)
		}
		key, _, _ = strings.Cut(string(out), "\n")
		key = strings.TrimSpace(key)
	}
	if key == "" {
		return "", fmt.Errorf("nothing is signed: git signs by ssh and names no key; run `git config --global user.signingKey ~/.ssh/id_ed25519.pub`, %s", signingHelp)
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

func expandHome(path string) string {
	if strings.HasPrefix(path, "~/") {
		return expand(path, "")
	}
	return path
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
