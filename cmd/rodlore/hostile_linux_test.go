package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"golang.org/x/sys/unix"

	"rodlore/catalogue/visible"
)

// hostileRuns are command lines in a hostile clone, by their command: every
// command is there.
var hostileRuns = map[string][][]string{
	"rodlore add":          {{"gull-9"}, {"con"}, {"skerry-10"}, {"tern-8", "--like", "turned@saved"}},
	"rodlore bend":         {{"skerry-10"}, {"turned"}, {"models/endless.yaml"}, {"models/pipe.yaml"}},
	"rodlore built":        {{}},
	"rodlore built add":    {{"skerry-10@2026", "--serial", "0999"}, {"skerry-10@2026", "--serial", "0999", "--why", "x"}},
	"rodlore built chart":  {{}},
	"rodlore built list":   {{}},
	"rodlore built match":  {{"0148"}},
	"rodlore built repair": {{"0148", "--done", "x"}},
	"rodlore built show":   {{"0148"}},
	"rodlore cast":         {{"skerry-10"}},
	"rodlore check":        {{}, {"skerry-10"}},
	"rodlore compare":      {{"skerry-10"}, {"turned@saved", "skerry-10"}},
	"rodlore completion":   {{}},
	"rodlore demo":         {{"plan/demo"}, {"my $(touch PWN) range"}},
	"rodlore figures":      {{"skerry-10"}, {"turned"}, {"escaped"}, {"linked"}, {"models/linked.yaml"}, {"models/endless.yaml"}, {"models/pipe.yaml"}},
	"rodlore fit":          {{"bench/theirs.yaml", "--write"}},
	"rodlore heard":        {{"skerry-10"}, {"rill-7@2026", "--said", "x"}, {"skerry-10@2026", "--said", "\x1b[2Jx"}},
	"rodlore help":         {{"save"}},
	"rodlore reword":       {{"turned@saved", "--why", "x"}, {"linked@saved", "--tell", "\x1b[2Jx"}, {"skerry-10@2021", "--tell", "x"}},
	"rodlore withdraw":     {{"turned", "2026", "--why", "x"}, {"linked", "2026", "--why", "x"}, {"skerry-10", "2026", "--why", "$(touch PWN)"}},
	"rodlore measure":      {{"skerry-10", "--rod", "../x", "--what", "weight", "--reading", "60 g"}, {"turned", "--rod", "x", "--bench", "../x", "--what", "weight", "--reading", "60 g"}},
	"rodlore set":          {{"skerry-10", "job=x"}, {"linked", "job=x"}, {"turned", "job=x"}},
	"rodlore put-back":     {{"turned@saved"}, {"linked@saved"}, {"skerry-10@2021"}},
	"rodlore history":      {{"turned"}, {"skerry-10"}, {"javascript:alert(1)"}},
	"rodlore import":       {{"plan/notes"}},
	"rodlore limits":       {{"skerry-10"}},
	"rodlore models":       {{}},
	"rodlore new":          {{"plan/new"}, {"made-new"}},
	"rodlore patterns":     {{"turned", "--count", "6", "--write"}, {"models/linked.yaml", "--count", "6", "--write"}},
	"rodlore release":      {{"turned@saved", "\x1b[2J"}, {"turned@saved", "2026", "--despite", "x"}},
	"rodlore review":       {{"turned", "--html", "page.html"}, {"turned@saved", "--tick", "feet", "--by", "MK"}},
	"rodlore save":         {{"--why", "x"}, {"skerry-10", "--why", "x"}, {"models/pipe.yaml", "--why", "x"}, {"heard/rill-7.yaml", "--why", "x"}, {"../outside/t.yaml", "--why", "x"}},
	"rodlore sheet":        {{"turned", "--out", "sheet.pdf"}, {"turned", "--out", "made.html"}},
	"rodlore steps":        {{"skerry-10@2021", "--to", "skerry-10@2026", "--releases", "3", "--write", "plan"}, {"skerry-10@2021", "--to", "models/endless.yaml", "--releases", "3"}},
	"rodlore story":        {{"turned", "--out", "page.html"}, {"--all", "--out", "linked-pages"}, {"--all", "--out", "pages"}, {"--all", "--out", "made-pages"}, {"skerry-10", "--out", "made.md"}},
	"rodlore serve":        {{"--port", "70000"}}, // its views are asked for below
	"rodlore trace": {
		{"models/endless.yaml", "--of", "skerry-10", "--rod", "1", "--load", "1N", "--marks", "1,1 99,1", "--apart", "1m", "--points", "50,9"},
		{"models/pipe.yaml", "--of", "skerry-10", "--rod", "1", "--load", "1N", "--marks", "1,1 99,1", "--apart", "1m", "--points", "50,9"},
		{"bend.png", "--of", "skerry-10", "--rod", "\x1b[2J", "--load", "1N", "--marks", "1,1 399,1", "--apart", "1m", "--points", "200,90"},
	},
	"rodlore yearbook": {{"2026"}, {"2026", "--out", "page.html"}},
}

