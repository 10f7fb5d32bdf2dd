package main

import (
	"bytes"
	"context"
	"io"
	"testing"
	"time"

	"rodlore/evaluate"
)

// TestProgress holds what a terminal gets of work that takes over a second, and that
// nothing of it stays there.
func TestProgress(t *testing.T) {
	var terminal bytes.Buffer
	at := time.Unix(0, 0)
	p := newProgress(&terminal, func() time.Time { return at })
	tell := func(want string, after time.Duration, done, all int) {
		t.Helper()
		at = at.Add(after)
		p.watch(done, all)
		if got := terminal.String(); got != want {
			t.Errorf("after %d of %d the terminal got %q, want %q", done, all, got, want)
		}
		terminal.Reset()
	}
	tell("", time.Second/2, 1, 300)
	tell("\rworking, 2 of 300 done\x1b[K", time.Second, 2, 300)
	tell("", time.Millisecond, 3, 300)
	tell("", time.Second, 1, 7) // part of the 300
	tell("", time.Millisecond, 7, 7)
	tell("\rworking, 4 of 300 done\x1b[K", time.Second, 4, 300)
	tell("\r\x1b[K", time.Millisecond, 300, 300)
	tell("\rworking, 1 of 7 done\x1b[K", time.Second, 1, 7)
	_, _ = io.WriteString(p, "sure? ")
	tell("\r\x1b[Ksure? ", time.Second, 2, 7)
}

// TestWatched holds that what is done in parallel is counted.
func TestWatched(t *testing.T) {
	counted := make(chan int, 5)
	ctx := evaluate.Watched(context.Background(), func(done, all int) { counted <- 10*done + all })
	if err := evaluate.InParallel(ctx, 5, func(int) {}); err != nil {
		t.Fatal(err)
	}
	close(counted)
	sum := 0
	for n := range counted {
		sum += n
	}
	if sum != 10*(1+2+3+4+5)+5*5 {
		t.Errorf("counted %d", sum)
	}
}
