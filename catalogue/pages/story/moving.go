package story

import (
	_ "embed"
	"encoding/json"
	"math"
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
	Play    string   `json:"play"`
	Pause   string   `json:"pause"`
	Seconds float64  `json:"seconds"`
	Rods    []swayed `json:"rods"`
}

type swayed struct {
	Rod   string       `json:"rod"`
	Dot   string       `json:"dot"`
	Reach float64      `json:"reach"`
	Rest  [][2]float64 `json:"rest"`
	Start [2]float64   `json:"start"`
	PerS  float64      `json:"perS"`
	High  float64      `json:"high"`
	Modes []mode       `json:"modes"`
}

type mode struct {
	Turn  float64   `json:"turn"` // rad/s, of the damped swing
	Fade  float64   `json:"fade"` // 1/s
	Share []float64 `json:"share"`
}

func newPlayed(s *pages.Swinging, play, pause string) *played {
	p := &played{Play: play, Pause: pause, Seconds: pages.Hundredths(s.Seconds)}
	for _, r := range s.Rods {
		rod := swayed{
			Rod: r.Rod, Dot: r.Dot, Reach: pages.Hundredths(r.Reach), Start: [2]float64{pages.Hundredths(r.Start.X), pages.Hundredths(r.Start.Y)},
			PerS: pages.Hundredths(r.PerS), High: pages.Hundredths(r.High),
		}
		for _, at := range r.Places {
			rod.Rest = append(rod.Rest, [2]float64{pages.Hundredths(at.X), pages.Hundredths(at.Y)})
		}
		for _, m := range r.Swing.Modes {
			w := 2 * math.Pi * m.Frequency
			of := mode{Turn: w * math.Sqrt(1-m.Damping*m.Damping), Fade: w * m.Damping}
			for _, way := range m.Shape {
				of.Share = append(of.Share, math.Round(1e4*m.Share*way)/1e4)
			}
			rod.Modes = append(rod.Modes, of)
		}
		p.Rods = append(p.Rods, rod)
	}
	return p
}
