package gitstore

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
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
	b.Run("first", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			if err := os.RemoveAll(cacheOf(dir)); err != nil {
				b.Fatal(err)
			}
			b.StartTimer()
			readAll(b, dir, benchStates)
		}
	})
	b.Run("again", func(b *testing.B) {
		readAll(b, dir, benchStates)
		for b.Loop() {
			readAll(b, dir, benchStates)
		}
	})
}

// readAll reads the history as a process does.
func readAll(b *testing.B, dir string, states int) {
	b.Helper()
	s, err := Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	s.Keep(cache.Open(cacheOf(dir), nil, CacheScope))
	if log := readLog(b, s); len(log.States) != states {
		b.Fatalf("%d states", len(log.States))
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
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

// smallBench is a workshop's range: 5 models, 60 states, never packed.
var smallBench = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(scratch, "small")
	s, err := Init(dir)
	if err != nil {
		return "", err
	}
	for n := range 60 {
		log, err := s.Log(context.Background())
		if err != nil {
			return "", err
		}
		name := fmt.Sprintf("models/m%d.yaml", n%5)
		files := map[string][]byte{name: fmt.Appendf(nil, "name: M\nlength: %d mm\n", 3000+n)}
		if n == 0 {
			files[rangeFile] = []byte("maker: x\n")
		}
		for name, content := range files {
			path := filepath.Join(dir, filepath.FromSlash(name))
			if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, content, 0o666)); err != nil {
				return "", err
			}
		}
		if _, err := s.Save(context.Background(), catalogue.Save{Parent: log.Head, Files: files, Message: "change"}); err != nil {
			return "", err
		}
	}
	return dir, s.Close()
})

// BenchmarkSmallLog reads the history of a workshop's range, opening it anew.
func BenchmarkSmallLog(b *testing.B) {
	dir, err := smallBench()
	if err != nil {
		b.Fatal(err)
	}
	for name, forget := range map[string]bool{"first": true, "again": false} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if forget {
					_ = os.RemoveAll(cacheOf(dir))
				}
				readAll(b, dir, 60)
			}
		})
	}
}

// BenchmarkSave saves one model of 300 on top of 10,000 states; the time is
// mostly that of the disk, which is waited for.
func BenchmarkSave(b *testing.B) {
	dir := openBench(b)
	s, err := Open(dir)
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	head, _, err := s.readRef(headRef)
	if err != nil {
		b.Fatal(err)
	}
	parent, n := head.String(), 0
	for b.Loop() {
		n++
		files := map[string][]byte{"models/m007.yaml": fmt.Appendf(nil, "name: Seven\nlength: %d mm\n", 3000+n)}
		if parent, err = s.Save(b.Context(), catalogue.Save{Parent: parent, Files: files, Message: "change"}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSignature checks one signature by ssh-keygen, as check does for every
// release, one after another and several at once.
func BenchmarkSignature(b *testing.B) {
	r := newRange(b)
	r.own("gpg.format", "ssh")
	r.own("user.signingKey", r.sshKey())
	r.git("tag", "-s", "-m", "x", "skerry-10/2025")
	s := r.open()
	tag := readLog(b, s).Tags[0]
	check := func() {
		if found, err := s.Signature(b.Context(), tag); err != nil || len(found.By) == 0 {
			b.Errorf("%+v, %v", found, err)
		}
	}
	b.Run("alone", func(b *testing.B) {
		for b.Loop() {
			check()
		}
	})
	b.Run("at once", func(b *testing.B) {
		b.RunParallel(func(pb *testing.PB) {
			for pb.Next() {
				check()
			}
		})
	})
}

// BenchmarkRefused asks of each of many files whether git would alter it on its way
// into the repository.
func BenchmarkRefused(b *testing.B) {
	dir, err := benchRepo()
	if err != nil {
		b.Fatal(err)
	}
	s := openStore(b, dir)
	files, err := s.WorkingFiles()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for _, file := range files {
			if err := s.Refused(file); err != nil {
				b.Fatal(err)
			}
		}
	}
}
