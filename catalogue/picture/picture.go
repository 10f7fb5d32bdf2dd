package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"path"
	"strings"

	"golang.org/x/image/draw"

	"rodlore/evaluate/photo"
)

// What a picture may have at most. A photograph of 1600 by 1200 pixels has a third of
// these bytes; a decoded one of the most pixels takes 160 MB.
const (
	mostBytes   = 1 << 20
	mostPixels  = 40e6
	mostDrawing = 60e3 // bytes of an SVG, which goes into pages as it is
)

// Image is a picture as it goes into a page.
type Image struct {
	Kind          string // image/jpeg, image/png or image/svg+xml
	Data          []byte
	Width, Height int    // pixels
	Print         []byte // the same as PNG for what cannot draw SVG; nil for others
}

// Check says why a file cannot be shown, without decoding all of it; nil where it can.
func Check(file string, src []byte) error {
	if isDrawing(file) {
		_, err := drawn(src)
		return err
	}
	_, err := size(src)
	return err
}

func isDrawing(file string) bool { return strings.EqualFold(path.Ext(file), ".svg") }

// size is how large a photograph is and which way up it lies in its file.
func size(src []byte) (photo.Picture, error) {
	if len(src) > mostBytes {
		return photo.Picture{}, errors.New("has more than 1 MiB; save it smaller, 1600 pixels wide is enough")
	}
	is, err := photo.Look(bytes.NewReader(src))
	if err == nil && is.Width*is.Height > mostPixels {
		err = fmt.Errorf("has %d by %d pixels; expected 40 million in all at most", is.Width, is.Height)
	}
	return is, err
}

// decoded is a photograph the right way up.
func decoded(src []byte) (image.Image, error) {
	is, err := size(src)
	if err != nil {
		return nil, err
	}
	m, _, err := image.Decode(bytes.NewReader(src))
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	return upright(m, is.Turned), nil
}

// scaled is a picture no larger than so many pixels either way.
func scaled(m image.Image, wide, high int) *image.NRGBA {
	b := m.Bounds()
	by := min(1, float64(wide)/float64(b.Dx()), float64(high)/float64(b.Dy()))
	to := image.NewNRGBA(image.Rect(0, 0, pixels(by, b.Dx()), pixels(by, b.Dy())))
	draw.CatmullRom.Scale(to, to.Bounds(), m, b, draw.Src, nil)
	return to
}

func pixels(by float64, n int) int { return max(1, int(math.Round(by*float64(n)))) }

// Photo is a photograph as a JPEG of at most so many bytes, as large as that allows; a
// drawing in few colours stays a PNG. Nothing of what its file says besides, such as
// where it was taken, goes along.
func Photo(src []byte, most int) (*Image, error) {
	m, err := decoded(src)
	if err != nil {
		return nil, err
	}
	const widest, narrowest, quality = 1280, 160, 78 // of twice the dots of a page's column; below it nothing is seen
	if few, ok := m.(*image.Paletted); ok && few.Rect.Dx() <= widest {
		if data, err := asPNG(few); err == nil && len(data) <= most {
			return &Image{Kind: "image/png", Data: data, Width: few.Rect.Dx(), Height: few.Rect.Dy()}, nil
		}
	}
	var b bytes.Buffer
	for wide := widest; wide >= narrowest; wide = wide * 4 / 5 {
		small := scaled(m, wide, wide)
		onWhite := image.NewRGBA(small.Bounds())
		draw.Draw(onWhite, onWhite.Bounds(), image.White, image.Point{}, draw.Src)
		draw.Draw(onWhite, onWhite.Bounds(), small, image.Point{}, draw.Over)
		b.Reset()
		if err := jpeg.Encode(&b, onWhite, &jpeg.Options{Quality: quality}); err != nil {
			return nil, err
		}
		if b.Len() <= most {
			return &Image{Kind: "image/jpeg", Data: b.Bytes(), Width: small.Rect.Dx(), Height: small.Rect.Dy()}, nil
		}
	}
	return nil, fmt.Errorf("does not fit into %d bytes", most)
}

// Logo is a logo: an SVG as it is, a photograph as a small PNG.
func Logo(file string, src []byte) (*Image, error) {
	const wide, high = 480, 160
	if isDrawing(file) {
		d, err := drawn(src)
		if err != nil {
			return nil, err
		}
		small := d.scaled(wide, high)
		data, err := asPNG(small)
		return &Image{Kind: "image/svg+xml", Data: src, Width: small.Bounds().Dx(), Height: small.Bounds().Dy(), Print: data}, err
	}
	m, err := decoded(src)
	if err != nil {
		return nil, err
	}
	small := scaled(m, wide, high)
	data, err := asPNG(small)
	return &Image{Kind: "image/png", Data: data, Width: small.Rect.Dx(), Height: small.Rect.Dy()}, err
}

func asPNG(m image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, m)
	return b.Bytes(), err
}
