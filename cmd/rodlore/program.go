package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"golang.org/x/term"

	"rodlore/catalogue/visible"
	"rodlore/evaluate"
)

// program is one run of rodlore: the world around it and what was asked for on
// every command alike.
type program struct {
	out *bufio.Writer
	err io.Writer
	env func(string) string
	now func() time.Time

	terminal     *os.File // standard output, where it is a terminal
	dir          string   // where to start from, of -C
	root         string   // folder of the range, once it is open
	remarked     bool     // what could not be read of it has been told
	unremembered error    // why releases are not remembered from run to run
	json         bool
}

// run carries out one command line and gives its exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer, env func(string) string, now func() time.Time) int {
	worked := func() {}
	if f, ok := stderr.(*os.File); ok && term.IsTerminal(int(f.Fd())) && env("TERM") != "dumb" {
		line := newProgress(f, time.Now)
		stderr, ctx, worked = line, evaluate.Watched(ctx, line.watch), line.end
	}
	p := &program{err: visible.NewWriter(stderr), env: env, now: now}
	page := func() error { return nil }
	if f, ok := stdout.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.terminal = f
		pager := &pager{terminal: f, env: env}
		stdout, page = pager, pager.Flush
	}
	shown := visible.NewWriter(stdout)
	p.out = bufio.NewWriter(shown)
	root := newRoot(p)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	worked()
	if err != nil && ctx.Err() != nil {
		return exitInterrupted // whatever the error, the interruption is why
	}
	if flushed := errors.Join(p.out.Flush(), shown.Flush(), page()); err == nil && flushed != nil {
		err = fmt.Errorf("writing the output: %w", flushed)
	}
	return p.answer(err)
}

// at is a path given on the command line, seen from where the run starts.
func (p *program) at(path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(p.dir, path)
}

// width is how many columns a line may have.
func (p *program) width() int {
	const usual, least = 80, 40
	if n, err := strconv.Atoi(p.env("COLUMNS")); err == nil && n > 0 {
		return max(n, least)
	}
	if p.terminal != nil {
		if n, _, err := term.GetSize(int(p.terminal.Fd())); err == nil && n > 0 {
			return max(n, least)
		}
	}
	return usual
}

// println writes one line of output. An error to write stays with the buffer
// and is told when it is flushed.
func (p *program) println(words ...any) { fmt.Fprintln(p.out, words...) }

func (p *program) printf(format string, args ...any) { fmt.Fprintf(p.out, format, args...) }

// errNo is the error of a command whose answer, printed already, is no.
var errNo = errors.New("no")
