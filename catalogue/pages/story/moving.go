package story

import (
	_ "embed"
	"encoding/json"
	"maps"
	"math"
	"slices"
	"strings"

	"rodlore/catalogue/pages"
)

//go:embed page.js
var program string

// moving is what a script moves on a page: it adds the controls, so that there are
// none without scripts.
type moving struct {
	Slide *sliding  `json:"slide,omitempty"`
	Load  string    `json:"load,omitempty"` // the label of the slider of Bends
	Bends []bending `json:"bends,omitempty"`
	Swing *played   `json:"swing,omitempty"`
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
	Label string  `json:"label"`
	ID    string  `json:"id"`
	Down  float64 `json:"down"`
}

func newSliding(s *pages.Slide, label string) *sliding {
	return &sliding{Label: label, ID: s.Was, Down: hundredths(s.Down)}
}

// bending is rods under one load after the other.
type bending struct {
	ID     string   `json:"id"` // of the label of the load
	Shown  int      `json:"shown"`
	Moves  []string `json:"moves"` // IDs of the paths
	Frames []frame  `json:"frames"`
}

type frame struct {
	Load string   `json:"load"`
	Said string   `json:"said"` // the description of the picture
	X    float64  `json:"x"`
	Y    float64  `json:"y"`
	Data []string `json:"data"` // of the paths of Moves
}

func newBending(l *pages.Ladder) bending {
	b := bending{ID: l.LabelID, Shown: l.Shown, Moves: slices.Sorted(maps.Keys(l.Frames[0].Paths))}
	for _, f := range l.Frames {
		at := frame{Load: f.Load, Said: f.Said, X: hundredths(f.At.X), Y: hundredths(f.At.Y)}
		for _, id := range b.Moves {
			at.Data = append(at.Data, f.Paths[id])
		}
		b.Frames = append(b.Frames, at)
	}
	return b
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
	p := &played{Play: play, Pause: pause, Seconds: hundredths(s.Seconds)}
	for _, r := range s.Rods {
		rod := swayed{
			Rod: r.Rod, Dot: r.Dot, Reach: hundredths(r.Reach), Start: [2]float64{hundredths(r.Start.X), hundredths(r.Start.Y)},
			PerS: hundredths(r.PerS), High: hundredths(r.High),
		}
		for _, at := range r.Places {
			rod.Rest = append(rod.Rest, [2]float64{hundredths(at.X), hundredths(at.Y)})
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

// hundredths rounds to what is drawn.
func hundredths(mm float64) float64 { return math.Round(100*mm) / 100 }
