package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"

	"rodlore/catalogue"
)

// TestAddAtOnce writes down rods from several runs at once: none is lost, and a
// number that several want is given once.
func TestAddAtOnce(t *testing.T) {
	s := newShell(t)
	s.demo()
	const runs = 6
	codes := make([]int, 2*runs)
	var wait sync.WaitGroup
	for i := range codes {
		serial := fmt.Sprintf("%04d", 1000+i)
		if i >= runs {
			serial = "2000"
		}
		wait.Go(func() {
			var out, errs bytes.Buffer
			args := []string{"-C", "range", "built", "add", "rill-7@2026", "--serial", serial}
			codes[i] = run(context.Background(), args, &out, &errs, os.Getenv, scriptClock)
			if codes[i] != 0 && !strings.Contains(errs.String(), "2000 is the number of a rill-7") {
				t.Errorf("rod %s: %s", serial, &errs)
			}
		})
	}
	wait.Wait()
	src, err := os.ReadFile("range/builds/2026.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for i := range runs {
		if n := bytes.Count(src, fmt.Appendf(nil, "serial: %04d,", 1000+i)); n != 1 || codes[i] != 0 {
			t.Errorf("rod %d is there %d times, with exit code %d", 1000+i, n, codes[i])
		}
	}
	if n := bytes.Count(src, []byte("serial: 2000,")); n != 1 {
		t.Errorf("number 2000 is given %d times", n)
	}
	s.must("-C", "range", "check")
}

// A rod that stands as 2023 again is written down as that, and not by an identity
// that tells nobody anything.
func TestRecordedAs(t *testing.T) {
	again := &catalogue.Revision{ID: "5c124e0d5c124e0d", Again: "2023"}
	sold := &catalogue.Revision{ID: "5c124e0d5c124e0d", Labels: []string{"2023", "2024"}}
	made := &catalogue.Revision{ID: "5c124e0d5c124e0d"}
	for _, tt := range []struct {
		rev         *catalogue.Revision
		asked, want string
	}{{again, "saved", "2023"}, {sold, "2023", "2023"}, {sold, "", "2024"}, {made, "", "5c124e0d"}} {
		if got := recordedAs(tt.rev, tt.asked); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}
