package cache_test

import (
	"bytes"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"rodlore/catalogue/cache"
)

// TestSecret holds that a secret is made once, for its user alone.
func TestSecret(t *testing.T) {
	file := filepath.Join(t.TempDir(), "own", "secret")
	var all sync.WaitGroup
	var made [8][]byte
	for i := range made {
		all.Go(func() {
			var err error
			if made[i], err = cache.Secret(file); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	for _, other := range made {
		if len(other) != 32 || !bytes.Equal(other, made[0]) {
			t.Fatalf("secrets %x and %x", made[0], other)
		}
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file is %v, %v", info.Mode(), err)
	}
	if other, err := cache.Secret(file + "2"); err != nil || bytes.Equal(other, made[0]) {
		t.Errorf("another secret is %x, %v", other, err)
	}
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := cache.Secret(file); err == nil {
		t.Error("an empty file is a secret")
	}
}
