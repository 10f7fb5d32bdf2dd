package pages

import (
	"rodlore/catalogue/pages/drawing"
)

// Flattened draws how a rod curved along its length above how it curves now, to the
// same scales under half the test curve of each, with what its rings, whippings and
// joints take out of the bend. Those of rings that are gone are crossed out. The error
// says why there is no such bend.
func (p Pen) Flattened(was, is Labelled) (*drawing.Picture, error) {
	rods := []Labelled{was, is}
	both := make([]*curving, len(rods))
	most := 0.0
	for i, r := range rods {
		found, err := p.rods.Of(r.Spec).Curvature()
		if err != nil {
			return nil, err
		}
		both[i] = p.newCurving(r.Spec, found)
		most = max(most, both[i].most)
	}
	pic := p.picture(p.say("flattened.title", "name", is.Name.Text), p.say("flattened.description",
		"was", was.Label, "old", both[0].turn(both[0].all()), "is", is.Label, "new", both[1].turn(both[1].all())))
	along, y := p.fitting(longest(rods), p.width-2*margin-p.letters), 0.0
	for i, v := range both {
		v.along, v.most, v.high = along, most, 0.15*p.width
		v.base = y + 1.2*p.letters + v.high
		pic.Add(p.bold(v.x(v.spec.TotalLength()), v.base-0.6*v.high, drawing.Start, p.shortened(rods[i].Label, p.width/3)),
			line(v.x(v.spec.TotalLength()), v.base, v.tip, v.base, drawing.Hair, thinLine),
			&drawing.Path{Points: v.curve(built), Style: drawing.Style{Stroke: drawing.Series(0), Width: usualLine}}, v.takenOut())
		y = v.base + 1
	}
	lost := p.lost(was.Spec, is.Spec)
	for _, spot := range both[0].worst {
		if spot.Joint < 0 && lost[spot.Ring] {
			pic.Add(gone.at(both[0].x(spot.At), both[0].y(both[0].highest(spot.Span))-2*signSize))
		}
	}
	pic.Add(p.scaleLine(along, y+1.6*p.letters, p.say("curvature.scale", "scale", along.text(p)))...)
	pic.Key = both[0].key()[1:2]
	if len(lost) > 0 {
		pic.Key = append(pic.Key, gone.entry(p.say("onto.gone")))
	}
	pic.Notes = p.say("flattened.legend")
	return p.close(pic), nil
}
