package models

// ParseModel reads a model's spec. file names src in positions; it is not
// opened. The error, if any, is a Faults holding every fault of the file.
func ParseModel(file string, src []byte) (*Model, error) { panic("not yet") }

// ParseParts reads parts.yaml; see ParseModel. An empty src is a file without
// parts.
func ParseParts(file string, src []byte) (*Parts, error) { panic("not yet") }

// ParseMaterials reads materials.yaml over the built-in table; see ParseModel.
// An empty src gives the built-in table alone.
func ParseMaterials(file string, src []byte) (*Materials, error) { panic("not yet") }

// ParseSettings reads range.yaml; see ParseModel. An empty src gives the
// built-in settings alone.
func ParseSettings(file string, src []byte) (*Settings, error) { panic("not yet") }
