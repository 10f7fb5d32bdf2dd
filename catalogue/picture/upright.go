package picture

import (
	"bytes"
	"encoding/binary"
	"image"

	"golang.org/x/image/draw"
	"golang.org/x/image/math/f64"
)

// orientation is how a camera was held, 1 to 8, by the Exif of a JPEG (CIPA
// DC-008-2019, 4.6.4, tag 0x0112, in the segment APP1 of 4.5.4); 1 where it does not
// say.
func orientation(src []byte) int {
	for at := 2; at+4 <= len(src) && src[0] == 0xff && src[1] == 0xd8 && src[at] == 0xff; {
		long := int(binary.BigEndian.Uint16(src[at+2:]))
		end := at + 2 + long
		if long < 2 || end > len(src) || src[at+1] == 0xda { // the picture itself begins
			return 1
		}
		if tiff, ok := bytes.CutPrefix(src[at+4:end], []byte("Exif\x00\x00")); ok && src[at+1] == 0xe1 {
			return turned(tiff)
		}
		at = end
	}
	return 1
}

// turned is the orientation in the first directory of a TIFF (TIFF 6.0, section 2).
func turned(tiff []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	switch {
	case bytes.HasPrefix(tiff, []byte("II*\x00")):
		order = binary.LittleEndian
	case !bytes.HasPrefix(tiff, []byte("MM\x00*")):
		return 1
	}
	const head, entry, tag, short = 8, 12, 0x0112, 3
	if len(tiff) < head {
		return 1
	}
	first := int64(order.Uint32(tiff[4:]))
	if first+2 > int64(len(tiff)) {
		return 1
	}
	rest := tiff[first+2:]
	for range order.Uint16(tiff[first:]) {
		if len(rest) < entry {
			break
		}
		if order.Uint16(rest) == tag && order.Uint16(rest[2:]) == short {
			if n := int(order.Uint16(rest[8:])); n >= 1 && n <= 8 {
				return n
			}
		}
		rest = rest[entry:]
	}
	return 1
}

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
