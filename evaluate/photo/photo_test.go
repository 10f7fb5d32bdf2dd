package photo_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"rodlore/catalogue/pages/pagetest"
	"rodlore/evaluate/photo"
)

// withOrientation is a JPEG file with an Exif segment that says how it is turned,
// the numbers in either order of bytes.
func withOrientation(t testing.TB, img image.Image, turned uint16, order binary.AppendByteOrder) []byte {
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, img, nil); err != nil {
		t.Fatal(err)
	}
	tiff := []byte("MM")
	if order == binary.LittleEndian {
		tiff = []byte("II")
	}
	tiff = order.AppendUint16(tiff, 42)
	tiff = order.AppendUint32(tiff, 8)
	tiff = order.AppendUint16(tiff, 2)
	for _, entry := range []struct {
		tag   uint16
		value uint16
	}{{0x0103, 6}, {0x0112, turned}} {
		tiff = order.AppendUint16(tiff, entry.tag)
		tiff = order.AppendUint16(tiff, 3)
		tiff = order.AppendUint32(tiff, 1)
		tiff = order.AppendUint16(tiff, entry.value)
		tiff = order.AppendUint16(tiff, 0)
	}
	tiff = order.AppendUint32(tiff, 0)
	segment := append([]byte("Exif\x00\x00"), tiff...)
	out := append([]byte{}, plain.Bytes()[:2]...)
	out = append(out, 0xff, 0xe1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(segment)+2))
	return append(append(out, segment...), plain.Bytes()[2:]...)
}

// TestOrientationAsBrowsersShowIt holds sizes and positions against what Chromium
// makes of the same files: a white spot is looked for in the picture that it shows.
func TestOrientationAsBrowsersShowIt(t *testing.T) {
	const width, height = 48, 32
	spot := image.Rect(32, 0, 48, 16)
	img := image.NewGray(image.Rect(0, 0, width, height))
	draw.Draw(img, spot, image.NewUniform(color.White), image.Point{}, draw.Src)
	var sources []string
	var pictures []photo.Picture
	for turned := uint16(1); turned <= 8; turned++ {
		order := []binary.AppendByteOrder{binary.BigEndian, binary.LittleEndian}[turned%2]
		file := withOrientation(t, img, turned, order)
		p, err := photo.Look(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		pictures = append(pictures, p)
		sources = append(sources, "data:image/jpeg;base64,"+base64.StdEncoding.EncodeToString(file))
	}
	b := pagetest.Open(t, map[string][]byte{"page.html": []byte("<!DOCTYPE html><title>Pictures</title>")})
	b.Show(t, "page.html", pagetest.View{})
	list, err := json.Marshal(sources)
	if err != nil {
		t.Fatal(err)
	}
	answer := b.Ask(t, `(async () => JSON.stringify(await Promise.all(`+string(list)+`.map(async src => {
		const img = new Image(); img.src = src; await img.decode();
		const c = document.createElement("canvas"); c.width = img.naturalWidth; c.height = img.naturalHeight;
		const g = c.getContext("2d"); g.drawImage(img, 0, 0);
		const d = g.getImageData(0, 0, c.width, c.height).data;
		let x = 0, y = 0, n = 0;
		for (let i = 0; i < c.width * c.height; i++) if (d[4 * i] > 127) { n++; x += i % c.width + .5; y += Math.floor(i / c.width) + .5; }
		return {width: c.width, height: c.height, x: x / n, y: y / n};
	}))))()`)
	var shown []struct{ Width, Height, X, Y float64 }
	if err := json.Unmarshal([]byte(answer), &shown); err != nil {
		t.Fatal(err)
	}
	middle := photo.Position{X: float64(spot.Min.X+spot.Max.X) / 2, Y: float64(spot.Min.Y+spot.Max.Y) / 2}
	for i, p := range pictures {
		if at := p.Shown(middle); float64(p.Width) != shown[i].Width || float64(p.Height) != shown[i].Height ||
			math.Hypot(at.X-shown[i].X, at.Y-shown[i].Y) > 0.5 {
			t.Errorf("orientation %d: %+v with the spot at %v; the browser shows %+v", i+1, p, at, shown[i])
		}
	}
}

func TestLookRefuses(t *testing.T) {
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewGray(image.Rect(0, 0, 3, 2))); err != nil {
		t.Fatal(err)
	}
	if p, err := photo.Look(&small); err != nil || p != (photo.Picture{Width: 3, Height: 2, Turned: 1}) {
		t.Errorf("a PNG picture is %+v, %v", p, err)
	}
	whole := withOrientation(t, image.NewGray(image.Rect(0, 0, 8, 8)), 6, binary.BigEndian)
	for want, file := range map[string][]byte{
		"is no JPEG or PNG picture": []byte("model: skerry-10\n"),
		"is no whole picture":       whole[:40],
		"claims to be 65535 × 0":    bytes.Replace(bytes.Clone(whole), []byte{8, 0, 8, 0, 8, 1}, []byte{8, 0, 0, 0xff, 0xff, 1}, 1),
	} {
		if p, err := photo.Look(bytes.NewReader(file)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v, %v, not %s", p, err, want)
		}
	}
}

