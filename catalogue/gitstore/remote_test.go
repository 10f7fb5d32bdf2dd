package gitstore

import (
	"context"
	"encoding/pem"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/cgi"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// withRemote is a range with a release, and a bare copy of it.
func withRemote(t *testing.T) (r *repo, copied string) {
	t.Helper()
	r = newRange(t)
	r.git("tag", "-a", "-m", "x", "skerry-10/2025")
	copied = filepath.Join(tempDir(t), "other.git")
	r.git("clone", "-q", "--bare", r.dir, copied)
	t.Setenv("GIT_ALLOW_PROTOCOL", "")
	return r, copied
}

// asks gives what a remote at an address lists.
func (r *repo) asks(ctx context.Context, address string) (map[string]string, error) {
	r.git("config", "remote.shelf.url", address)
	_, ids, err := r.open().RemoteTags(ctx, "shelf")
	return ids, err
}

// mustList fails unless the address lists the release as it is.
func (r *repo) mustList(address string) {
	r.t.Helper()
	ids, err := r.asks(r.t.Context(), address)
	if err != nil || len(ids) != 1 || ids["skerry-10/2025"] != r.git("rev-parse", "skerry-10/2025") {
		r.t.Errorf("%s lists %v, %v", address, ids, err)
	}
}

// TestRemoteOverHTTPS asks git's own server behind TLS. Of one whose certificate is
// nobody's, that wants a password or that is not there, it is said.
func TestRemoteOverHTTPS(t *testing.T) {
	r, copied := withRemote(t)
	core, err := exec.Command("git", "--exec-path").Output()
	if err != nil {
		t.Fatal(err)
	}
	backend := filepath.Join(strings.TrimSpace(string(core)), "git-http-backend")
	if _, err := os.Stat(backend); err != nil {
		without(t, backend)
	}
	git := &cgi.Handler{Path: backend, Env: []string{"GIT_PROJECT_ROOT=" + filepath.Dir(copied), "GIT_HTTP_EXPORT_ALL=1"}, InheritEnv: []string{"PATH"}, Stderr: io.Discard}
	server := httptest.NewTLSServer(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		if _, password, _ := q.BasicAuth(); strings.HasPrefix(q.URL.Path, "/locked/") && password != "right" {
			w.Header().Set("WWW-Authenticate", `Basic realm="rods"`)
			w.WriteHeader(http.StatusUnauthorized)
			return
		}
		q.URL.Path = strings.TrimPrefix(q.URL.Path, "/locked")
		git.ServeHTTP(w, q)
	}))
	defer server.Close()
	_, err = r.asks(t.Context(), server.URL+"/other.git")
	wantError(t, err, "certificate")
	trusted := filepath.Join(tempDir(t), "trusted.pem")
	certificate := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: server.Certificate().Raw})
	if err := os.WriteFile(trusted, certificate, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("GIT_SSL_CAINFO", trusted)
	r.mustList(server.URL + "/other.git")
	locked := server.URL + "/locked/other.git"
	_, err = r.asks(t.Context(), locked)
	wantError(t, err, "could not read Username", "see whether `git ls-remote shelf` can")
	_, err = r.asks(t.Context(), strings.Replace(locked, "//", "//me:wrong@", 1))
	wantError(t, err, "Authentication failed")
	if strings.Contains(err.Error(), "wrong") {
		t.Errorf("the password is told: %v", err)
	}
	r.mustList(strings.Replace(locked, "//", "//me:right@", 1))
	_, err = r.asks(t.Context(), server.URL+"/none.git")
	wantError(t, err, "not found")
	server.Close()
	_, err = r.asks(t.Context(), server.URL+"/other.git")
	wantError(t, err, "onnect")
}

// TestRemoteOverSSH asks by a program in the place of ssh, which is told to ask
// nobody anything, and says why it cannot.
func TestRemoteOverSSH(t *testing.T) {
	r, copied := withRemote(t)
	stub := filepath.Join(tempDir(t), "ssh")
	script := `#!/bin/sh
case "$*" in *BatchMode=yes*) ;; *) echo "would ask" >&2; exit 255 ;; esac
case "$*" in
*unknown.example*) echo "Host key verification failed." >&2; exit 255 ;;
*foreign.example*) echo "me@foreign.example: Permission denied (publickey)." >&2; exit 255 ;;
esac
for last in "$@"; do :; done
exec sh -c "$last"
`
	if err := os.WriteFile(stub, []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("GIT_SSH_COMMAND", stub)
	t.Setenv("GIT_SSH_VARIANT", "ssh")
	// What the repository has run in the place of ssh is not run.
	r.git("config", "core.sshCommand", "touch "+r.path("PWN"))
	r.mustList("ssh://me@shelf.example" + copied)
	r.mustList("me@shelf.example:" + copied)
	for host, want := range map[string]string{"unknown": "git says: Host key verification failed.", "foreign": "Permission denied (publickey)."} {
		_, err := r.asks(t.Context(), "ssh://me@"+host+".example/other.git")
		wantError(t, err, want)
	}
	t.Setenv("GIT_SSH_COMMAND", "")
	_, err := r.asks(t.Context(), "ssh://me@127.0.0.1:1/other.git")
	wantError(t, err, "git says:")
	if exists(r.path("PWN")) {
		t.Error("a program of the repository was run")
	}
}

// TestRemoteThatKeepsSilent holds that a host which takes a call and says nothing is
// not waited for beyond what the caller waits, by any protocol.
func TestRemoteThatKeepsSilent(t *testing.T) {
	r, _ := withRemote(t)
	silent, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	for _, protocol := range []string{"http", "https", "ssh", "git"} {
		ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
		done := make(chan error, 1)
		go func() {
			_, err := r.asks(ctx, protocol+"://"+silent.Addr().String()+"/other.git")
			done <- err
		}()
		select {
		case err := <-done:
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("%s: error %v", protocol, err)
			}
		case <-time.After(20 * time.Second):
			t.Errorf("%s: waits for ever", protocol)
		}
		cancel()
	}
}

// TestRemotePaths holds that a path is seen from the top of the working tree, and
// that no address names a program.
func TestRemotePaths(t *testing.T) {
	r, copied := withRemote(t)
	relative, err := filepath.Rel(r.dir, copied)
	if err != nil {
		t.Fatal(err)
	}
	r.mustList(copied)
	r.mustList(relative)
	r.mustList("file://" + copied)
	for _, address := range []string{"ext::sh -c touch% PWN", "EXT::sh", "--upload-pack=touch PWN", "-oProxyCommand=touch PWN:x"} {
		if ids, err := r.asks(t.Context(), address); err == nil {
			t.Errorf("%s lists %v", address, ids)
		}
	}
	if exists(r.path("PWN")) || exists("/PWN") || exists("PWN") {
		t.Error("a program was run")
	}
}
