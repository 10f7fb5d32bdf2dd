package main

import (
	"fmt"

	"rodlore/models"
)

// write puts the specs of a plan into a folder that is new or empty: all of them
// or, where one cannot be written, none.
func (j *journey) write(dir string) error {
	texts := make([][]byte, len(j.Releases))
	for i, r := range j.Releases {
		texts[i] = []byte(j.to)
		if i == len(j.Releases)-1 {
			break
		}
		var err error
		if texts[i], err = models.SpliceSpec(j.file(i), []byte(j.from), []byte(j.to), r.Spec.Model); err != nil {
			return fmt.Errorf("release %d: %w", i+1, err)
		}
	}
	return makeFolder(dir, func(dir string) error {
		for i, text := range texts {
			if err := writeFile(dir, j.file(i), text); err != nil {
				return err
			}
		}
		return nil
	})
}

// file is where the spec of a release is written.
func (j *journey) file(release int) string { return fmt.Sprintf("%s-%d.yaml", j.model, release+1) }
