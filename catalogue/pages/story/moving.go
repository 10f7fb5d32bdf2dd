package story

import (
	_ "embed"
	"encoding/json"
	"strings"

	"rodlore/catalogue/pages"
)

//go:embed page.js
var program string

// moving is what a script moves on a page: it adds the controls, so that there are
// none without scripts.
type moving struct {
	Slide *sliding        `json:"slide,omitempty"`
	Load  string          `json:"load,omitempty"` // the label of the slider of Bends
	Bends []*pages.Ladder `json:"bends,omitempty"`
	Swing *played         `json:"swing,omitempty"`
}

// script is the program with what it moves; "" where nothing moves.
func (m *moving) script() string {
	if m.Slide == nil && m.Bends == nil && m.Swing == nil {
		return ""
	}
	text, err := json.Marshal(m)
	if err != nil {
		panic("story: " + err.Error())
	}
	return strings.Replace(program, "DATA", string(text), 1)
}

// sliding is a rod that slides onto another.
type sliding struct {
	Label string `json:"label"`
	*pages.Slide
}

// played are rods that swing once somebody plays it.
type played struct {
	Play  string `json:"play"`
	Pause string `json:"pause"`
	*pages.Swinging
}
