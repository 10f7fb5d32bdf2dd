package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"rodlore/catalogue"
	"rodlore/catalogue/visible"
	"rodlore/evaluate"
)

// program is one run of rodlore: the world around it and what was asked for on
// every command alike.
type program struct {
	printer
	err io.Writer
	now func() time.Time

	dir          string // where to start from, of -C
	root         string // folder of the range, once it is open
	remarked     bool   // what could not be read of it has been told
	unremembered error  // why releases are not remembered from run to run
	made         bool   // the range was made by this run
	json         bool
	alone        bool // nobody is there to be asked
}

// run carries out one command line and gives its exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer, env func(string) string, now func() time.Time) int {
	worked := func() {}
	if f, ok := stderr.(*os.File); ok && term.IsTerminal(int(f.Fd())) && env("TERM") != "dumb" {
		line := newProgress(f, time.Now)
		stderr, ctx, worked = line, evaluate.Watched(ctx, line.watch), line.end
	}
	p := &program{printer: printer{env: env}, err: visible.NewWriter(stderr), now: now}
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
	if flushed := cmp.Or(p.out.Flush(), shown.Flush(), page()); err == nil && flushed != nil {
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

// inRange is a command over the range around the folder in hand.
func (p *program) inRange(do func(ctx context.Context, r *catalogue.Range, args []string) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		return p.look(cmd.Context(), func(r *catalogue.Range) error { return do(cmd.Context(), r, args) })
	}
}

// ofRod is a command over the one rod that its argument names.
func (p *program) ofRod(do func(ctx context.Context, s subject) error) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		s, err := p.find(cmd.Context(), args[0])
		if err != nil {
			return err
		}
		return do(cmd.Context(), s)
	}
}

// show prints an answer: as data where --json asks for that, else as text.
func (p *program) show(data func() object, text func()) error {
	if p.json {
		return p.writeJSON(data())
	}
	text()
	return nil
}

// errNo is the error of a command whose answer, printed already, is no.
var errNo = errors.New("no")
