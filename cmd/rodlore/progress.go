package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// progress shows on a terminal how far work has come that takes over a second, on
// one line that is written anew and is gone at the end. Whatever else is written
// there goes through it, and ends it: that may be a question.
type progress struct {
	terminal io.Writer
	now      func() time.Time
	began    time.Time

	mu    sync.Mutex
	all   int // of the largest thing under way
	drawn time.Time
	over  bool
}

func newProgress(terminal io.Writer, now func() time.Time) *progress {
	return &progress{terminal: terminal, now: now, began: now()}
}

// watch is told that so many of all things are done. Those that are part of a
// larger thing are not shown.
func (p *progress) watch(done, all int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.now()
	switch {
	case p.over || all < p.all:
		return
	case done == all:
		p.all = 0
		p.clear()
		return
	}
	p.all = all
	if now.Sub(p.began) > time.Second && now.Sub(p.drawn) > time.Second/10 {
		p.drawn = now
		fmt.Fprintf(p.terminal, "\rworking, %d of %d done\x1b[K", done, all)
	}
}

// clear takes the line away. The caller holds the lock.
func (p *progress) clear() {
	if !p.drawn.IsZero() {
		fmt.Fprint(p.terminal, "\r\x1b[K")
		p.drawn = time.Time{}
	}
}

// end takes the line away for good.
func (p *progress) end() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.clear()
	p.over = true
}

func (p *progress) Write(b []byte) (int, error) {
	p.end()
	return p.terminal.Write(b)
}
