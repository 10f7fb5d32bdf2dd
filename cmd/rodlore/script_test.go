package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// The commands are held by scripts, one a subject, in testdata/script. With
// UPDATE=1 in the environment the expected outputs in them are written anew.

func TestMain(m *testing.M) {
	testscript.Main(suite{m}, map[string]func(){"rodlore": func() {
		os.Exit(run(context.Background(), os.Args[1:], os.Stdout, os.Stderr, os.Getenv, scriptClock))
	}})
}

// suite is all tests, run in an environment of their own.
type suite struct{ *testing.M }

// Run sets the environment up, runs the tests and takes it down.
func (s suite) Run() int {
	dir, err := os.MkdirTemp("", "rodlore-test-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(dir)
	for _, entry := range isolated(dir) {
		key, value, _ := strings.Cut(entry, "=")
		os.Setenv(key, value)
	}
	demoMaster = sync.OnceValues(func() (fs.FS, error) {
		master := filepath.Join(dir, "range")
		err := makeFolder(master, func(dir string) error { return buildDemo(context.Background(), dir) })
		return os.DirFS(master), err
	})
	return s.M.Run()
}

// demoMaster is the demo range, made once; making it waits for the disk often.
var demoMaster func() (fs.FS, error)

// copyDemo puts a copy of the demo range into dir.
func copyDemo(dir string) error {
	master, err := demoMaster()
	if err != nil {
		return err
	}
	return os.CopyFS(dir, master)
}

// scriptClock is a day after the demo range's last.
func scriptClock() time.Time { return time.Date(2026, 11, 25, 10, 0, 0, 0, time.UTC) }

func TestScripts(t *testing.T) {
	kept := t.TempDir() // by all scripts: most ask for the same figures of the demo
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		UpdateScripts:       os.Getenv("UPDATE") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Vars = append(append(env.Vars, isolated(env.WorkDir)...), "RODLORE_CACHE=", "XDG_CACHE_HOME="+kept)
			testdata, err := filepath.Abs("../../testdata")
			env.Vars = append(env.Vars, "TESTDATA="+testdata)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"demo":     demoRange,
			"exits":    exits,
			"json":     jsonDocument,
			"replace":  replace,
			"enlarge":  enlarge,
			"sametext": sameText,
			"picture":  picture,
		},
	})
}

// isolated is an environment in which neither git nor rodlore sees the
// settings of whoever runs the tests, and in which dates and authors are fixed.
func isolated(home string) []string {
	return []string{
		"HOME=" + home, "XDG_CONFIG_HOME=" + home, "TZ=UTC", "COLUMNS=80", "RODLORE_CACHE=off",
		"GIT_CONFIG_GLOBAL=" + os.DevNull, "GIT_CONFIG_SYSTEM=" + os.DevNull, "GIT_CONFIG_NOSYSTEM=1",
		"GIT_AUTHOR_NAME=Maren Ostrey", "GIT_AUTHOR_EMAIL=maren@example.org",
		"GIT_COMMITTER_NAME=Maren Ostrey", "GIT_COMMITTER_EMAIL=maren@example.org",
		"GIT_AUTHOR_DATE=2026-11-25T10:00:00Z", "GIT_COMMITTER_DATE=2026-11-25T10:00:00Z",
	}
}

// demo DIR puts the demo range into a folder.
func demoRange(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: demo DIR")
	}
	ts.Check(copyDemo(ts.MkAbs(args[0])))
}

// picture FILE WIDTH HEIGHT writes a grey picture.
func picture(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: picture FILE WIDTH HEIGHT")
	}
	width, err := strconv.Atoi(args[1])
	ts.Check(err)
	height, err := strconv.Atoi(args[2])
	ts.Check(err)
	ts.Check(greyPicture(ts.MkAbs(args[0]), width, height))
}

func greyPicture(file string, width, height int) error {
	var content bytes.Buffer
	if err := png.Encode(&content, image.NewGray(image.Rect(0, 0, width, height))); err != nil {
		return err
	}
	return os.WriteFile(file, content.Bytes(), 0o666)
}

// exits CODE PROGRAM ARG... runs a program that must end with that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE PROGRAM ARG...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, not %d\n%s%s", got, want, ts.ReadFile("stdout"), ts.ReadFile("stderr"))
	}
}

// json KEY... checks that the last output is one document of schema 1 that has
// those keys at its top.
func jsonDocument(ts *testscript.TestScript, neg bool, args []string) {
	var doc map[string]any
	if err := json.Unmarshal([]byte(ts.ReadFile("stdout")), &doc); err != nil {
		ts.Fatalf("not one JSON document: %v", err)
	}
	if doc["schema"] != 1.0 {
		ts.Fatalf("schema is %v, not 1", doc["schema"])
	}
	for _, key := range args {
		if _, ok := doc[key]; ok == neg {
			ts.Fatalf("key %q: there is %t", key, ok)
		}
	}
}

// replace FILE OLD NEW replaces text that must stand in a file; \n, \t and the
// like in OLD and NEW are read as in Go.
func replace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace FILE OLD NEW")
	}
	content := ts.ReadFile(args[0])
	old, now := unescaped(ts, args[1]), unescaped(ts, args[2])
	if !strings.Contains(content, old) {
		ts.Fatalf("%s does not contain %q", args[0], old)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.ReplaceAll(content, old, now)), 0o666))
}

func unescaped(ts *testscript.TestScript, s string) string {
	text, err := strconv.Unquote(`"` + strings.ReplaceAll(s, `"`, `\"`) + `"`)
	ts.Check(err)
	return text
}

// enlarge FILE BYTES adds comments to a file until it has that size.
func enlarge(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: enlarge FILE BYTES")
	}
	size, err := strconv.Atoi(args[1])
	ts.Check(err)
	const line = "# filling\n"
	content := ts.ReadFile(args[0])
	content += strings.Repeat(line, (size-len(content))/len(line)+1)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(content), 0o666))
}

// sametext FILE FILE checks that two files differ in nothing but the ends of
// lines.
func sameText(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: sametext FILE FILE")
	}
	unix := strings.NewReplacer("\r\n", "\n")
	if unix.Replace(ts.ReadFile(args[0])) != unix.Replace(ts.ReadFile(args[1])) {
		ts.Fatalf("%s and %s differ", args[0], args[1])
	}
}
