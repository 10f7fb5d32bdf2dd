package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math/rand/v2"
	"strings"
	"testing"
)

// framed is a photograph of which each quarter has a colour of its own, from the
// first row and the first column: red, green, blue, white.
func framed(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	quarters := []color.RGBA{{200, 0, 0, 255}, {0, 200, 0, 255}, {0, 0, 200, 255}, {240, 240, 240, 255}}
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, quarters[2*(2*y/h)+2*x/w])
		}
	}
	return m
}

// held is a JPEG whose Exif says how the camera was held.
func held(t testing.TB, m image.Image, order binary.AppendByteOrder, orientation uint16) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("MM\x00*")
	if order == binary.AppendByteOrder(binary.LittleEndian) {
		tiff = []byte("II*\x00")
	}
	tiff = order.AppendUint32(tiff, 8)
	tiff = order.AppendUint16(tiff, 2)
	for _, e := range [][3]uint16{{0x010f, 3, 7}, {0x0112, 3, orientation}} {
		tiff = order.AppendUint16(order.AppendUint16(tiff, e[0]), e[1])
		tiff = order.AppendUint16(order.AppendUint16(order.AppendUint32(tiff, 1), e[2]), 0)
	}
	exif := append([]byte("Exif\x00\x00"), order.AppendUint32(tiff, 0)...)
	segment := append(binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2)), exif...)
	return append(append([]byte{0xff, 0xd8}, segment...), b.Bytes()[2:]...)
}

// Photographs stand the right way up: by CIPA DC-008-2019, 4.6.4, the first row and the
// first column of the file belong to these sides of the picture.
func TestUpright(t *testing.T) {
	sides := [][2]string{
		{"top", "left"}, {"top", "right"}, {"bottom", "right"}, {"bottom", "left"},
		{"left", "top"}, {"right", "top"}, {"right", "bottom"}, {"left", "bottom"},
	}
	for i, side := range sides {
		for _, order := range []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian} {
			got, err := Photo(held(t, framed(48, 32), order, uint16(i+1)), 1<<20)
			if err != nil {
				t.Fatal(err)
			}
			m, err := jpeg.Decode(bytes.NewReader(got.Data))
			if err != nil {
				t.Fatal(err)
			}
			w, h := 48, 32
			if side[0] == "left" || side[0] == "right" {
				w, h = 32, 48
			}
			if m.Bounds().Dx() != w || m.Bounds().Dy() != h {
				t.Fatalf("%d: %v", i+1, m.Bounds())
			}
			at := func(sides ...string) string {
				x, y := w/4, h/4
				for _, s := range sides {
					switch s {
					case "right":
						x = 3 * w / 4
					case "bottom":
						y = 3 * h / 4
					}
				}
				r, g, b, _ := m.At(x, y).RGBA()
				switch {
				case r > 0xa000 && g > 0xa000:
					return "white"
				case r > 0x8000:
					return "red"
				case g > 0x8000:
					return "green"
				case b > 0x8000:
					return "blue"
				}
				return "none"
			}
			opposite := map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
			// Red lies in the first row and the first column, green in the first row only, blue in the first column only.
			if at(side[:]...) != "red" || at(side[0], opposite[side[1]]) != "green" || at(opposite[side[0]], side[1]) != "blue" {
				t.Errorf("%d: red is %s, green %s, blue %s", i+1, at(side[:]...), at(side[0], opposite[side[1]]), at(opposite[side[0]], side[1]))
			}
		}
	}
}

// A photograph fits into what a page has left, even where it is nothing but noise.
func TestPhotoFits(t *testing.T) {
	noise := image.NewRGBA(image.Rect(0, 0, 700, 500))
	r := rand.New(rand.NewPCG(1, 2))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(r.Uint32())
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, noise, nil); err != nil {
		t.Fatal(err)
	}
	for _, most := range []int{60e3, 20e3} {
		got, err := Photo(b.Bytes(), most)
		if err != nil || len(got.Data) > most || got.Width < 160 {
			t.Errorf("%d bytes: %v, %d by %d", most, err, got.Width, got.Height)
		}
	}
	if _, err := Photo(b.Bytes(), 300); err == nil {
		t.Error("300 bytes are enough")
	}
}

