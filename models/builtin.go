package models

import (
	_ "embed"
	"sync"
)

//go:embed builtin/range.yaml
var builtinRange []byte

//go:embed builtin/imperial.yaml
var builtinImperial []byte

//go:embed builtin/materials.yaml
var builtinMaterialFile []byte

var readDefaultSettings = sync.OnceValue(func() Settings {
	var s Settings
	settingsTable.read(openBuiltin(builtinRange), &s)
	return s
})

// DefaultSettings gives the settings that hold where range.yaml says nothing.
// Their quantities have the built-in spelling as Text and no position.
func DefaultSettings() *Settings {
	s := readDefaultSettings()
	return &s
}

var readBuiltinMaterials = sync.OnceValue(func() []Material {
	var m Materials
	readMaterials(openBuiltin(builtinMaterialFile), &m)
	all := make([]Material, len(m.All))
	for i, material := range m.All {
		all[i] = *material
	}
	return all
})

// builtinMaterials gives the built-in table, the caller's to change.
func builtinMaterials() *Materials {
	var m Materials
	for _, material := range readBuiltinMaterials() {
		m.All = append(m.All, &material)
	}
	return &m
}

// openBuiltin opens a file of our own, which is tested to have no faults.
func openBuiltin(src []byte) value {
	doc := &document{builtin: true}
	doc.open(src)
	return value{doc: doc, node: doc.root}
}
