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
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
)

// Signatures are checked as git checks them, by gpg, gpgsm and ssh-keygen, against
// the keys that the user trusts. Which programs run and whom to trust is read from
// the system's and the user's own settings alone: what a repository says of that
// came with the repository.

// A signature that takes longer to check is none.
const verifyPatience = 30 * time.Second

// signatureMarks begin a signature below a tag's message, by gpg.format.
var signatureMarks = []struct{ mark, format string }{
	{"-----BEGIN PGP SIGNATURE-----", "openpgp"},
	{"-----BEGIN PGP MESSAGE-----", "openpgp"},
	{"-----BEGIN SIGNED MESSAGE-----", "x509"},
	{"-----BEGIN SSH SIGNATURE-----", "ssh"},
}

// Signature says whether a tag is signed, and by whom.
func (s *Store) Signature(ctx context.Context, t catalogue.Tag) (catalogue.Signature, error) {
	id, ok := parseID(t.ID)
	if !ok {
		return catalogue.Signature{}, fmt.Errorf("%q is no identity of a tag", t.ID)
	}
	kind, raw, err := s.objects.readAny(id)
	if err != nil {
		return catalogue.Signature{}, err
	}
	if kind != plumbing.TagObject {
		return catalogue.Signature{}, nil // a plain tag holds nothing that could be signed
	}
	payload, signature, format := splitSignature(raw)
	if format == "" {
		return catalogue.Signature{}, nil
	}
	own, err := readUserSettings(s.place)
	if err != nil {
		return catalogue.Signature{}, err
	}
	ctx, cancel := context.WithTimeout(ctx, verifyPatience)
	defer cancel()
	var said catalogue.Tag
	parseTag(raw, &said)
	v := verifier{own, payload, signature, said.When}
	found := catalogue.Signature{Format: format}
	found.By, err = v.verify(ctx, format)
	if ctx.Err() != nil {
		return found, ctx.Err()
	}
	if err != nil {
		found.Why, found.Broken = err.Error(), errors.Is(err, errBadSignature)
	}
	return found, nil
}

// splitSignature parts a tag from its signature where git does: at the last line
// that begins one.
func splitSignature(raw []byte) (payload, signature []byte, format string) {
	at := len(raw)
	for start := 0; start < len(raw); {
		line := raw[start:]
		for _, m := range signatureMarks {
			if bytes.HasPrefix(line, []byte(m.mark)) {
				at, format = start, m.format
			}
		}
		end := bytes.IndexByte(line, '\n')
		if end < 0 {
			break
		}
		start += end + 1
	}
	return raw[:at], raw[at:], format
}

// verifier is one signature and what it is of.
type verifier struct {
	own       settings // the user's
	payload   []byte
	signature []byte
	when      time.Time // it says it was made
}

// verify gives the names and keys of who made the signature, as the user's settings
// vouch for them. The error says why nobody is.
func (v verifier) verify(ctx context.Context, format string) (by []string, err error) {
	dir, err := os.MkdirTemp("", "rodlore-verify-")
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(dir)) }()
	file := filepath.Join(dir, "signature")
	if err := os.WriteFile(file, v.signature, 0o600); err != nil {
		return nil, err
	}
	program := v.own.signingProgram(format)
	if format == "ssh" {
		by, err = v.verifySSH(ctx, program, file)
	} else {
		by, err = v.verifyGPG(ctx, program, format, file)
	}
	if errors.Is(err, exec.ErrNotFound) {
		err = fmt.Errorf("it is checked with %s, which is not there", program)
	}
	return by, err
}

// verifySSH says who made the signature, or else whether it holds at all, which does
// not hang on whom to trust.
func (v verifier) verifySSH(ctx context.Context, program, file string) ([]string, error) {
	by, err := v.allowedSigner(ctx, program, file)
	if err == nil {
		return by, nil
	}
	check := exec.CommandContext(ctx, program, "-Y", "check-novalidate", "-n", "git", "-s", file)
	check.Stdin = bytes.NewReader(v.payload)
	if _, bad := output(check); errors.Is(bad, exec.ErrNotFound) {
		return nil, bad
	} else if bad != nil {
		return nil, errBadSignature
	}
	return nil, err
}

