package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/fyne-io/oksvg"
	"github.com/srwiley/rasterx"
)

// drawing is an SVG that looks the same wherever it is shown.
type drawing struct{ icon *oksvg.SvgIcon }

// foreign are elements of SVG 2 that look otherwise elsewhere, or that lead out of the
// file or run something.
var foreign = map[string]string{
	"text": "has letters in a font that others may not have; turn them into outlines", "image": "has a picture in it; leave that out",
	"script": "has a script in it; leave that out", "foreignObject": "has something in it that is no drawing; leave that out",
	"use": "uses parts of itself again; save it as plain SVG",
}

// drawn reads an SVG. Pages show it as an image, so that nothing in it runs or is
// fetched (SVG 2, 2.7, "secure static mode").
func drawn(src []byte) (d *drawing, err error) {
	if len(src) > mostDrawing {
		return nil, fmt.Errorf("has %d bytes; expected an SVG of at most %.0f, for it stands in every page", len(src), mostDrawing)
	}
	if err := plain(src); err != nil {
		return nil, err
	}
	defer func() { // the library has faults of its own with what is not well made
		if recover() != nil {
			d, err = nil, errors.New("cannot be drawn; save it as plain SVG, or as PNG")
		}
	}()
	icon, err := oksvg.ReadIconStream(bytes.NewReader(src))
	if err != nil || !(icon.ViewBox.W > 0 && icon.ViewBox.H > 0) {
		return nil, fmt.Errorf("cannot be drawn (%w); save it as plain SVG, or as PNG", err)
	}
	d = &drawing{icon}
	d.scaled(1, 1)
	return d, nil
}

// plain finds what is no plain drawing, or would take for ever to draw: what is far
// larger than the box that shows.
func plain(src []byte) error {
	const farOut = 20
	tokens := xml.NewDecoder(bytes.NewReader(src))
	var most float64      // of a number, in units of the box
	grown := []float64{1} // by how much each open element's content is enlarged
	for {
		token, err := tokens.Token()
		if errors.Is(err, io.EOF) && most > 0 {
			return nil
		}
		if err != nil {
			return fmt.Errorf("is no SVG: %w", err)
		}
		switch e := token.(type) {
		case xml.Directive:
			return errors.New("is of an old kind, with a DOCTYPE; save it as plain SVG")
		case xml.EndElement:
			grown = grown[:len(grown)-1]
		case xml.StartElement:
			name, by := e.Name.Local, grown[len(grown)-1]
			if most == 0 {
				if name != "svg" {
					return fmt.Errorf("is no SVG but begins with %s", name)
				}
				if most = farOut * largest(attribute(e, "viewBox")); most == 0 {
					return errors.New("has no size; give it a viewBox")
				}
			}
			if why := foreign[name]; why != "" {
				return errors.New(why)
			}
			for _, a := range e.Attr {
				if a.Name.Local == "transform" {
					by *= enlarged(a.Value)
				}
			}
			for _, a := range e.Attr {
				if slices.Contains(lengths, a.Name.Local) && name != "svg" && by*largest(a.Value) > most {
					return fmt.Errorf("reaches far out of its box with the %s of a %s; leave that out", a.Name.Local, name)
				}
			}
			grown = append(grown, by)
		}
	}
}

// lengths are attributes that take longer to draw the larger they are.
var lengths = []string{"d", "points", "x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2", "stroke-width"}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

var (
	decimal   = regexp.MustCompile(`[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?|[0-9]+\.?`)
	enlarging = regexp.MustCompile(`(?:scale|matrix)\s*\(([^)]*)\)`)
)

// largest is the largest number in a text, whatever its sign.
func largest(text string) (most float64) {
	for _, n := range decimal.FindAllString(text, -1) {
		v, err := strconv.ParseFloat(n, 64)
		if err != nil {
			return math.Inf(1)
		}
		most = max(most, v)
	}
	return most
}

// enlarged is by how much a transform enlarges at most.
func enlarged(transform string) float64 {
	by := 1.
	for _, found := range enlarging.FindAllStringSubmatch(transform, -1) {
		numbers := decimal.FindAllString(found[1], -1)
		by *= max(1, 2*largest(strings.Join(numbers[:min(4, len(numbers))], " "))) // a matrix ends with where it moves to
	}
	return by
}

// scaled draws on no more than so many pixels either way.
func (d *drawing) scaled(wide, high int) image.Image {
	box := d.icon.ViewBox
	by := min(float64(wide)/box.W, float64(high)/box.H)
	w, h := max(1, int(by*box.W)), max(1, int(by*box.H))
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	d.icon.Transform = rasterx.Identity.Scale(float64(w)/box.W, float64(h)/box.H).Translate(-box.X, -box.Y)
	d.icon.Draw(rasterx.NewDasher(w, h, rasterx.NewScannerGV(w, h, m, m.Bounds())), 1)
	return m
}