// TestHostileClone runs every command on a clone that was made to do harm. None
// opens anything outside of the range for writing, waits for ever, eats the
// memory, steers the terminal or dies, whatever it answers.
func TestHostileClone(t *testing.T) {
	for _, program := range []string{"sh", "git", "mkfifo"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Fatal(err)
		}
	}
	root := newRoot(&program{printer: printer{out: bufio.NewWriter(os.Stderr)}, err: os.Stderr})
	for _, c := range withSubcommands(root) {
		if _, ok := hostileRuns[c.CommandPath()]; !ok && c != root {
			t.Errorf("%s is not run", c.CommandPath())
		}
	}
	script, err := filepath.Abs("../../testdata/hostile/make.sh")
	if err != nil {
		t.Fatal(err)
	}
	s := newShell(t)
	s.demo()
	kit := t.TempDir()
	if out, err := exec.Command("sh", script, filepath.Join(s.dir, "range"), kit).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	opened := watch(t, filepath.Join(kit, "outside"))
	clone := filepath.Join(kit, "range")
	if err := greyPicture(filepath.Join(clone, "bend.png"), 400, 300); err != nil {
		t.Fatal(err)
	}
	told, _ := exec.Command("rodlore", "-C", clone, "check").Output()
	for _, fault := range []string{
		".gitattributes:1:1: is a symbolic link", ".gitignore:1:1: is a symbolic link", "models/.gitattributes:1:1: is a symbolic link",
		"builds:1:1: is a symbolic link", "bench:1:1: is a symbolic link", "heard/rill-7.yaml:1:1: is a symbolic link",
		"models/linked.yaml:1:1: is a symbolic link", "models/pipe.yaml:1:1: is no file", "words.yaml:1:1: is a symbolic link",
		"models/a@b.yaml:1:1: the name", `models/a\b.yaml:1:1: the name`, "models/con.yaml:1:1: the name", "models/Skerry-10.yaml:1:1: the name",
		`models/bad\xff.yaml:1:1: the name`, `models/escaped.yaml:1:7: "\x1b]0;owned\a\x1b[2J" holds`, `models/zero.yaml:1:7: "a\x00b" holds`,
	} {
		if !strings.Contains(string(told), fault) {
			t.Errorf("check does not tell %s\n%s", fault, told)
		}
	}
	for _, command := range slices.Sorted(maps.Keys(hostileRuns)) {
		for _, args := range hostileRuns[command] {
			line := slices.Concat(strings.Fields(command)[1:], args)
			for _, form := range [][]string{nil, {"--json"}} {
				hostileRun(t, clone, slices.Concat(line, form))
			}
			if touched := opened(); len(touched) > 0 {
				t.Errorf("%q touched %v outside of the range", line, touched)
			}
			for _, dir := range []string{kit, clone} {
				if _, err := os.Stat(filepath.Join(dir, "PWN")); err == nil {
					t.Fatalf("%q ran a program", line)
				}
			}
		}
	}
	if entries, err := os.ReadDir(kit); err != nil || len(entries) != 2 {
		t.Errorf("beside the range is now %v, %v", entries, err)
	}
	if content, err := os.ReadFile(filepath.Join(clone, "pages/kept/file")); err != nil || string(content) != "kept\n" {
		t.Errorf("a folder that pages.txt names is gone: %q, %v", content, err)
	}
	// The pages of all models need words and remarks that can be read.
	for _, link := range []string{"words.yaml", "heard/rill-7.yaml"} {
		if err := os.Remove(filepath.Join(clone, link)); err != nil {
			t.Fatal(err)
		}
	}
	for _, out := range []string{"linked-pages", "pages", "made-pages"} {
		hostileRun(t, clone, []string{"story", "--all", "--out", out})
	}
	if touched := opened(); len(touched) > 0 {
		t.Errorf("the pages touched %v outside of the range", touched)
	}
	page, err := os.ReadFile(filepath.Join(clone, "made-pages/index.html"))
	if err != nil || bytes.Contains(page, []byte(`href="javascript:`)) || !bytes.Contains(page, []byte(`href="./javascript:`)) {
		t.Errorf("the front page, %v, does not link to ./javascript:…", err)
	}
	fsck := exec.Command("git", "-C", clone, "fsck", "--strict")
	if out, err := fsck.CombinedOutput(); err != nil {
		t.Errorf("git fsck: %v\n%s", err, out)
	}
}

