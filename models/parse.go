package models

import (
	"slices"

	"rodlore/models/units"
)

// ParseModel reads a model's spec. file names src in positions; it is not
// opened. The error, if any, is a Faults holding every fault of the file.
func ParseModel(file string, src []byte) (*Model, error) {
	return parsed(readModel(file, src))
}

// readModel reads as much of a model's spec as can be read.
func readModel(file string, src []byte) (*Model, *document) {
	m := &Model{File: file}
	return m, read(m, file, src, &modelTable)
}

// read reads as much of a file as can be read. A file with a required key may not be
// empty.
func read[T any](t *T, file string, src []byte, tab *table[T]) *document {
	doc := opened(file, src).read(func(v value) { tab.read(v, t) })
	if doc.empty && slices.ContainsFunc(tab.keys, func(k key[T]) bool { return k.need == required }) {
		doc.fault(Pos{file, 1, 1}, "", "the file is empty; expected %s", tab.example)
	}
	return doc
}

// parse gives what was read, or nothing where there were faults.
func parse[T any](t *T, file string, src []byte, tab *table[T]) (*T, error) {
	return parsed(t, read(t, file, src, tab))
}

// ParseParts reads parts.yaml; see ParseModel. An empty src is a file without
// parts.
func ParseParts(file string, src []byte) (*Parts, error) {
	return parse(&Parts{File: file}, file, src, &partsTable)
}

// ParseMaterials reads materials.yaml over the built-in table; see ParseModel.
// An empty src gives the built-in table alone.
func ParseMaterials(file string, src []byte) (*Materials, error) {
	m := builtinMaterials()
	return parsed(m, opened(file, src).read(func(v value) { readMaterials(v, m) }))
}

// readMaterials reads every material, over the one of the same name in m.
func readMaterials(v value, m *Materials) {
	for name, entry := range v.named(materialTable.example) {
		material := m.Get(name.Value)
		if material == nil {
			material = &Material{Name: name.Value}
			m.All = append(m.All, material)
		}
		material.Builtin = v.doc.builtin
		materialTable.read(entry, material)
		material.Pos = v.doc.pos(name)
	}
}

// ParseSettings reads range.yaml; see ParseModel. An empty src gives the
// built-in settings alone.
func ParseSettings(file string, src []byte) (*Settings, error) {
	s := DefaultSettings()
	return parsed(s, opened(file, src).read(func(v value) {
		if u := valueUnder(v.node, "units"); u != nil && u.Value == "imperial" {
			settingsTable.read(openBuiltin(builtinImperial), s)
		}
		settingsTable.read(v, s)
	}))
}

// parsed gives t where there were no faults.
func parsed[T any](t *T, doc *document) (*T, error) {
	if err := doc.faults.err(); err != nil {
		return nil, err
	}
	return t, nil
}

// Get gives the part of that name, nil where there is none.
func (p *Parts) Get(name string) *Part {
	for _, part := range p.All {
		if part.Name == name {
			return part
		}
	}
	return nil
}

// Get gives the material of that name, nil where there is none.
func (m *Materials) Get(name string) *Material {
	for _, material := range m.All {
		if material.Name == name {
			return material
		}
	}
	return nil
}

// atLabel names a place on the rod in a path, "at 1565 mm", to a thousandth of
// a millimetre.
func atLabel(at units.Length) string { return entryAt(at).Entry }

func millimetres(l units.Length) string { return units.Trimmed(float64(l)*1e3, 3) + " mm" }