func FuzzLook(f *testing.F) {
	for turned := range uint16(10) {
		f.Add(withOrientation(f, image.NewGray(image.Rect(0, 0, 8, 16)), turned, binary.LittleEndian))
	}
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := photo.Look(bytes.NewReader(file))
		if err == nil && (p.Width < 1 || p.Height < 1 || p.Turned < 1 || p.Turned > 8) {
			t.Errorf("%+v", p)
		}
	})
}

// camera takes a place on the rod into a picture of one scale that is held askew,
// with the tip to the right or to the left.
type camera struct {
	scale, askew, mirror float64 // pixels in a metre, rad, 1 or −1
	origin               photo.Position
}

func (c camera) take(x, y float64) photo.Position {
	x *= c.mirror
	return photo.Position{
		X: c.origin.X + c.scale*(x*math.Cos(c.askew)-y*math.Sin(c.askew)),
		Y: c.origin.Y + c.scale*(x*math.Sin(c.askew)+y*math.Cos(c.askew)),
	}
}

// TestTraceProperty finds places again that any camera took.
func TestTraceProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := camera{
			scale: rapid.Float64Range(200, 3000).Draw(t, "scale"), askew: rapid.Float64Range(-0.7, 0.7).Draw(t, "askew"),
			mirror: rapid.SampledFrom([]float64{1, -1}).Draw(t, "mirror"), origin: photo.Position{X: 900, Y: 700},
		}
		from, apart := rapid.Float64Range(-0.5, 0.5).Draw(t, "from"), rapid.Float64Range(0.3, 3).Draw(t, "apart")
		m := photo.Marks{First: c.take(from, 0), Second: c.take(from+apart, 0), Apart: apart, From: from}
		bend := rapid.Float64Range(0.05, 0.3).Draw(t, "bend")
		var places []photo.Place
		var points []photo.Position
		for range rapid.IntRange(1, 12).Draw(t, "n") {
			x := rapid.Float64Range(0, 3).Draw(t, "x")
			at := photo.Place{X: x, Y: 0.001 + bend*x*x}
			places, points = append(places, at), append(points, c.take(at.X, at.Y))
		}
		got, err := m.Trace(points, 1)
		if err != nil {
			t.Fatal(err)
		}
		for i, at := range got.Places {
			if math.Hypot(at.X-places[i].X, at.Y-places[i].Y) > 1e-9 {
				t.Errorf("point %d is %v, not %v", i+1, at, places[i])
			}
		}
	})
}

