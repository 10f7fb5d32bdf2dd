package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // sizes of pictures
	_ "image/png"
	"io"
)

// Position is a place in a picture, in pixels to the right and down from its upper
// left corner.
type Position struct{ X, Y float64 }

// Picture is the size of a picture and which way up it is.
type Picture struct {
	Width, Height int // as it is shown
	// Turned says how the stored picture is turned or mirrored to be shown: 1 not
	// at all, up to 8, the values of the tag Orientation (CIPA DC-008-2019, Exif
	// 2.32, section 4.6.4).
	Turned int
}

const (
	// mostHead is how much of a picture is read, bytes: what cameras put before
	// the size, small pictures of it among them, fits many times.
	mostHead = 8 << 20
	// mostPixels is more than any camera has along one side.
	mostPixels = 1 << 17
)

// Look reads the size of a JPEG or PNG picture and which way up it is.
func Look(r io.Reader) (Picture, error) {
	var head bytes.Buffer
	size, _, err := image.DecodeConfig(io.TeeReader(io.LimitReader(r, mostHead), &head))
	switch {
	case errors.Is(err, image.ErrFormat):
		return Picture{}, errors.New("is no JPEG or PNG picture; export it as one")
	case err != nil:
		return Picture{}, fmt.Errorf("is no whole picture: %w", err)
	case size.Width < 1 || size.Height < 1 || size.Width > mostPixels || size.Height > mostPixels:
		return Picture{}, fmt.Errorf("claims to be %d × %d pixels", size.Width, size.Height)
	}
	p := Picture{size.Width, size.Height, orientation(head.Bytes())}
	if p.aside() {
		p.Width, p.Height = p.Height, p.Width
	}
	return p, nil
}

// aside reports whether the stored picture lies on its side.
func (p Picture) aside() bool { return p.Turned >= 5 }

// Holds reports whether a position lies in the picture as it is shown.
func (p Picture) Holds(at Position) bool {
	return at.X >= 0 && at.Y >= 0 && at.X <= float64(p.Width) && at.Y <= float64(p.Height)
}

// Shown is where a position of the stored picture is in the one that is shown.
func (p Picture) Shown(at Position) Position {
	if p.aside() {
		at.X, at.Y = at.Y, at.X // 5: as along the other diagonal
	}
	if p.Turned == 2 || p.Turned == 3 || p.Turned == 6 || p.Turned == 7 {
		at.X = float64(p.Width) - at.X
	}
	if p.Turned == 3 || p.Turned == 4 || p.Turned == 7 || p.Turned == 8 {
		at.Y = float64(p.Height) - at.Y
	}
	return at
}

// orientation is the tag Orientation in the head of a JPEG file; 1 where there is
// none. The Exif segment (CIPA DC-008-2019, sections 4.5.2 and 4.7.2) comes before
// the size, behind the marker APP1, and holds a TIFF file.
func orientation(head []byte) int {
	const app1, exif = 0xe1, "Exif\x00\x00"
	for at := 2; at+4 <= len(head) && head[at] == 0xff; {
		length := int(binary.BigEndian.Uint16(head[at+2:]))
		end := at + 2 + length
		if length < 2 || end > len(head) {
			break
		}
		if body := head[at+4 : end]; head[at+1] == app1 && bytes.HasPrefix(body, []byte(exif)) {
			return tiffOrientation(body[len(exif):])
		}
		at = end
	}
	return 1
}

// tiffOrientation is the tag in the first list of a TIFF file (TIFF 6.0, Adobe 1992,
// pages 13 to 16 and 36): entries of a tag, a kind, a count and a value.
func tiffOrientation(b []byte) int {
	const tag, short, header, entry = 0x0112, 3, 8, 12
	var order binary.ByteOrder = binary.BigEndian
	if len(b) < header {
		return 1
	}
	if b[0] == 'I' {
		order = binary.LittleEndian
	}
	list := int64(order.Uint32(b[4:]))
	if list+2 > int64(len(b)) {
		return 1
	}
	b = b[list:]
	n := int(order.Uint16(b))
	for b = b[2:]; n > 0 && len(b) >= entry; n, b = n-1, b[entry:] {
		if order.Uint16(b) == tag && order.Uint16(b[2:]) == short {
			if turned := int(order.Uint16(b[8:])); turned >= 1 && turned <= 8 {
				return turned
			}
			break
		}
	}
	return 1
}
