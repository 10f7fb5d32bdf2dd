package models

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// joinCommas joins what a decimal comma has split. Within braces YAML ends a value at a
// comma, so {wall: 1,7 mm} is read as a wall of 1 and a key "7 mm" without a value; the
// fault should be about the comma and not about that key.
func joinCommas(n *yaml.Node) {
	if n.Kind == yaml.MappingNode && n.Style&yaml.FlowStyle != 0 {
		kept := n.Content[:0]
		for i := 0; i < len(n.Content); i += 2 {
			key, value := n.Content[i], n.Content[i+1]
			if len(kept) > 0 && parted(kept[len(kept)-1], key, value) {
				kept[len(kept)-1].Value += "," + key.Value
				continue
			}
			kept = append(kept, key, value)
		}
		n.Content = kept
	}
	for _, c := range n.Content {
		joinCommas(c)
	}
}

// parted reports whether a key without a value continues, right after the comma, the
// digits of the value before it.
func parted(before, key, value *yaml.Node) bool {
	return before.Kind == yaml.ScalarNode && before.Style == 0 &&
		before.Value != "" && strings.Trim(before.Value, "+-0123456789") == "" &&
		key.Kind == yaml.ScalarNode && key.Value != "" && strings.IndexByte("0123456789", key.Value[0]) >= 0 &&
		value.Tag == "!!null" && value.Value == "" &&
		key.Line == before.Line && key.Column == before.Column+len(before.Value)+1
}
