package story

import (
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
)

// What photographs a page shows, and what they weigh in all, so that the page stays
// within 250 kB when they stand in it as text, by four bytes for three.
const (
	mostPhotos     = 6
	photoBytes     = 70e3
	workshopPhotos = 40e3 // whose pages are longer
)

// photograph takes the photographs that the page shows: of the model, and of its
// chapters the newest first.
func (t *tale) photograph() error {
	all, err := t.source.Photos(t.model)
	if err != nil {
		return err
	}
	of := func(p catalogue.Photo) int {
		if p.Of == nil {
			return len(t.chapters)
		}
		return slices.IndexFunc(t.chapters, func(c *chapter) bool { return c.State == p.Of.State })
	}
	all = slices.DeleteFunc(all, func(p catalogue.Photo) bool { return of(p) < 0 })
	slices.SortStableFunc(all, func(a, b catalogue.Photo) int { return of(b) - of(a) })
	all = all[:min(mostPhotos, len(all))]
	room := photoBytes
	if t.Reader == Workshop {
		room = workshopPhotos
	}
	for _, p := range all {
		image, err := t.source.Photograph(p, int(room)/len(all))
		if err != nil {
			return err
		}
		shown := document.Photo{Image: image, Shows: p.Shows.Text}
		if i := of(p); i < len(t.chapters) {
			t.chapters[i].photos = append(t.chapters[i].photos, shown)
		} else {
			t.photos = append(t.photos, shown)
		}
	}
	return nil
}
