package picture

import (
	"image"

	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"
)

// upright turns and mirrors a picture as its orientation asks for: where the first
// row and the first column of the file belong (CIPA DC-008-2019, 4.6.4).
func upright(m image.Image, orientation int) image.Image {
	b := m.Bounds()
	w, h := float64(b.Dx()), float64(b.Dy())
	to := map[int]f64.Aff3{
		2: {-1, 0, w, 0, 1, 0}, 3: {-1, 0, w, 0, -1, h}, 4: {1, 0, 0, 0, -1, h},
		5: {0, 1, 0, 1, 0, 0}, 6: {0, -1, h, 1, 0, 0}, 7: {0, -1, h, -1, 0, w}, 8: {0, 1, 0, -1, 0, w},
	}
	way, ok := to[orientation]
	if !ok {
		return m
	}
	if orientation >= 5 {
		w, h = h, w
	}
	turned := image.NewNRGBA(image.Rect(0, 0, int(w), int(h)))
	// From the corner at zero, wherever the picture's own lies.
	way[2] -= way[0]*float64(b.Min.X) + way[1]*float64(b.Min.Y)
	way[5] -= way[3]*float64(b.Min.X) + way[4]*float64(b.Min.Y)
	draw.NearestNeighbor.Transform(turned, way, m, b, draw.Src, nil)
	return turned
}
