package models

import (
	"bytes"
	"embed"

	"gopkg.in/yaml.v3"
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
