package models_test

import (
	"bytes"
	"errors"
	"testing"

	"rodlore/models"
)

// edited gives a good file with old replaced by what is bad.
func edited(t *testing.T, file, old, bad string) []byte {
	t.Helper()
	src := read(t, "good/"+file)
	if bytes.Count(src, []byte(old)) != 1 {
		t.Fatalf("%q stands %d times in %s; the test needs it once", old, bytes.Count(src, []byte(old)), file)
	}
	return bytes.Replace(src, []byte(old), []byte(bad), 1)
}

// faultCase is a good file with something made bad, and every fault that must
// be found.
type faultCase struct {
	name     string
	old, bad string
	want     string
}

func (c faultCase) run(t *testing.T, file string, parse func(file string, src []byte) error) {
	t.Run(c.name, func(t *testing.T) {
		err := parse(file, edited(t, file, c.old, c.bad))
		if err == nil {
			t.Fatal("no fault found")
		}
		var faults models.Faults
		if !errors.As(err, &faults) {
			t.Fatalf("the error is a %T", err)
		}
		if got := err.Error(); got != c.want {
			t.Errorf("got:\n%s\nwant:\n%s", got, c.want)
		}
	})
}

func parseModel(file string, src []byte) error {
	_, err := models.ParseModel(file, src)
	return err
}