// TestWithin holds the deviation against draws of what it is made of, the method of
// JCGM 101:2008 (supplement 1 to the GUM), clause 7: each place moves, along its
// worst direction, as the square of Within says less the marks' part that counts
// for the other points.
func TestWithin(t *testing.T) {
	const draws = 20000
	rng := rand.New(rand.NewPCG(5, 7))
	c := camera{scale: 1250, askew: 0.04, mirror: 1, origin: photo.Position{X: 500, Y: 1000}}
	at := photo.Place{X: 2.1, Y: 0.75}
	m := photo.Marks{First: c.take(0, 0), Second: c.take(1.8, 0), Apart: 1.8, ApartBy: 0.002}
	point := c.take(at.X, at.Y)
	one, err := m.Trace([]photo.Position{point}, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	several, err := m.Trace([]photo.Position{point, point, point, point}, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	off := func() float64 { return 1.5 * rng.NormFloat64() }
	var firsts, means []photo.Place
	for range draws {
		drawn := m
		drawn.First.X, drawn.First.Y = m.First.X+off(), m.First.Y+off()
		drawn.Second.X, drawn.Second.Y = m.Second.X+off(), m.Second.Y+off()
		drawn.Apart += 0.002 * rng.NormFloat64()
		var points []photo.Position
		for range 4 {
			points = append(points, photo.Position{X: point.X + off(), Y: point.Y + off()})
		}
		got, err := drawn.Trace(points, 1)
		if err != nil {
			t.Fatal(err)
		}
		var mean photo.Place
		for _, p := range got.Places {
			mean.X, mean.Y = mean.X+p.X/4, mean.Y+p.Y/4
		}
		firsts, means = append(firsts, got.Places[0]), append(means, mean)
	}
	// Own and marks' parts are widest in nearly one direction, so their sum is at
	// most a little wide. 20,000 draws know a deviation to 0.5 %.
	if ratio := one.Within / widest(firsts); ratio < 0.98 || ratio > 1.1 {
		t.Errorf("one point within %.3g mm, sampled %.3g mm", 1e3*one.Within, 1e3*widest(firsts))
	}
	// The mean of four has the deviation that four independent ones would have.
	if ratio := several.Within / 2 / widest(means); ratio < 0.98 || ratio > 1.1 {
		t.Errorf("four points within %.3g mm, and their mean %.3g mm", 1e3*several.Within, 1e3*widest(means))
	}
}

// widest is the deviation of places in the direction in which it is largest.
func widest(places []photo.Place) float64 {
	var xs, ys []float64
	for _, at := range places {
		xs, ys = append(xs, at.X), append(ys, at.Y)
	}
	xx, yy, xy := stat.Variance(xs, nil), stat.Variance(ys, nil), stat.Covariance(xs, ys, nil)
	return math.Sqrt((xx+yy)/2 + math.Hypot((xx-yy)/2, xy))
}

func TestTraceRefuses(t *testing.T) {
	level := photo.Marks{First: photo.Position{X: 500, Y: 1000}, Second: photo.Position{X: 2750, Y: 1000}, Apart: 1.8}
	below := photo.Position{X: 3000, Y: 1600}
	for _, tt := range []struct {
		name, want string
		marks      photo.Marks
		at         photo.Position
	}{
		{"marks the wrong way round", "behind the front of the hold", photo.Marks{First: level.Second, Second: level.First, Apart: 1.8}, below},
		{"the picture upside down", "upside down", level, photo.Position{X: 3000, Y: 400}},
		{"the picture on its side", "90° off level", photo.Marks{First: level.First, Second: photo.Position{X: 500, Y: 3000}, Apart: 1.8}, below},
		{"one mark twice", "0 pixels apart", photo.Marks{First: level.First, Second: level.First, Apart: 1.8}, below},
	} {
		if got, err := tt.marks.Trace([]photo.Position{tt.at}, 1); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, %v", tt.name, got, err)
		}
	}
	if _, err := level.Trace([]photo.Position{below}, 1); err != nil {
		t.Error(fmt.Errorf("as it should be: %w", err))
	}
}
