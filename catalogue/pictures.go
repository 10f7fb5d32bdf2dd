package catalogue

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"rodlore/catalogue/picture"
	"rodlore/catalogue/working"
	"rodlore/models"
)

// pictureFile is the path in the range of a photograph or a logo.
func pictureFile(name string) string { return working.PictureFolder + "/" + name }

// Photo is a photograph of a model or, where Of is not nil, of one revision of it.
type Photo struct {
	models.Photo
	Of *Revision
}

// Photos lists the photographs of a model, under any name that it had, in the order of
// its notes.
func (r *Records) Photos(model string) (list []Photo, err error) {
	all, err := ofModel(r.History, model, NotesFile, models.ParseNotes)
	if err != nil {
		return nil, err
	}
	for _, notes := range all {
		for _, p := range notes.Pictures {
			shown := Photo{Photo: p}
			if p.Release.Text != "" {
				if shown.Of, err = r.Recorded(model, p.Release.Text); err != nil {
					return nil, models.Faults{faultAt(p.Release.Pos, "pictures["+p.File.Text+"].release", "%v", err)}
				}
			}
			list = append(list, shown)
		}
	}
	return list, nil
}

// Photograph is a photograph as a page takes it, of at most so many bytes.
func (r *Records) Photograph(p Photo, most int) (*picture.Image, error) {
	return pictured(r.Files, p.File, "pictures["+p.File.Text+"].file", func(src []byte) (*picture.Image, error) { return picture.Photo(src, most) })
}

// Logo is the maker's logo as a page takes it; nil where there is none.
func (r *Records) Logo() (*picture.Image, error) {
	set, err := r.Settings()
	if err != nil || set.Maker.Logo.Text == "" {
		return nil, err
	}
	return pictured(r.Files, set.Maker.Logo, "maker.logo", func(src []byte) (*picture.Image, error) { return picture.Logo(set.Maker.Logo.Text, src) })
}

// pictured is what take makes of a picture that is named at path. A picture that is not
// there or cannot be shown is a fault of what names it.
func pictured[T any](f *Files, file models.Word, path string, take func(src []byte) (T, error)) (made T, err error) {
	src, err := f.src.Working(pictureFile(file.Text))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		err = fmt.Errorf("there is no %s; put the picture there", pictureFile(file.Text))
	case err == nil:
		if made, err = take(src); err != nil {
			err = fmt.Errorf("%s %w", pictureFile(file.Text), err)
		}
	case !errors.Is(err, working.ErrUnusable):
		return made, err
	}
	if err != nil {
		return made, models.Faults{faultAt(file.Pos, path, "%v", err)}
	}
	return made, nil
}

// picturesOf are the files of the photographs of models, and of the logo, that a save
// of the models takes along. What names none, for it has faults, is told elsewhere.
func (r *Records) picturesOf(names []string) (files []string) {
	for _, model := range names {
		if notes, err := parsed(r.Files, NotesFile(model), models.ParseNotes); err == nil {
			for _, p := range notes.Pictures {
				files = append(files, pictureFile(p.File.Text))
			}
		}
	}
	if set, err := r.Settings(); err == nil && set.Maker.Logo.Text != "" && len(names) > 0 {
		files = append(files, pictureFile(set.Maker.Logo.Text))
	}
	return slices.Compact(slices.Sorted(slices.Values(files)))
}
