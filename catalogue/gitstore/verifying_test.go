package gitstore

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"rodlore/catalogue"
)

// retag puts another tag object in the place of one, made of its text.
func (r *repo) retag(name string, alter func(text string) string) {
	r.t.Helper()
	text := alter(r.git("cat-file", "tag", name) + "\n")
	cmd := r.command("hash-object", "-t", "tag", "-w", "--stdin")
	cmd.Stdin = strings.NewReader(text)
	out, err := cmd.Output()
	if err != nil {
		r.t.Fatal(err)
	}
	r.git("update-ref", tagPrefix+name, strings.TrimSpace(string(out)))
}

var signatureBlock = regexp.MustCompile(`(?s)-----BEGIN .*`)

// What is told of a signature is what git tells of it, and of a good one by whom.
func TestSignature(t *testing.T) {
	keep := func(text string) string { return text }
	edit := func(text string) string { return strings.Replace(text, "Figures: 1", "Figures: 2", 1) }
	strip := func(text string) string { return signatureBlock.ReplaceAllString(text, "") }
	corrupt := func(text string) string {
		// A letter in the middle of the last full line of the signature.
		lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
		line := []byte(lines[len(lines)-4])
		line[10] ^= 1
		lines[len(lines)-4] = string(line)
		return strings.Join(lines, "\n") + "\n"
	}
	sshSigned := func(r *repo) {
		r.own("gpg.format", "ssh")
		r.own("user.signingKey", r.sshKey())
	}
	trust := func(allowed string) func(r *repo) {
		return func(r *repo) {
			file := filepath.Join(tempDir(r.t), "allowed")
			writeFile(r.t, file, allowed)
			r.own("gpg.ssh.allowedSignersFile", file)
		}
	}
	forget := func(r *repo) { gpgHome(r) }
	none := func(*repo) {}
	for name, row := range map[string]struct {
		sign  func(r *repo)
		alter func(text string) string
		then  func(r *repo) // once it is signed
		by    string        // one of those it is by; "" where nobody is
		why   string
	}{
		"ssh":                  {sshSigned, keep, none, "isla@skerry.example", ""},
		"ssh, edited":          {sshSigned, edit, none, "", "does not hold"},
		"ssh, stripped":        {sshSigned, strip, none, "", ""},
		"ssh, corrupted":       {sshSigned, corrupt, none, "", "does not hold"},
		"ssh, by a stranger":   {sshSigned, keep, trust("# nobody yet\n"), "", "none of those"},
		"ssh, nobody to trust": {sshSigned, keep, func(r *repo) { r.own("gpg.ssh.allowedSignersFile", "") }, "", "allowedSignersFile"},
		"ssh, trusted by the repository alone": {sshSigned, keep, func(r *repo) {
			file := strings.TrimSpace(r.git("config", "gpg.ssh.allowedSignersFile"))
			r.git("config", "gpg.ssh.allowedSignersFile", file)
			r.own("gpg.ssh.allowedSignersFile", "")
		}, "", "allowedSignersFile"},
		"ssh, revoked": {sshSigned, keep, func(r *repo) {
			r.own("gpg.ssh.revocationFile", strings.TrimSpace(r.git("config", "user.signingKey"))+".pub")
		}, "", "was revoked"},
		"openpgp":                {gpgKey, keep, none, "isla@skerry.example", ""},
		"openpgp, edited":        {gpgKey, edit, none, "", "does not hold"},
		"openpgp, stripped":      {gpgKey, strip, none, "", ""},
		"openpgp, corrupted":     {gpgKey, corrupt, none, "", "does not hold"},
		"openpgp, by a stranger": {gpgKey, keep, forget, "", "none of those that you have"},
		"openpgp, trusted too little": {gpgKey, keep, func(r *repo) {
			key := r.run("gpg", "--armor", "--export")
			forget(r)
			file := filepath.Join(tempDir(r.t), "key")
			writeFile(r.t, file, key)
			r.run("gpg", "--batch", "--quiet", "--import", file)
			r.own("gpg.minTrustLevel", "fully")
		}, "", "trusted too little"},
		"x509":                {x509Key, keep, none, "/CN=Isla Reed/O=Skerry Rods", ""},
		"x509, edited":        {x509Key, edit, none, "", "does not hold"},
		"x509, by a stranger": {x509Key, keep, forget, "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			needs(t, name)
			r := newRange(t)
			row.sign(r)
			tag := catalogue.Tag{Name: "skerry-10/2025", State: r.head(), When: at(0), Message: "for sale\n\nFigures: 1\n", Sign: true}
			if err := r.open().Tag(context.Background(), tag); err != nil {
				t.Fatal(err)
			}
			r.retag(tag.Name, row.alter)
			row.then(r)
			s := r.open()
			found, err := s.Signature(context.Background(), quietLog(t, s).Tags[0])
			if err != nil {
				t.Fatal(err)
			}
			native := r.command("verify-tag", tag.Name).Run() == nil
			if name == "ssh, trusted by the repository alone" {
				native = false // which git takes as the user's word
			}
			if native != (len(found.By) > 0) || (row.by != "") != native || row.by != "" && !slices.Contains(found.By, row.by) {
				t.Errorf("found %+v, want %q; git finds it good: %t", found, row.by, native)
			}
			if !strings.Contains(found.Why, row.why) || (row.why == "" && row.by != "" && found.Why != "") {
				t.Errorf("the reason is %q, want %q", found.Why, row.why)
			}
			if stripped := strings.HasSuffix(name, "stripped"); stripped != (found.Format == "") {
				t.Errorf("the form is %q", found.Format)
			}
		})
	}
}

