package gitstore

import (
	"bytes"
	"compress/zlib"
	"crypto/sha1"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestGitsOwnFilesAreBounded puts a pipe, an endless device and ten thousand million
// bytes in the place of each of git's own files. What is asked of the repository
// ends, takes no memory for it, and whatever stops it names the file.
func TestGitsOwnFilesAreBounded(t *testing.T) {
	pack := func(ending string) func(r *repo) string {
		return func(r *repo) string { return strings.TrimSuffix(packFile(r), packSuffix) + ending }
	}
	at := func(name string) func(r *repo) string {
		return func(r *repo) string { return r.path(name) }
	}
	files := map[string]func(r *repo) string{
		".git": func(r *repo) string {
			if err := os.Rename(r.path(".git"), r.path("models/.git")); err != nil {
				t.Fatal(err)
			}
			return r.path(".git")
		},
		"a loose object": func(r *repo) string { return r.object("HEAD") },
		"a pack":         pack(packSuffix),
		"a pack's index": pack(indexSuffix),
	}
	for _, name := range []string{
		"HEAD", "config", "config.worktree", "commondir", "index", "packed-refs", "shallow", "info/exclude", "info/attributes",
		"objects/info/alternates", "refs/heads/main", "refs/heads/trial", "refs/tags/trial", "logs/HEAD", "logs/refs/heads/main",
		"rodlore/pending", "rodlore/saving",
	} {
		files[name] = at(".git/" + name)
	}
	harm := map[string]func(file string) error{
		"a pipe":          func(file string) error { return syscall.Mkfifo(file, 0o644) },
		"an endless file": func(file string) error { return os.Symlink("/dev/zero", file) },
		"a huge file": func(file string) error {
			f, err := os.Create(file)
			if err == nil {
				err = f.Truncate(10e9)
				_ = f.Close()
			}
			return err
		},
	}
	// Rules that are none say nothing, and what is no repository is passed over.
	silent := map[string]bool{"info/exclude": true, "info/attributes": true, "rodlore/saving": true, ".git": true}
	for name, find := range files {
		for what, put := range harm {
			t.Run(name+" is "+what, func(t *testing.T) {
				r := newRange(t)
				r.git("config", "extensions.worktreeConfig", "true")
				file := find(r)
				if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.RemoveAll(file); err != nil {
					t.Fatal(err)
				}
				if err := put(file); err != nil {
					t.Fatal(err)
				}
				said := make(chan string, 1)
				before := allocated()
				go func() { said <- askAll(t, r.dir) }()
				select {
				case text := <-said:
					if what != "a huge file" && !silent[name] && !strings.Contains(text, "is no ordinary file") {
						t.Errorf("what is said is %q", text)
					}
				case <-time.After(30 * time.Second):
					t.Fatal("waits for ever")
				}
				if took := allocated() - before; took > 32<<20 {
					t.Errorf("%d MB were taken", took>>20)
				}
			})
		}
	}
}

func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

// askAll asks a range everything, and gives the errors and notes.
func askAll(t *testing.T, dir string) string {
	s, err := Open(dir)
	if err != nil {
		return err.Error()
	}
	defer s.Close()
	s.patience = 0
	var said []string
	say := func(errs ...error) {
		for _, err := range errs {
			if err != nil {
				said = append(said, err.Error())
			}
		}
	}
	log, err := s.Log(t.Context())
	if say(err); log != nil {
		say(log.Notes...)
	}
	missing, err := s.Missing(t.Context())
	say(append(missing, err)...)
	_, err = s.Ignored("models/new.yaml")
	say(err, s.Refused("models/skerry-10.yaml"))
	if log != nil {
		r := &repo{t, dir}
		_, err = r.saveOn(s, log.Head, map[string]string{"parts.yaml": "rings: [x]\n"})
		say(err)
	}
	return strings.Join(said, "\n")
}

// TestDeltasInACircle holds that a pack in which an object is kept as the difference
// from itself is damaged, and not followed round and round.
func TestDeltasInACircle(t *testing.T) {
	r := newRange(t)
	var id [20]byte
	id[0] = 0x11
	delta := []byte{4, 4, 0x90, 4} // of 4 bytes, into 4 bytes: copy 4 from the start
	var object bytes.Buffer
	object.WriteByte(7<<4 | byte(len(delta))) // a difference from the object named
	object.Write(id[:])
	z := zlib.NewWriter(&object)
	_, _ = z.Write(delta)
	_ = z.Close()
	pack := append([]byte("PACK\x00\x00\x00\x02\x00\x00\x00\x01"), object.Bytes()...)
	sum := sum1(pack)
	index := append([]byte("\xfftOc"), 0, 0, 0, 2)
	for first := range 256 {
		held := uint32(0)
		if first >= int(id[0]) {
			held = 1
		}
		index = binary.BigEndian.AppendUint32(index, held)
	}
	index = append(index, id[:]...)
	index = binary.BigEndian.AppendUint32(index, crc32.ChecksumIEEE(object.Bytes()))
	index = binary.BigEndian.AppendUint32(index, 12)
	index = append(index, sum...)
	index = append(index, sum1(index)...)
	r.write(".git/objects/pack/pack-1.pack", string(append(pack, sum...)))
	r.write(".git/objects/pack/pack-1.idx", string(index))
	s := r.open()
	_, err := s.Blob(t.Context(), "11"+strings.Repeat("0", 38))
	wantError(t, err, "is damaged in its pack", "too many others")
}

func sum1(b []byte) []byte {
	s := sha1.Sum(b)
	return s[:]
}
