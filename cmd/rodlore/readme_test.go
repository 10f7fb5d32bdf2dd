package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The README is run: every command in it, in its order, must print what the
// README shows. With UPDATE=1 in the environment its outputs are written anew.
// An output may leave lines out with a line of three points.

const (
	readme  = "../../README.md"
	elision = "..."
)

var (
	consoleBlock = regexp.MustCompile("(?ms)^```console\n(.*?)^```$")
	yamlBlock    = regexp.MustCompile("(?ms)^```yaml\n(.*?)^```$")
)

func TestReadme(t *testing.T) {
	src, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	file, err := filepath.Abs(readme)
	if err != nil {
		t.Fatal(err)
	}
	s := newShell(t)
	ran := 0
	updated := consoleBlock.ReplaceAllStringFunc(string(src), func(block string) string {
		inside := consoleBlock.FindStringSubmatch(block)[1]
		var out strings.Builder
		for _, session := range sessions(inside) {
			ran++
			out.WriteString("$ " + session.command + "\n" + s.replay(session))
		}
		return "```console\n" + out.String() + "```"
	})
	if ran == 0 {
		t.Fatal("README.md shows no command")
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(file, []byte(updated), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(string(src), "\n"), strings.Split(updated, "\n")); diff != "" {
		t.Errorf("README.md shows what the commands do not print (-README +printed):\n%s", diff)
	}
}

// session is one command of the README and the output it shows.
type session struct{ command, shown string }

func sessions(block string) []session {
	var list []session
	for line := range strings.Lines(block) {
		if command, ok := strings.CutPrefix(line, "$ "); ok {
			list = append(list, session{command: strings.TrimSpace(command)})
		} else if n := len(list); n > 0 {
			list[n-1].shown += line
		}
	}
	return list
}

// replay runs a command and gives its output as the README may show it.
func (s *shell) replay(session session) string {
	s.t.Helper()
	args := unquoted(session.command)
	switch {
	case strings.HasPrefix(session.command, "go test "), strings.HasPrefix(session.command, "go install "):
		return session.shown // this is the run of the tests, and what is installed is not ours to say
	case args[0] == "cd":
		s.dir = filepath.Join(s.dir, args[1])
		s.t.Chdir(s.dir)
		return ""
	case args[0] == "git":
		out, err := exec.Command(args[0], args[1:]...).CombinedOutput()
		if err != nil {
			s.t.Errorf("%s: %v", session.command, err)
		}
		return elided(string(out), session.shown)
	case strings.HasPrefix(session.command, "go run ./cmd/rodlore "):
		args = args[3:]
	case args[0] == "rodlore":
		args = args[1:]
	default:
		s.t.Errorf("the README runs %q, which this test does not know", session.command)
	}
	out, errs, _ := s.try(args...)
	return elided(out+errs, session.shown)
}

// unquoted splits a command line at spaces outside double quotes.
func unquoted(command string) []string {
	var args []string
	for i, part := range strings.Split(command, `"`) {
		if i%2 == 1 {
			args = append(args, part)
		} else {
			args = append(args, strings.Fields(part)...)
		}
	}
	return args
}

// elided leaves out of an output what the README leaves out: all but as many
// lines as it shows before its three points, and behind them.
func elided(out, shown string) string {
	head, tail, found := strings.Cut(shown, elision+"\n")
	lines := strings.SplitAfter(out, "\n")
	lines = lines[:len(lines)-1]
	first, last := strings.Count(head, "\n"), strings.Count(tail, "\n")
	if !found || first+last >= len(lines) {
		return out
	}
	return strings.Join(lines[:first], "") + elision + "\n" + strings.Join(lines[len(lines)-last:], "")
}

// TestReadmeSpec checks that the spec in the README is one, and a sound one.
func TestReadmeSpec(t *testing.T) {
	src, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	_, src, _ = bytes.Cut(src, []byte("\n## A model's file\n"))
	block := yamlBlock.FindSubmatch(src)
	if block == nil {
		t.Fatal("README.md shows no spec")
	}
	s := newShell(t)
	s.demo()
	if err := putFiles(filepath.Join(s.dir, "range"), map[string][]byte{"models/example.yaml": []byte(block[1])}); err != nil {
		t.Fatal(err)
	}
	s.must("-C", "range", "check", "example")
	s.must("-C", "range", "figures", "example")
}

// TestReadmeNamesEveryFigure keeps the README's table of figures whole.
func TestReadmeNamesEveryFigure(t *testing.T) {
	src, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	s := newShell(t)
	s.demo()
	var doc printed
	s.data(&doc, "-C", "range", "figures", "skerry-10")
	for _, f := range doc.Figures {
		if !strings.Contains(string(src), "`"+f.Key+"`") {
			t.Errorf("README.md does not say what %s is", f.Key)
		}
	}
}
