package gitstore

import (
	"testing"
)

// TestIgnored holds what is left alone against native git.
func TestIgnored(t *testing.T) {
	files := []string{"models/a.yaml", "models/try-1.yaml", "bench/a.yaml", "words.yaml", "models/skerry-10.yaml"}
	for name, prepare := range map[string]func(r *repo){
		"nothing":                func(*repo) {},
		"a name":                 func(r *repo) { r.write(".gitignore", "# of no use\n\na.yaml\n") },
		"a name with CRLF":       func(r *repo) { r.write(".gitignore", "a.yaml\r\n*.txt\r\n") },
		"a pattern":              func(r *repo) { r.write(".gitignore", "try-*.yaml\n") },
		"all specs":              func(r *repo) { r.write(".gitignore", "*.yaml\n") },
		"a later line":           func(r *repo) { r.write(".gitignore", "*.yaml\n!a.yaml\n") },
		"a folder":               func(r *repo) { r.write(".gitignore", "bench/\n") },
		"a folder by its name":   func(r *repo) { r.write(".gitignore", "models\n") },
		"a file of that name":    func(r *repo) { r.write(".gitignore", "a.yaml/\n") },
		"from the top":           func(r *repo) { r.write(".gitignore", "/words.yaml\n/a.yaml\n") },
		"with a folder":          func(r *repo) { r.write(".gitignore", "models/a.yaml\n") },
		"in any folder":          func(r *repo) { r.write(".gitignore", "**/a.yaml\n") },
		"all of a folder":        func(r *repo) { r.write(".gitignore", "bench/**\n") },
		"taken back too late":    func(r *repo) { r.write(".gitignore", "bench/\n!bench/a.yaml\n") },
		"the folder taken back":  func(r *repo) { r.write(".gitignore", "*.yaml\n!models\n!bench/\n") },
		"an escaped name":        func(r *repo) { r.write(".gitignore", "\\a.yaml\n") },
		"blanks behind":          func(r *repo) { r.write(".gitignore", "a.yaml  \n") },
		"a deeper file":          func(r *repo) { r.write("models/.gitignore", "/a.yaml\n") },
		"a deeper file counts":   func(r *repo) { r.write(".gitignore", "a.yaml\n"); r.write("models/.gitignore", "!a.yaml\n") },
		"a deeper one elsewhere": func(r *repo) { r.write("builds/.gitignore", "*\n") },
		"info/exclude":           func(r *repo) { r.write(".git/info/exclude", "a.yaml\n") },
		"over info/exclude":      func(r *repo) { r.write(".git/info/exclude", "a.yaml\n"); r.write(".gitignore", "!a.yaml\n") },
		"the user's file": func(r *repo) {
			r.write("mine", "try-*\n")
			r.git("config", "core.excludesFile", r.path("mine"))
		},
		"staged all the same": func(r *repo) {
			r.write(".gitignore", "*.yaml\n")
			r.git("add", "-f", "models/a.yaml")
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			for _, f := range files[:4] {
				r.write(f, "name: x\n")
			}
			prepare(r)
			s := r.open()
			for _, f := range files {
				got, err := s.Ignored(f)
				if err != nil {
					t.Fatal(err)
				}
				if want := r.command("check-ignore", "-q", f).Run() == nil; got != want {
					t.Errorf("%s is ignored: %v, by native git %v", f, got, want)
				}
			}
		})
	}
}

func TestIgnoredInASubFolder(t *testing.T) {
	r := newRepo(t)
	r.write("rods/range.yaml", "maker: x\n")
	r.write("rods/models/a.yaml", "name: A\n")
	r.write(".gitignore", "rods/models/a.yaml\n")
	s := openStore(t, r.path("rods"))
	if got, err := s.Ignored("models/a.yaml"); err != nil || !got {
		t.Errorf("a file that the folder above leaves alone: ignored %v, %v", got, err)
	}
}
