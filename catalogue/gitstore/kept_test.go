package gitstore

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/google/go-cmp/cmp"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
)

// keptFile is the file of kept records of the one range that was read.
func (r *repo) keptFile() string {
	r.t.Helper()
	files, err := filepath.Glob(filepath.Join(cacheOf(r.dir), "*.kept"))
	if err != nil || len(files) != 1 {
		r.t.Fatalf("kept files %v, error %v", files, err)
	}
	return files[0]
}

// The second reading, from what was kept, is the first one again; so is one
// after more was saved by git.
func TestSecondReadingIsTheFirst(t *testing.T) {
	r := randomHistory(t, rand.New(rand.NewPCG(77, 1)), "", 40)
	r.write("range.yaml", "maker: x\n")
	first := quietLog(t, r.open())
	size := fileSize(t, r.keptFile())
	second := quietLog(t, r.open())
	if diff := cmp.Diff(first, second); diff != "" {
		t.Errorf("(-first +second):\n%s", diff)
	}
	if now := fileSize(t, r.keptFile()); now != size {
		t.Errorf("reading again made the file grow from %d to %d bytes", size, now)
	}
	r.git("checkout", "-q", "-f", "b20")
	if err := os.RemoveAll(r.path("range.yaml")); err != nil {
		t.Fatal(err)
	}
	r.write("models/later.yaml", "name: Later\n")
	r.write("range.yaml", "maker: y\n")
	r.commit("later")
	r.sameAsNative(quietLog(t, r.open()), "")
	if now := fileSize(t, r.keptFile()); now <= size || now > size+1000 {
		t.Errorf("one new state made the file grow from %d to %d bytes", size, now)
	}
	r.sameAsNative(quietLog(t, r.open()), "")
}

func fileSize(t *testing.T, name string) int64 {
	t.Helper()
	info, err := os.Stat(name)
	if err != nil {
		t.Fatal(err)
	}
	return info.Size()
}

// Whatever is wrong with the file, the history is right, and the next reading
// has a good file again.
func TestDamageToWhatIsKept(t *testing.T) {
	r, _ := threeStates(t)
	quietLog(t, r.open())
	r.write("parts.yaml", "rings: [x]\n")
	r.commit("a second frame")
	want := quietLog(t, r.open())
	good, err := os.ReadFile(r.keptFile())
	if err != nil {
		t.Fatal(err)
	}
	check := func(t *testing.T, what string, at int, content []byte) {
		if err := os.WriteFile(r.keptFile(), content, 0o666); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if diff := cmp.Diff(want, quietLog(t, r.open())); diff != "" {
				t.Fatalf("%s at %d: %s", what, at, diff)
			}
		}
		if healed := r.open().readKept(); len(healed) != len(want.States) {
			t.Fatalf("%s at %d: %d records kept", what, at, len(healed))
		}
	}
	t.Run("cut", func(t *testing.T) {
		for at := 0; at < len(good); at += 7 {
			check(t, "cut", at, good[:at])
		}
	})
	t.Run("altered", func(t *testing.T) {
		for at := 0; at < len(good); at += 5 {
			bad := bytes.Clone(good)
			bad[at] ^= 0x55
			check(t, "altered", at, bad)
		}
	})
	t.Run("followed by rubbish", func(t *testing.T) {
		check(t, "rubbish", len(good), append(bytes.Clone(good), strings.Repeat("x", 300)...))
	})
}

// A frame whose sum is right but whose records make no sense is no harm either.
func TestParseRecordsOfRubbish(t *testing.T) {
	r := threeRecords(t)
	raw := appendRecord(appendRecord(nil, r[0]), r[1])
	back, err := parseRecords(string(raw))
	if err != nil || len(back) != 2 {
		t.Fatalf("%d records, error %v", len(back), err)
	}
	if diff := cmp.Diff(raw, appendRecord(appendRecord(nil, back[0]), back[1])); diff != "" {
		t.Error(diff)
	}
	for n := range raw {
		if _, err := parseRecords(string(raw[:n])); err == nil && n > 0 && n != len(appendRecord(nil, r[0])) {
			t.Errorf("cut at %d: no error", n)
		}
	}
}

func threeRecords(t testing.TB) []*record {
	r, _ := threeStates(t)
	quietLog(t, r.open())
	var records []*record
	for _, rec := range r.open().readKept() {
		records = append(records, rec)
	}
	slices.SortFunc(records, func(a, b *record) int { return bytes.Compare(a.id[:], b.id[:]) })
	return records
}

