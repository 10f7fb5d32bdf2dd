package gitstore

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
)

// clearIdentity takes away who the tests say they are, and gives a home of the
// test's own.
func clearIdentity(t *testing.T) (home string) {
	home = t.TempDir()
	for _, key := range []string{
		"GIT_AUTHOR_NAME", "GIT_AUTHOR_EMAIL", "GIT_COMMITTER_NAME", "GIT_COMMITTER_EMAIL", "EMAIL",
		"GIT_CONFIG_GLOBAL", "XDG_CONFIG_HOME", "GIT_AUTHOR_DATE", "GIT_COMMITTER_DATE",
	} {
		value := os.Getenv(key)
		if err := os.Unsetenv(key); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = os.Setenv(key, value) })
	}
	t.Setenv("HOME", home)
	return home
}

// The identity is the one that native git takes.
func TestIdentityIsGits(t *testing.T) {
	for name, prepare := range map[string]func(r *repo, home string){
		"the user's settings": func(r *repo, home string) {
			r.git("config", "--global", "user.name", "Global")
			r.git("config", "--global", "user.email", "g@x")
		},
		"the XDG folder": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".config/git/config"), "[user]\n\tname = Xdg\n\temail = x@x\n")
		},
		"both of these": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".config/git/config"), "[user]\n\tname = Xdg\n\temail = x@x\n")
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n")
		},
		"the repository's settings": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n")
			r.git("config", "user.name", "Local \"the\" <Maker>")
		},
		"one working tree's settings": func(r *repo, home string) {
			r.git("config", "user.email", "l@x")
			r.git("config", "user.name", "Local")
			r.git("config", "extensions.worktreeConfig", "true")
			r.git("config", "--worktree", "user.name", "Tree")
		},
		"an included file": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n[include]\n\tpath = ~/more\n\tpath = missing\n")
			writeFile(r.t, filepath.Join(home, "more"), "[user]\n\tname = More\n")
		},
		"author and committer apart": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n[author]\n\tname = Author\n[Committer]\n\tEmail = c@x\n")
		},
		"the environment": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n")
			r.t.(*testing.T).Setenv("GIT_AUTHOR_NAME", "Env")
			r.t.(*testing.T).Setenv("GIT_COMMITTER_EMAIL", "e@x")
		},
		"EMAIL": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n")
			r.t.(*testing.T).Setenv("EMAIL", "mail@x")
		},
		"an include on the repository's folder": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n"+
				"[includeIf \"gitdir:"+r.dir+"/\"]\n\tpath = more\n[includeIf \"gitdir:/nowhere/\"]\n\tpath = less\n")
			writeFile(r.t, filepath.Join(home, "more"), "[user]\n\tname = More\n")
			writeFile(r.t, filepath.Join(home, "less"), "[user]\n\tname = Less\n")
		},
		"an include on part of the folder": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Home\n\temail = h@x\n"+
				"[includeIf \"gitdir/i:testIDENTITY*/**/.GIT\"]\n\tpath = more\n[includeIf \"onbranch:trial\"]\n\tpath = less\n")
			writeFile(r.t, filepath.Join(home, "more"), "[user]\n\tname = More\n")
			writeFile(r.t, filepath.Join(home, "less"), "[user]\n\tname = Less\n")
		},
		"what comes after an include": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, ".gitconfig"), "[user] name = Home\n\temail = h@x\n[include]\n\tpath = more\n[user]\n\tname = After\n")
			writeFile(r.t, filepath.Join(home, "more"), "[user]\n\tname = More\n")
		},
		"another global file": func(r *repo, home string) {
			writeFile(r.t, filepath.Join(home, "elsewhere"), "[user]\n\tname = Elsewhere\n\temail = h@x\n")
			r.t.(*testing.T).Setenv("GIT_CONFIG_GLOBAL", filepath.Join(home, "elsewhere"))
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRange(t)
			prepare(r, clearIdentity(t))
			r.write("other.txt", "x")
			r.commit("by native git")
			const people = "--format=%an <%ae>, %cn <%ce>"
			want := r.git("log", "-1", people)
			mustSave(t)(r.save(r.open(), map[string]string{"parts.yaml": "rings: [x]\n"}))
			if got := r.git("log", "-1", people); got != want {
				t.Errorf("%s, native git: %s", got, want)
			}
		})
	}
}

