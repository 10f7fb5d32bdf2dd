package models

import (
	"bytes"
	"cmp"
	"embed"
	"regexp"
	"strings"

	"gopkg.in/yaml.v3"

	"rodlore/models/units"
)

//go:embed starter
var starterFiles embed.FS

// StarterShared gives the shared files of a new range by name: range.yaml,
// parts.yaml and materials.yaml.
func StarterShared(maker string) map[string][]byte {
	files := make(map[string][]byte)
	for _, file := range []string{"range.yaml", "parts.yaml", "materials.yaml"} {
		files[file] = starter(file, maker)
	}
	return files
}

// StarterModel gives the spec of a new model of that name. It resolves with the
// files of StarterShared.
func StarterModel(name string) []byte { return starter("model.yaml", name) }

// starter gives an embedded file with the name put in.
func starter(file, name string) []byte {
	src, err := starterFiles.ReadFile("starter/" + file)
	if err != nil {
		panic("models: " + err.Error())
	}
	// A name such as "No: 5" needs quotes, which the library knows best.
	quoted, err := yaml.Marshal(name)
	if err != nil {
		panic("models: " + err.Error())
	}
	return bytes.Replace(src, []byte("NAME\n"), quoted, 1)
}

// KnownBlank is what a maker knows of a blank that was bought, as written with
// units.
type KnownBlank struct{ Length, Mass, Tip, Butt, Drop, Load, Material string }

// StarterBlank gives the spec of a bare blank of which that is known. What is not
// known yet, "", is left out where it may be.
func StarterBlank(name string, k KnownBlank) []byte {
	src := starter("blank.yaml", name)
	for _, part := range []struct{ place, value string }{
		{"LENGTH", k.Length}, {"MASS", k.Mass}, {"TIP", k.Tip}, {"BUTT", cmp.Or(k.Butt, k.Tip)}, {"DROP", k.Drop}, {"LOAD", k.Load}, {"MATERIAL", k.Material},
	} {
		if part.value == "" { // its line, and that of the list that it begins
			src = regexp.MustCompile(`(?m)(^  measured:\n)?^.*\b`+part.place+`\b.*\n`).ReplaceAll(src, nil)
		}
		src = bytes.ReplaceAll(src, []byte(part.place), []byte(part.value))
	}
	length, _ := units.ParseAs[units.Length](k.Length)
	held := Millimetres(length / 10).Text
	if !strings.Contains(k.Length, "m") { // feet and inches
		held = units.Sixteenths(float64(length)/10) + " in"
	}
	return bytes.Replace(src, []byte("HELD"), []byte(held), 1)
}