// hostileRun runs one command line and looks at all that it said.
func hostileRun(t *testing.T, clone string, line []string) {
	t.Helper()
	const mostKB = 700 << 10
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, "rodlore", line...)
	cmd.Dir = clone
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	var exit *exec.ExitError
	if ctx.Err() != nil || err != nil && !errors.As(err, &exit) || cmd.ProcessState.ExitCode() > exitUsage || cmd.ProcessState.ExitCode() < 0 {
		t.Errorf("%q: %v, %v\n%s", line, err, ctx.Err(), &errs)
	}
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok && usage.Maxrss > mostKB {
		t.Errorf("%q took %d MB", line, usage.Maxrss>>10)
	}
	for _, text := range []string{out.String(), errs.String()} {
		if visible.String(text) != text || strings.Contains(text, "goroutine ") {
			t.Errorf("%q said %q", line, text)
		}
	}
	if slices.Contains(line, "--json") && out.Len() > 0 && !slices.Contains([]string{"help", "completion", "built"}, line[0]) && !json.Valid(out.Bytes()) {
		t.Errorf("%q printed no JSON:\n%s", line, &out)
	}
}

// watch gives what was opened for writing, made, moved, removed or otherwise
// altered in a folder since it was asked last (inotify(7)).
func watch(t *testing.T, dir string) func() []string {
	t.Helper()
	fd, err := unix.InotifyInit1(unix.IN_NONBLOCK | unix.IN_CLOEXEC)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { unix.Close(fd) })
	folders := map[int32]string{}
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		id, err := unix.InotifyAddWatch(fd, path, unix.IN_CLOSE_WRITE|unix.IN_MODIFY|unix.IN_ATTRIB|unix.IN_CREATE|unix.IN_DELETE|unix.IN_MOVE|unix.IN_DELETE_SELF|unix.IN_MOVE_SELF)
		folders[int32(id)] = path
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return func() (touched []string) {
		buf := make([]byte, 64<<10)
		n, err := unix.Read(fd, buf)
		if err != nil {
			return nil // nothing was touched
		}
		for at := 0; at+unix.SizeofInotifyEvent <= n; {
			event := (*unix.InotifyEvent)(unsafe.Pointer(&buf[at]))
			name := buf[at+unix.SizeofInotifyEvent : at+unix.SizeofInotifyEvent+int(event.Len)]
			touched = append(touched, filepath.Join(folders[event.Wd], string(bytes.TrimRight(name, "\x00"))))
			at += unix.SizeofInotifyEvent + int(event.Len)
		}
		return touched
	}
}
