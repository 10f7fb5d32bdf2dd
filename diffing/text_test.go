package diffing

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestTextApplies lets git, which reads the unified format by itself, apply
// every diff to the old file: it must give the new one. The format's
// description is POSIX.1-2017, utility diff, "Diff -u output format".
func TestTextApplies(t *testing.T) {
	dir := t.TempDir()
	line := rapid.SampledFrom([]string{"a\n", "b\n", "c\n", "d: 1\n", "\n", "long line\n"})
	file := rapid.Custom(func(t *rapid.T) string {
		s := strings.Join(rapid.SliceOfN(line, 0, 30).Draw(t, "lines"), "")
		return s + rapid.SampledFrom([]string{"", "no end"}).Draw(t, "end")
	})
	rapid.Check(t, func(t *rapid.T) {
		old, now := file.Draw(t, "old"), file.Draw(t, "new")
		diff := Text("a/f", old, "b/f", now)
		if old == now {
			if diff != "" {
				t.Fatalf("equal files differ: %q", diff)
			}
			return
		}
		if old == "" || now == "" {
			return // git wants /dev/null for a file that comes or goes
		}
		if got := apply(t, dir, old, diff); got != now {
			t.Fatalf("diff\n%s\napplied to %q gives %q, want %q", diff, old, got, now)
		}
	})
}

func apply(t *rapid.T, dir, old, diff string) string {
	path := filepath.Join(dir, "f")
	if err := os.WriteFile(path, []byte(old), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("git", "apply", "--unidiff-zero", "-")
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GIT_CEILING_DIRECTORIES="+filepath.Dir(dir))
	cmd.Stdin = strings.NewReader(diff)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("git apply: %v\n%s\n%s", err, out, diff)
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(got)
}

func TestTextLayout(t *testing.T) {
	old := "1\n2\n3\n4\n5\n6\n7\n8\n9\n10\n11\n12\n13\n14\n"
	now := strings.Replace(strings.Replace(old, "2\n", "two\n", 1), "14\n", "14\n15\n", 1)
	want := `--- a
+++ b
@@ -1,5 +1,5 @@
 1
-2
+two
 3
 4
 5
@@ -12,3 +12,4 @@
 12
 13
 14
+15
`
	if got := Text("a", old, "b", now); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
