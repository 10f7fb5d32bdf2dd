package cache

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

const secretSize = 32

// Secret gives the secret in a file of the user's own, which is made where it is
// not there. It lies apart from what is kept with it, so that whoever can put
// something into the one folder, or hand it over, cannot have it taken for ours.
func Secret(file string) ([]byte, error) {
	secret, err := readSecret(file)
	if !errors.Is(err, fs.ErrNotExist) {
		return secret, err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return nil, err
	}
	draft, err := os.CreateTemp(filepath.Dir(file), ".secret-")
	if err != nil {
		return nil, err
	}
	defer os.Remove(draft.Name()) // it has its name, or is of no use
	secret = make([]byte, secretSize)
	_, _ = rand.Read(secret) // it never fails
	_, err = draft.Write(secret)
	if err = errors.Join(err, draft.Close()); err != nil {
		return nil, err
	}
	// Another program may have made one meanwhile, which then counts.
	if err := os.Link(draft.Name(), file); err != nil && !errors.Is(err, fs.ErrExist) {
		if err := os.Rename(draft.Name(), file); err != nil {
			return nil, err
		}
	}
	return readSecret(file)
}

func readSecret(file string) ([]byte, error) {
	info, err := os.Lstat(file)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() != secretSize {
		return nil, fmt.Errorf("%s is no secret of rodlore's: remove it", file)
	}
	return os.ReadFile(file)
}
