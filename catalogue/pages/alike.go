package pages

import (
	"math"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/evaluate"
)

// Alike draws rods of one action over each other, each under a load of its own, N, hung
// from the tip and without its own weight, and each as long as the other: what bends
// alike lies on each other. The error says which rod has no such bend.
func (p Pen) Alike(rods []Labelled, loads []float64) (*drawing.Picture, error) {
	const unseen = 0.03 // mm
	var tips []string
	wide, y := p.width-2*margin, 2.0
	pic := p.picture(p.say("alike.title"), "")
	pic.Add(line(margin, y, p.width-margin, y, drawing.Hair, thinLine), line(margin, y-1.6, margin, y+1.6, drawing.Strong, usualLine))
	for j, r := range rods {
		bent, err := p.rods.Of(r.Spec).Bend(evaluate.BendCase{Force: loads[j], Direction: math.Pi / 2})
		if err != nil {
			return nil, err
		}
		var path []drawing.Point
		scale := wide / (r.TotalLength() - r.HeldTo()) // of its free length
		for _, pt := range bent.Points {
			path = append(path, drawing.Point{X: margin + scale*pt.X, Y: y + scale*pt.Y})
		}
		style := drawing.Style{Stroke: drawing.Series(j), Width: thickLine, Dash: drawing.Dash(j)}
		pic.Add(&drawing.Path{Points: drawing.Simplified(path, unseen), Style: style})
		load := p.say("alike.load", "label", r.Label, "load", p.display.Value("third-load", "N", loads[j]))
		pic.Key = append(pic.Key, seriesEntry(j, load))
		tips = append(tips, p.say("bends.tip", "label", load, "drop", p.length(bent.Tip.Y), "turn", p.display.Value("", "rad", bent.Tip.Turn)))
	}
	pic.Description, pic.Notes = strings.Join(tips, " "), p.say("alike.legend")
	return p.close(pic), nil
}
