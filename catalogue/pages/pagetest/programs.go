package pagetest

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// program is the path of an installed program.
func program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name)
	}
	return path
}

// started is the folder of the tested package, wherever a test has gone since.
var started, _ = os.Getwd()

// installed is the path of a file under .ci/node_modules, where .ci/run puts
// what comes from npm.
func installed(t testing.TB, file string) string {
	t.Helper()
	dir := started
	for {
		path := filepath.Join(dir, ".ci", "node_modules", file)
		if _, err := os.Stat(path); err == nil {
			return path
		}
		if parent := filepath.Dir(dir); parent != dir {
			dir = parent
			continue
		}
		missing(t, file)
	}
}

func missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is not installed; .ci/run does it", what)
	}
	t.Skipf("SKIPPED: %s is not installed; .ci/run does it", what)
}