func writeFile(t testing.TB, name, content string) {
	t.Helper()
	if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o777), os.WriteFile(name, []byte(content), 0o666)); err != nil {
		t.Fatal(err)
	}
}

func TestNobodyKnown(t *testing.T) {
	r := newRange(t)
	home := clearIdentity(t)
	s := r.open()
	save := catalogue.Save{Parent: r.head(), Message: "x", Files: map[string][]byte{"parts.yaml": []byte("x")}}
	_, err := s.Save(context.Background(), save)
	if !errors.Is(err, catalogue.ErrNoAuthor) {
		t.Errorf("error %v", err)
	}
	wantError(t, err, `git config --global user.name "Your Name"`, "git config --global user.email")
	if err := s.Tag(context.Background(), catalogue.Tag{Name: "a", State: r.head(), Message: "x"}); !errors.Is(err, catalogue.ErrNoAuthor) {
		t.Errorf("error %v", err)
	}
	// The advice is followed while the store is open.
	writeFile(t, filepath.Join(home, ".gitconfig"), "[user]\n\tname = Isla\n\temail = i@x\n")
	if _, err := s.Save(context.Background(), save); err != nil {
		t.Error(err)
	}
	save.Parent, save.Author, save.When = r.head(), "Given <g@x>", at(5)
	save.Files = map[string][]byte{"parts.yaml": []byte("y")}
	mustSave(t)(s.Save(context.Background(), save))
	if got := r.git("log", "-1", "--format=%an <%ae> %ai, %cn <%ce> %ci"); got != "Given <g@x> 2023-11-14 23:13:25 +0100, Given <g@x> 2023-11-14 23:13:25 +0100" {
		t.Error(got)
	}
}

// Files of settings are read as native git reads them.
func TestParseConfigIsGits(t *testing.T) {
	for name, text := range map[string]string{
		"empty":                "",
		"plain":                "[core]\n\tbare = false\n",
		"on one line":          "[user] name = Same Line\n[a]b=c",
		"byte order mark":      "\ufeff[user]\nname=x",
		"carriage returns":     "[user]\r\n\tname = x y \r\n",
		"comments":             "# a\n; b\n[a] ; c\nb = c ; d\ne = \"f # g\" h # i\n",
		"blanks":               "[a]\n  b   =   c  d e  \n\tf=\" g \" \n h = i\\\n  j\n",
		"escapes":              "[a]\nb = \"!f() { x \\\"$1\\\"; }\"\nc = d\\te\\\\f\\\"g\\nh\n",
		"no value":             "[a]\nb\nc =\nd",
		"case":                 "[Core \"Sub.X\"]\nFileMode = Yes\n[CORE]\nX-1=2\n",
		"sub in the old way":   "[Remote.Origin]\nurl = x\n",
		"sub with quotes":      "[a \"b \\\"c\\\" \\d\"]\ne=f\n",
		"sub with a bracket":   "[a \"b]c\"]\nd=e\n",
		"several":              "[a]\nb=1\nb=2\n[a]\nb=3\n",
		"other bytes":          "[a]\nb = caf\xe9 é\n",
		"no end of a header":   "[core\n",
		"no end of a quote":    "[a]\nb = \"c\nd = e\n",
		"no end of a sub":      "[a \"b\nc]\nd=e\n",
		"an odd escape":        "[a]\nb = \\x\n",
		"an odd key":           "[a]\nb_c = d\n",
		"no equals sign":       "[a]\nb c\n",
		"an odd section":       "[a b]\nc = d\n",
		"an odd byte":          "[a]\n!\n",
		"backslash at the end": "[a]\nb = c\\",
	} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "config")
			writeFile(t, file, text)
			out, nativeErr := exec.Command("git", "config", "--file", file, "--list", "-z").Output()
			var want []string
			for entry := range strings.SplitSeq(strings.TrimSuffix(string(out), "\x00"), "\x00") {
				if key, value, ok := strings.Cut(entry, "\n"); ok {
					want = append(want, key+"="+value)
				} else if entry != "" {
					want = append(want, entry+"=true")
				}
			}
			var got []string
			err := parseConfig(text, func(section, sub, key, value string) error {
				if sub != "" {
					section += "." + sub
				}
				got = append(got, section+"."+key+"="+value)
				return nil
			})
			if (err != nil) != (nativeErr != nil) {
				t.Errorf("error %v, native git's %v", err, nativeErr)
			}
			if diff := cmp.Diff(want, got); diff != "" && nativeErr == nil {
				t.Errorf("(-native +here):\n%s", diff)
			}
		})
	}
}