// allowedSigner asks ssh-keygen which of the allowed signers made the signature; see
// git-config(1), gpg.ssh.allowedSignersFile, and ssh-keygen(1), ALLOWED SIGNERS.
func (v verifier) allowedSigner(ctx context.Context, program, file string) ([]string, error) {
	allowed := expandHome(v.own.value("gpg.ssh.allowedsignersfile"))
	switch {
	case allowed == "":
		return nil, errors.New("your git settings name no file of those whose keys you trust; run `git config --global gpg.ssh.allowedSignersFile ~/.ssh/allowed_signers`")
	case !filepath.IsAbs(allowed):
		return nil, fmt.Errorf("gpg.ssh.allowedSignersFile is %q in your git settings; write it from the root or from ~/", allowed)
	case !isFile(allowed):
		return nil, fmt.Errorf("%s, which your git settings name as gpg.ssh.allowedSignersFile, is not there", allowed)
	}
	then := "-Overify-time=" + v.when.Local().Format("20060102150405")
	names, err := output(exec.CommandContext(ctx, program, "-Y", "find-principals", "-f", allowed, "-s", file, then))
	if err != nil {
		return nil, fmt.Errorf("its key is none of those in %s", allowed)
	}
	args := []string{"-Y", "verify", "-n", "git", "-f", allowed, "-s", file, then}
	if revoked := expandHome(v.own.value("gpg.ssh.revocationfile")); revoked != "" {
		args = append(args, "-r", revoked)
	}
	for name := range strings.Lines(string(names)) {
		name = strings.TrimSpace(name)
		cmd := exec.CommandContext(ctx, program, append(args, "-I", name)...)
		cmd.Stdin = bytes.NewReader(v.payload)
		said, err := output(cmd)
		if err == nil && name != "" {
			return append([]string{name}, sshFingerprint.FindAllString(string(said), 1)...), nil
		}
	}
	return nil, fmt.Errorf("its key is in %s and was revoked, or is not for this use", allowed)
}

var (
	sshFingerprint  = regexp.MustCompile(`SHA256:[A-Za-z0-9+/]+`)
	errBadSignature = errors.New("it does not hold: it is of another text, or not by the key that it names")
)

// How far gpg trusts that a key is whose it says, least first, as git-config(1),
// gpg.minTrustLevel, has it.
var trustLevels = []string{"UNDEFINED", "NEVER", "MARGINAL", "FULLY", "ULTIMATE"}

// verifyGPG asks gpg or gpgsm. A key is named by its fingerprint, and by the
// addresses in it where gpg trusts that they are its owner's.
func (v verifier) verifyGPG(ctx context.Context, program, format, file string) ([]string, error) {
	args := []string{"--status-fd=1", "--verify", file, "-"}
	if format == "openpgp" {
		args = append([]string{"--keyid-format=long"}, args...)
	}
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Stdin = bytes.NewReader(v.payload)
	out, err := cmd.Output()
	var failed *exec.ExitError
	if err != nil && !errors.As(err, &failed) {
		return nil, err
	}
	status := readStatus(out)
	least := slices.Index(trustLevels, strings.ToUpper(cmp.Or(v.own.value("gpg.mintrustlevel"), trustLevels[0])))
	switch {
	case status.verdict == "ERRSIG":
		return nil, errors.New("its key is none of those that you have")
	case status.verdict == "EXPSIG", status.verdict == "EXPKEYSIG":
		return nil, errors.New("it, or its key, has expired")
	case status.verdict == "REVKEYSIG":
		return nil, errors.New("its key was revoked")
	case status.verdict != "GOODSIG", failed != nil, len(status.keys) == 0:
		return nil, errBadSignature
	case status.trust == "NEVER", slices.Index(trustLevels, status.trust) < least:
		return nil, fmt.Errorf("its key is trusted too little (%s)", strings.ToLower(status.trust))
	}
	by := status.keys
	if slices.Index(trustLevels, status.trust) >= slices.Index(trustLevels, "MARGINAL") {
		by = slices.Concat([]string{status.name}, address.FindAllString(status.name, -1), by)
	}
	return by, nil
}

var address = regexp.MustCompile(`[^\s<>/=,"()]+@[^\s<>/=,"()]+`)

// gpgStatus is what gpg says of one signature, in the lines of --status-fd; see
// doc/DETAILS of GnuPG.
type gpgStatus struct {
	verdict string // the one line that decides, "" where there is not exactly one
	name    string // whose the key says that it is
	keys    []string
	trust   string
}

func readStatus(out []byte) gpgStatus {
	var s gpgStatus
	verdicts := 0
	for line := range strings.Lines(string(out)) {
		line, ok := strings.CutPrefix(line, "[GNUPG:] ")
		if !ok {
			continue
		}
		key, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		words := strings.Fields(rest)
		switch key {
		case "GOODSIG", "BADSIG", "EXPSIG", "EXPKEYSIG", "REVKEYSIG", "ERRSIG":
			verdicts++
			s.verdict = key
			_, s.name, _ = strings.Cut(rest, " ")
		case "VALIDSIG":
			if len(words) > 0 {
				s.keys = words[:1]
			}
			if len(words) > 9 && words[9] != words[0] { // of the key that the signing one is part of
				s.keys = append(s.keys[:1:1], words[9])
			}
		default:
			if trust, ok := strings.CutPrefix(key, "TRUST_"); ok {
				s.trust = trust
			}
		}
	}
	if verdicts != 1 {
		s.verdict = ""
	}
	return s
}