const drop = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 -10 20 10"><rect x="-10" y="-10" width="10" height="10" fill="#0000c8"/></svg>`

// A logo keeps its colours and its see-through ground, and a drawing gets to where its
// box says.
func TestLogo(t *testing.T) {
	var b bytes.Buffer
	empty := image.NewNRGBA(image.Rect(0, 0, 960, 80))
	empty.SetNRGBA(0, 0, color.NRGBA{1, 2, 3, 255})
	if err := png.Encode(&b, empty); err != nil {
		t.Fatal(err)
	}
	got, err := Logo("logo.png", b.Bytes())
	if err != nil || got.Kind != "image/png" || got.Width != 480 || got.Height != 40 {
		t.Fatalf("%v, %+v", err, got)
	}
	if m, err := png.Decode(bytes.NewReader(got.Data)); err != nil || !isClear(m, 240, 20) {
		t.Errorf("%v, and its ground is not clear", err)
	}
	got, err = Logo("logo.SVG", []byte(drop))
	if err != nil || got.Kind != "image/svg+xml" || string(got.Data) != drop {
		t.Fatalf("%v, %+v", err, got)
	}
	m, err := png.Decode(bytes.NewReader(got.Print))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, blue, _ := m.At(m.Bounds().Dx()/4, m.Bounds().Dy()/2).RGBA(); blue>>8 != 200 || !isClear(m, 3*m.Bounds().Dx()/4, 5) {
		t.Errorf("its left half has blue %d", blue>>8)
	}
}

func isClear(m image.Image, x, y int) bool {
	_, _, _, a := m.At(x, y).RGBA()
	return a == 0
}

// What cannot be shown is refused with what to do.
func TestRefused(t *testing.T) {
	var large bytes.Buffer
	if err := png.Encode(&large, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		t.Fatal(err)
	}
	head := large.Bytes()[12:33] // says that it is 65536 pixels wide and high (W3C, PNG, 11.2.2)
	head[5], head[9] = 1, 1
	binary.BigEndian.PutUint32(head[17:], crc32.ChecksumIEEE(head[:17]))
	for _, test := range []struct{ file, src, want string }{
		{"a.jpg", "GIF89a", "no JPEG or PNG"},
		{"a.jpg", "", "no JPEG or PNG"},
		{"a.png", "\x89PNG\r\n\x1a\n", "no whole picture"},
		{"a.png", large.String(), "40 million"},
		{"a.jpg", strings.Repeat(" ", mostBytes+1), "1 MiB"},
		{"a.svg", "<html/>", "begins with html"},
		{"a.svg", "<svg viewBox='0 0 1 1'>", "no SVG"},
		{"a.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><g transform="scale(1e9)"><circle r="5" stroke="red"/></g></svg>`, "far out of its box"},
		{"a.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><defs><g id="a"><use href="#a"/><use href="#a"/></g></defs><use href="#a"/></svg>`, "parts of itself"},
		{"a.svg", `<svg xmlns="http://www.w3.org/2000/svg"/>`, "viewBox"},
		{"a.svg", strings.Replace(drop, "<rect", `<script>alert(1)</script><rect`, 1), "script"},
		{"a.svg", strings.Replace(drop, "<rect", `<text>Rods</text><rect`, 1), "outlines"},
		{"a.svg", `<!DOCTYPE svg [<!ENTITY a "aa">]>` + drop, "DOCTYPE"},
		{"a.svg", drop + strings.Repeat(" ", mostDrawing), "at most"},
	} {
		if err := Check(test.file, []byte(test.src)); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s %.40q: %v", test.file, test.src, err)
		}
	}
	if err := Check("a.svg", []byte(drop)); err != nil {
		t.Error(err)
	}
}

// FuzzPictures reads anything as a picture.
func FuzzPictures(f *testing.F) {
	f.Add("a.svg", []byte(drop))
	f.Add("a.jpg", held(f, framed(8, 8), binary.LittleEndian, 6))
	f.Fuzz(func(t *testing.T, file string, src []byte) {
		if Check(file, src) != nil {
			return
		}
		if got, err := Logo(file, src); err == nil && (got.Width < 1 || got.Height < 1) {
			t.Errorf("%d by %d", got.Width, got.Height)
		}
	})
}