func TestFilesThatIncludeEachOther(t *testing.T) {
	r := newRange(t)
	r.write(".git/a", "[include]\n\tpath = b\n")
	r.write(".git/b", "[include]\n\tpath = a\n")
	r.git("config", "--file", ".git/config", "include.path", "a")
	_, err := Open(r.dir)
	wantError(t, err, "include each other")

	// Not in a circle, but more files than anybody could read.
	for i := range 4 {
		r.write(fmt.Sprintf(".git/f%d", i), "[include]\n"+strings.Repeat(fmt.Sprintf("path = f%d\n", i+1), 999))
	}
	r.write(".git/a", "[include]\npath = f0\n")
	_, err = Open(r.dir)
	wantError(t, err, "include each other")
}

// Content is stored with the ends of lines that native git stores.
func TestLineEndsAreGits(t *testing.T) {
	for name, prepare := range map[string]func(r *repo){
		"nothing asked for":     func(r *repo) {},
		"text eol=lf":           func(r *repo) { r.write(".gitattributes", ownAttributes) },
		"text":                  func(r *repo) { r.write(".gitattributes", "*.yaml text\n") },
		"text=auto":             func(r *repo) { r.write(".gitattributes", "* text=auto\n") },
		"eol alone":             func(r *repo) { r.write(".gitattributes", "*.yaml eol=crlf\n") },
		"-text":                 func(r *repo) { r.write(".gitattributes", "*.yaml -text\n"); r.git("config", "core.autocrlf", "true") },
		"another pattern":       func(r *repo) { r.write(".gitattributes", "*.txt text\n") },
		"the later line counts": func(r *repo) { r.write(".gitattributes", "*.yaml text\nparts.yaml -text\n") },
		"the deeper file counts": func(r *repo) {
			r.write(".gitattributes", "*.yaml text\n")
			r.write("models/.gitattributes", "*.yaml -text\n")
		},
		"a pattern with a folder": func(r *repo) { r.write(".gitattributes", "models/*.yaml text\n") },
		"info/attributes counts most": func(r *repo) {
			r.write(".gitattributes", "*.yaml text\n")
			r.write(".git/info/attributes", "*.yaml -text\n")
		},
		"autocrlf true":  func(r *repo) { r.git("config", "core.autocrlf", "true") },
		"autocrlf input": func(r *repo) { r.git("config", "core.autocrlf", "input") },
		"autocrlf false": func(r *repo) { r.git("config", "core.autocrlf", "false") },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r := newRange(t)
			prepare(r)
			r.git("add", "-A")
			r.git("commit", "-q", "--allow-empty", "-m", "attributes")
			files := map[string]string{
				"parts.yaml": "a: 1\r\nb: 2\r\n", "models/new.yaml": "a: 1\r\nb: 2\n", "models/zero.yaml": "a\x00b\r\n",
			}
			mustSave(t)(r.save(r.open(), files))
			r.clean()
			for name := range files {
				if got, want := r.git("rev-parse", "HEAD:"+name), r.git("hash-object", "--path", name, name); got != want {
					t.Errorf("%s is stored as %q, native git stores %q", name, r.git("cat-file", "blob", got), want)
				}
			}
			if diff := cmp.Diff("a: 1\r\nb: 2\r\n", r.read("parts.yaml")); diff != "" {
				t.Errorf("the working file was altered: %s", diff)
			}
		})
	}
}
