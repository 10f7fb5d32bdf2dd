package gitstore

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
)

// The repository of the benchmarks: a range larger than any workshop's.
const (
	benchModels = 300
	benchStates = 10000
	benchMerges = 199
	benchTags   = 500
)

// benchRepo is made once for all benchmarks, by native git, and packed.
var benchRepo = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(scratch, "bench")
	if err := os.Mkdir(dir, 0o777); err != nil {
		return "", err
	}
	for _, args := range [][]string{{"init", "-q", "-b", "main"}, {"fast-import", "--quiet"}, {"gc", "-q"}, {"checkout", "-q", "main"}} {
		cmd := exec.Command("git", args...)
		cmd.Dir = dir
		if args[0] == "fast-import" {
			in, out := io.Pipe()
			cmd.Stdin = in
			go func() { out.CloseWithError(writeBenchHistory(out)) }()
		}
		if out, err := cmd.CombinedOutput(); err != nil {
			return "", fmt.Errorf("git %s: %w\n%s", args[0], err, out)
		}
	}
	return dir, nil
})

// writeBenchHistory writes the stream for git fast-import: models of some 80
// lines, of which every state changes a line in one to three.
func writeBenchHistory(w io.Writer) error {
	out := bufio.NewWriter(w)
	rnd := rand.New(rand.NewPCG(1, 2))
	models := make([][]int, benchModels)
	for i := range models {
		models[i] = make([]int, 80)
	}
	put := func(m int) {
		text := fmt.Sprintf("name: Model %d\nsections:\n", m)
		for line, v := range models[m] {
			text += fmt.Sprintf("  - {at: %d mm, outside: %d.%02d mm}\n", line*37, v/100, v%100)
		}
		fmt.Fprintf(out, "M 100644 inline models/m%03d.yaml\ndata %d\n%s\n", m, len(text), text)
	}
	for mark := 1; mark <= benchStates; mark++ {
		fmt.Fprintf(out, "commit refs/heads/main\nmark :%d\ncommitter Isla Reed <isla@skerry.example> %d +0000\ndata 16\nchange the taper\n", mark, 1500000000+mark*3600)
		if mark > 3 && mark%(benchStates/benchMerges) == 0 {
			fmt.Fprintf(out, "merge :%d\n", mark-3)
		}
		if mark == 1 {
			fmt.Fprint(out, "M 100644 inline range.yaml\ndata 9\nmaker: x\n\n")
			for m := range models {
				put(m)
			}
		}
		for range 1 + rnd.IntN(3) {
			m := rnd.IntN(benchModels)
			models[m][rnd.IntN(80)] = rnd.IntN(2000)
			put(m)
		}
		if mark%(benchStates/benchTags) == 0 {
			fmt.Fprintf(out, "tag v%d\nfrom :%d\ntagger Isla Reed <isla@skerry.example> %d +0000\ndata 8\nfor sale\n", mark, mark, 1500000000+mark*3600)
		}
	}
	return out.Flush()
}

func openBench(b *testing.B) string {
	b.Helper()
	dir, err := benchRepo()
	if err != nil {
		b.Fatal(err)
	}
	return dir
}

// BenchmarkLog reads the history of 10,000 states and 300 models as a process
// does: opening the store anew each time.
func BenchmarkLog(b *testing.B) {
	dir := openBench(b)
	read := func(b *testing.B) {
		s, err := Open(dir)
		if err != nil {
			b.Fatal(err)
		}
		log := readLog(b, s)
		if len(log.States) != benchStates {
			b.Fatalf("%d states", len(log.States))
		}
		if err := s.Close(); err != nil {
			b.Fatal(err)
		}
	}
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			if err := os.RemoveAll(filepath.Join(dir, ".git", ownFolder)); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			read(b)
		}
	})
	b.Run("again", func(b *testing.B) {
		read(b)
		for b.Loop() {
			read(b)
		}
	})
}

// BenchmarkNativeLog is native git's listing of the same, for reference.
func BenchmarkNativeLog(b *testing.B) {
	dir := openBench(b)
	for b.Loop() {
		cmd := exec.Command("git", "log", "--raw", "-m", "--all", "--no-renames", "--no-abbrev")
		cmd.Dir = dir
		out, err := cmd.Output()
		if err != nil || len(out) == 0 {
			b.Fatal(err)
		}
	}
}
