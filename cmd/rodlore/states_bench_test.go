package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"rodlore/cmd/rodlore/demo"
)

// A range of many models and saved states, made by git fast-import and packed:
// every state moves a ring of one to three models a millimetre, every fiftieth
// puts one on sale and every hundredth alters a part.
func manyStates(b *testing.B, models, states int) string {
	b.Helper()
	dir := filepath.Join(b.TempDir(), "range")
	if err := os.Mkdir(dir, 0o777); err != nil {
		b.Fatal(err)
	}
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"fast-import", "--quiet"}, {"gc", "-q"}, {"checkout", "-q", "main"}} {
		cmd := exec.Command("git", args...)
		cmd.Dir = dir
		if args[0] == "fast-import" {
			in, out := io.Pipe()
			cmd.Stdin = in
			go func() { out.CloseWithError(writeStates(out, models, states)) }()
		}
		if out, err := cmd.CombinedOutput(); err != nil {
			b.Fatalf("git %s: %v\n%s", args[0], err, out)
		}
	}
	return dir
}

func writeStates(w io.Writer, models, states int) error {
	out := bufio.NewWriter(w)
	saved, err := demo.States()
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	for _, s := range saved {
		maps.Copy(files, s.Files)
	}
	spec, parts := string(files["models/rill-7.yaml"]), string(files["parts.yaml"])
	put := func(name, text string) {
		fmt.Fprintf(out, "M 100644 inline %s\ndata %d\n%s\n", name, len(text), text)
	}
	moved := make([]int, models)
	putModel := func(m int) {
		text := strings.Replace(spec, "at: 868 mm", fmt.Sprintf("at: %d mm", 868+moved[m]%40), 1)
		put(fmt.Sprintf("models/m%03d.yaml", m), strings.Replace(text, "name: ", fmt.Sprintf("name: No %d, ", m), 1))
	}
	for n := range states {
		when := 1500000000 + n*3600
		fmt.Fprintf(out, "commit refs/heads/main\nmark :%d\ncommitter Isla Reed <isla@skerry.example> %d +0000\ndata 11\nmove a ring\n", n+1, when)
		if n == 0 {
			for _, name := range []string{"range.yaml", "parts.yaml", "materials.yaml"} {
				put(name, string(files[name]))
			}
			for m := range models {
				putModel(m)
			}
			continue
		}
		if n%100 == 99 {
			put("parts.yaml", fmt.Sprintf("# stock of day %d\n%s", n, parts))
		}
		for i := range 1 + n%3 {
			m := (n*7 + i*131) % models
			moved[m]++
			putModel(m)
		}
		if n%50 == 0 {
			fmt.Fprintf(out, "tag m%03d/%d\nfrom :%d\ntagger Isla Reed <isla@skerry.example> %d +0000\ndata 8\nfor sale\n", n*7%models, n, n+1, when)
		}
	}
	return out.Flush()
}

// cpu is the processor time that this process and those it waited for have used.
func cpu(who int) time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(who, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// reportCPU reports the processor time from when it is called to when what it gives is.
func reportCPU(b *testing.B) func() {
	before := cpu(syscall.RUSAGE_SELF)
	return func() {
		b.ReportMetric(float64((cpu(syscall.RUSAGE_SELF)-before).Microseconds())/1e3/float64(b.N), "cpu-ms/op")
	}
}

// BenchmarkManyStates runs commands over ranges of growing size a second time, and
// native git beside them. Processor time grows in a straight line with the models
// and with the states.
func BenchmarkManyStates(b *testing.B) {
	for _, size := range []struct{ models, states int }{{300, 10000}, {150, 10000}, {300, 5000}} {
		b.Run(fmt.Sprintf("models=%d/states=%d", size.models, size.states), func(b *testing.B) {
			dir, kept := manyStates(b, size.models, size.states), b.TempDir()
			b.Setenv("XDG_CACHE_HOME", kept)
			b.Setenv("XDG_CONFIG_HOME", kept)
			b.Setenv("RODLORE_CACHE", "") // which is off for the tests
			for _, args := range [][]string{{"models"}, {"check"}, {"history", "m007"}} {
				b.Run(args[0], func(b *testing.B) {
					args := append([]string{"-C", dir}, args...)
					once := func() {
						var out, errs bytes.Buffer
						if code := run(context.Background(), args, &out, &errs, os.Getenv, time.Now); code == exitUsage {
							b.Fatalf("%v: %s", args, errs.String())
						}
					}
					once()
					defer reportCPU(b)()
					for b.Loop() {
						once()
					}
				})
			}
			b.Run("serve", func(b *testing.B) {
				defer reportCPU(b)()
				for b.Loop() {
					p := &program{dir: dir, printer: printer{env: os.Getenv}, now: time.Now, err: io.Discard}
					s, err := p.screen(context.Background())
					if err != nil {
						b.Fatal(err)
					}
					if status, page := ask(s.views(), ""); status != http.StatusOK {
						b.Fatalf("%d\n%s", status, page)
					}
				}
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.Sys-m.HeapReleased)/1e6, "MB")
			})
			b.Run("git log", func(b *testing.B) {
				before := cpu(syscall.RUSAGE_CHILDREN)
				for b.Loop() {
					cmd := exec.Command("git", "-C", dir, "log", "--raw", "-m", "--all")
					if out, err := cmd.Output(); err != nil || len(out) == 0 {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64((cpu(syscall.RUSAGE_CHILDREN)-before).Milliseconds())/float64(b.N), "cpu-ms/op")
			})
		})
	}
}