// Of a key that gpg does not trust to be whose it says, only the key counts.
func TestSignatureOfAnUntrustedKey(t *testing.T) {
	needs(t, "openpgp")
	r := newRange(t)
	gpgKey(r)
	tag := catalogue.Tag{Name: "a", State: r.head(), Message: "x", Sign: true}
	if err := r.open().Tag(context.Background(), tag); err != nil {
		t.Fatal(err)
	}
	key := r.run("gpg", "--armor", "--export")
	gpgHome(r)
	file := filepath.Join(tempDir(t), "key")
	writeFile(t, file, key)
	r.run("gpg", "--batch", "--quiet", "--import", file)
	s := r.open()
	found, err := s.Signature(context.Background(), quietLog(t, s).Tags[0])
	if err != nil || len(found.By) != 1 || len(found.By[0]) != 40 {
		t.Errorf("found %+v, %v, want a fingerprint alone", found, err)
	}
}

// An object that was replaced in its place is found, be it the state, a folder or a
// file of the range; what is no part of the range is nobody's business.
func TestIntact(t *testing.T) {
	for _, name := range []string{"HEAD", "HEAD^{tree}", "HEAD:models", "HEAD:models/skerry-10.yaml", "HEAD:parts.yaml"} {
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			r.write("notes.txt", "nothing of the range\n")
			head := r.commit("notes")
			if err := r.open().Intact(context.Background(), head); err != nil {
				t.Fatal(err)
			}
			r.replaceObject(r.git("rev-parse", "HEAD:notes.txt"))
			if err := r.open().Intact(context.Background(), head); err != nil {
				t.Errorf("a file that is none of the range's: %v", err)
			}
			id := r.git("rev-parse", name)
			r.replaceObject(id)
			wantError(t, r.open().Intact(context.Background(), head), id)
		})
	}
}

// replaceObject puts other content of the same kind into an object's own file.
func (r *repo) replaceObject(id string) {
	r.t.Helper()
	kind := r.git("cat-file", "-t", id)
	content := r.git("cat-file", kind, id)
	other := content + "# another\n"
	switch kind {
	case "commit":
		other = strings.Replace(content, "notes", "words", 1) + "\n"
	case "tree":
		raw, err := r.command("cat-file", kind, id).Output()
		if err != nil {
			r.t.Fatal(err)
		}
		raw[len(raw)-1] ^= 1
		other = string(raw)
	}
	cmd := r.command("hash-object", "-t", kind, "-w", "--literally", "--stdin")
	cmd.Stdin = strings.NewReader(other)
	out, err := cmd.Output()
	if err != nil {
		r.t.Fatal(err)
	}
	loose := func(id string) string { return r.path(".git/objects/" + id[:2] + "/" + id[2:]) }
	if err := os.Rename(loose(strings.TrimSpace(string(out))), loose(id)); err != nil {
		r.t.Fatal(err)
	}
}

// The tags of another repository are listed as it has them.
func TestRemoteTags(t *testing.T) {
	r := newRange(t)
	_, _, err := r.open().RemoteTags(context.Background(), "")
	wantError(t, err, "no remote", "git remote add")
	r.git("tag", "-a", "-m", "x", "skerry-10/2025")
	r.git("tag", "plain")
	other := filepath.Join(tempDir(t), "other.git")
	r.git("clone", "-q", "--bare", r.dir, other)
	r.git("remote", "add", "shelf", "away:other.git")
	r.git("config", "url."+filepath.Dir(other)+"/.insteadOf", "away:")
	for _, asked := range []string{"", "shelf"} {
		name, ids, err := r.open().RemoteTags(context.Background(), asked)
		if err != nil || name != "shelf" || len(ids) != 2 ||
			ids["skerry-10/2025"] != r.git("rev-parse", "skerry-10/2025") || ids["plain"] != r.git("rev-parse", "plain") {
			t.Errorf("%q lists %v, %v", name, ids, err)
		}
	}
	_, _, err = r.open().RemoteTags(context.Background(), "loft")
	wantError(t, err, `no remote "loft"`, "shelf")
	r.git("remote", "add", "loft", "ext::sh -c true")
	_, _, err = r.open().RemoteTags(context.Background(), "loft")
	wantError(t, err, "loft")
	_, _, err = r.open().RemoteTags(context.Background(), "")
	wantError(t, err, "several remotes", "loft, shelf")
}