func FuzzParseRecords(f *testing.F) {
	for _, r := range threeRecords(f) {
		f.Add(string(appendRecord(nil, r)))
	}
	f.Fuzz(func(t *testing.T, raw string) {
		records, err := parseRecords(raw)
		if err != nil {
			return
		}
		var again []byte
		for _, r := range records {
			again = appendRecord(again, r)
		}
		back, err := parseRecords(string(again))
		if err != nil || len(back) != len(records) {
			t.Errorf("written again: %d records of %d, error %v", len(back), len(records), err)
		}
	})
}

func TestKeptOfTwoRangesInOneRepository(t *testing.T) {
	r := newRepo(t)
	for _, dir := range []string{"sea/", "river/"} {
		r.write(dir+"range.yaml", "maker: "+dir+"\n")
		r.write(dir+"models/a.yaml", "name: "+dir+"\n")
	}
	r.commit("two ranges")
	for range 2 {
		for _, dir := range []string{"sea/", "river/"} {
			r.sameAsNative(quietLog(t, openStore(t, r.path(dir))), dir)
		}
	}
}

// Dead records are cleared out once they are most of a file that is not small.
func TestKeptIsCompacted(t *testing.T) {
	r, _ := threeStates(t)
	s := r.open()
	quietLog(t, s)
	k := s.readKept()
	var payload []byte
	for i := range 3 * minCompact {
		rec := *threeRecordsOf(k)[0]
		rec.id[0], rec.id[1], rec.id[2] = byte(i), byte(i>>8), 0xff
		rec.name = rec.id.String()
		payload = appendRecord(payload, &rec)
	}
	s.cache.Add(s.keptName(), payload)
	large := fileSize(t, r.keptFile())
	r.sameAsNative(quietLog(t, s), "")
	if small := fileSize(t, r.keptFile()); small > large/100 {
		t.Errorf("%d bytes of %d are left", small, large)
	}
	if k := s.readKept(); len(k) != 3 {
		t.Errorf("%d records", len(k))
	}
	r.sameAsNative(quietLog(t, s), "")
}

func threeRecordsOf(k kept) []*record {
	var records []*record
	for _, r := range k {
		records = append(records, r)
	}
	return records
}

func TestReadingAtOnce(t *testing.T) {
	r := randomHistory(t, rand.New(rand.NewPCG(5, 1)), "", 60)
	r.write("range.yaml", "maker: x\n")
	shared := r.open()
	want := quietLog(t, shared)
	removeOwn(r)
	var group sync.WaitGroup
	for n := range 8 {
		s := shared
		if n%2 == 0 {
			s = r.open()
		}
		group.Go(func() {
			for range 3 {
				if diff := cmp.Diff(want, quietLog(t, s)); diff != "" {
					t.Error(diff)
				}
			}
		})
	}
	group.Wait()
	if k := shared.readKept(); len(k) != len(want.States) {
		t.Errorf("%d records for %d states", len(k), len(want.States))
	}
}

// TestPoisonedRecords holds that records of the right form, put into the cache by
// somebody who does not have the user's secret, change nothing: neither what a state
// held nor what it says nor which there are. With the secret they would.
func TestPoisonedRecords(t *testing.T) {
	r, states := threeStates(t)
	dir, secret := cacheOf(r.dir), []byte("the user's own")
	read := func() *catalogue.Log {
		s := r.open()
		s.Keep(cache.Open(dir, secret, CacheScope))
		return quietLog(t, s)
	}
	want := read()
	poison := func(guess []byte) {
		s := r.open()
		s.Keep(cache.Open(dir, secret, CacheScope))
		last, err := s.readCommit(plumbing.NewHash(states[0]))
		if err != nil {
			t.Fatal(err)
		}
		forged := record{commit: *last, changes: []catalogue.Change{{Path: "models/skerry-10.yaml", New: strings.Repeat("a", 40)}}}
		forged.message, forged.author = "it was always so", "Nobody <nobody@example.org>"
		cache.Open(dir, guess, CacheScope).Add(s.keptName(), appendRecord(nil, &forged))
	}
	for _, guess := range []string{"", "a guess", "the user's owm"} {
		poison([]byte(guess))
		if diff := cmp.Diff(want, read()); diff != "" {
			t.Errorf("with the secret %q:\n%s", guess, diff)
		}
	}
	poison(secret)
	if cmp.Equal(want, read()) {
		t.Error("the records were no poison")
	}
}
