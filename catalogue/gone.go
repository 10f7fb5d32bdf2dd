package catalogue

import (
	"bytes"
	"context"
	"maps"
	"slices"

	"rodlore/models"
)

// Gone are the models that the last state has and whose files are there no more,
// neither under their names nor under others.
func (r *Range) Gone(ctx context.Context) ([]string, error) {
	files, err := r.src.WorkingFiles()
	if err != nil {
		return nil, err
	}
	gone := map[string]string{} // their content, by the model
	for f, blob := range r.index.savedFiles() {
		if name, ok := modelName(f); ok && blob != "" && !slices.Contains(files, f) {
			gone[name] = blob
		}
	}
	if len(gone) == 0 {
		return nil, nil
	}
	for _, f := range files {
		if _, ok := modelName(f); !ok || r.index.savedFiles()[f] != "" {
			continue
		}
		src, err := r.src.Working(f)
		if err != nil {
			return nil, err
		}
		if m, err := models.ParseModel(f, src); err == nil {
			delete(gone, m.Was.Text)
		}
		for name, blob := range gone {
			if was, err := r.src.Blob(ctx, blob); err == nil && bytes.Equal(was, src) {
				delete(gone, name)
			}
		}
	}
	return slices.Sorted(maps.Keys(gone)), nil
}
