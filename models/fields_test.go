package models_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rodlore/models"
)

func TestFields(t *testing.T) {
	for _, name := range []string{"skerry-10", "long-drift"} {
		t.Run(name, func(t *testing.T) {
			var got strings.Builder
			seen := make(map[string]bool)
			for f := range good(t, name).Fields() {
				if seen[f.Path.String()] {
					t.Errorf("two fields have the path %s", f.Path)
				}
				seen[f.Path.String()] = true
				fmt.Fprintf(&got, "%s: %s = %v %s (%s)\n", f.Pos, f.Path, f.Value, f.Unit, f.Text)
			}
			golden(t, "good/"+name+".fields", got.String())
		})
	}
}

// Places a few micrometres apart are two places, and read as such.
func TestPathsOfNearPlaces(t *testing.T) {
	src := edited(t, "skerry-10.yaml", "  - {at: 95 mm, part: SL-6}\n",
		"  - {at: 95 mm, part: SL-6}\n  - {at: 95.003 mm, part: SL-6}\n  - {at: 3 3/4 in, part: SL-6}\n")
	var got []string
	for f := range resolved(t, src).Fields() {
		if f.Path[0].Key == "rings" && f.Path.Last() == "at" && strings.HasPrefix(f.Path[0].Entry, "at 9") {
			got = append(got, f.Path.String())
		}
	}
	if want := []string{"rings[at 95 mm].at", "rings[at 95.003 mm].at", "rings[at 95.25 mm].at"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A field added to the types and forgotten in the tables would be no part of a
// revision. Every leaf of the types is given a text of its own here, of a part in
// every kind and of a station in every list, and each must come out.
func TestFieldsForgetNothing(t *testing.T) {
	model, material, parts := new(models.Model), new(models.Material), map[string]*models.Part{}
	f := filler{}
	f.fill("Model", reflect.ValueOf(model).Elem())
	for _, kind := range []models.PartKind{models.RingPart, models.SeatPart, models.GripPart, models.CapPart, models.ThreadPart, models.VarnishPart} {
		part := new(models.Part)
		f.fill("Part", reflect.ValueOf(part).Elem())
		part.Kind, part.Name = kind, string(kind)
		parts[part.Name] = part
	}
	f.fill("Material", reflect.ValueOf(material).Elem())
	model.Wants[0].Figure = "weight"
	material.Name = "M"

	seen := make(map[string]int)
	spec := &models.Spec{Model: model, Parts: parts, Materials: map[string]*models.Material{"M": material}}
	for field := range spec.Fields() {
		seen[field.Text]++
	}
	// Not part of the rod, or said by the path, or by the leaves of a range.
	apart := map[string]bool{
		"Model.File": true, "Model.Was": true, "Model.Casts.Text": true, "Model.Tops.Casts.Text": true, "Model.Handle.Cap.At": true, "Model.Wants.Figure": true,
		"Model.Joints.Between": true, "Model.Tops.Joints.Between": true, "Part.Name": true, "Part.Kind": true,
		"Model.Fitted.Came.Modulus.Section": true, "Model.Fitted.Came.Wall.Section": true,
		"Model.Fitted.KnownTo.Modulus.Section": true, "Model.Fitted.KnownTo.Wall.Section": true,
		// Read from one text, which is a leaf.
		"Model.Blank.Measured.What": true, "Model.Blank.Measured.Value": true, "Model.Blank.Measured.Deviation": true, "Model.Blank.Measured.Unit": true,
		"Material.Name": true, "Material.Source": true,
	}
	for path, texts := range f {
		if !apart[path] && !slices.ContainsFunc(texts, func(text string) bool { return seen[text] > 0 }) {
			t.Errorf("%s is missing from the walk", path)
		}
	}
	if len(f) < 95 {
		t.Errorf("only %d leaves filled", len(f))
	}
}

// filler holds the texts given to the leaves of a type, by path.
type filler map[string][]string

func (f filler) next(path string) (text string, number int) {
	number = 1000 + len(f)
	text = fmt.Sprint(number)
	f[path] = append(f[path], text)
	return text, number
}

func (f filler) fill(path string, v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		text, _ := f.next(path)
		v.SetString(text)
	case reflect.Int:
		_, n := f.next(path)
		v.SetInt(int64(n))
	case reflect.Float64:
		_, n := f.next(path)
		v.SetFloat(float64(n))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(path, v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		f.fill(path, v.Index(0))
	case reflect.Array:
		for i := range v.Len() {
			f.fill(path, v.Index(i))
		}
	case reflect.Struct:
		f.fillStruct(path, v)
	}
}

func (f filler) fillStruct(path string, v reflect.Value) {
	switch v.Interface().(type) {
	case models.Pos:
		return
	case models.Word, models.Date:
		f.fill(path, v.FieldByName("Text"))
		return
	case models.Want:
		v.FieldByName("Min").SetFloat(1)
		f.fill(path, v.FieldByName("Text"))
		return
	}
	if _, ok := v.Interface().(models.Station); ok {
		path = "Station" // which every kind of section has some of
	}
	if strings.HasPrefix(v.Type().Name(), "Given[") {
		f.fill(path, v.FieldByName("Text"))
		return
	}
	for i := range v.NumField() {
		f.fill(path+"."+v.Type().Field(i).Name, v.Field(i))
	}
}

func TestFieldsStopsWhenTold(t *testing.T) {
	n := 0
	for range good(t, "skerry-10").Fields() {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("went on to %d fields after a break at 3", n)
	}
}
