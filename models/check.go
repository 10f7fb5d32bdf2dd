package models

import "gopkg.in/yaml.v3"

// Check checks a model that a program made or altered as ParseModel checks one
// that it reads, but for the limits of single quantities. It puts the joints
// into the order of the sections. The error, if any, is a Faults with every
// fault.
func (m *Model) Check() error {
	doc := &document{builtin: true}
	in := func(path Path) value { return value{doc, &yaml.Node{}, path.String()} }
	for i := range m.Sections {
		s := &m.Sections[i]
		path := SectionPath(*s)
		for j := range s.Tube {
			checkWall(in(path.In("tube", entryAt(s.Tube[j].At.Value))), &s.Tube[j])
		}
		checkSection(in(path), s)
	}
	for i := range m.Joints {
		checkJoint(in(JointPath(m.Joints[i])), &m.Joints[i])
	}
	for i := range m.Handle.Grips {
		checkGrip(in(gripPath(m.Handle.Grips[i])), &m.Handle.Grips[i])
	}
	checkModel(in(nil), m)
	return doc.faults.err()
}
