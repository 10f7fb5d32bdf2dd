package pages

import (
	"rodlore/catalogue/pages/drawing"
	"rodlore/models"
)

// Slide is a rod above another one, onto which a script may slide it: it moves the
// group named Was down by Down as the two come together.
type Slide struct {
	Picture *drawing.Picture `json:"-"`
	Was     string           `json:"id"`   // of what moves
	Down    float64          `json:"down"` // mm
}

// ThenAndNow draws a rod as it was above the rod as it is, butts aligned, to one
// scale. Of the rings one sees the opening as a circle, at the scale that everything
// has across. Rings that are gone are crossed out on the rod as it was. id begins
// the IDs. The error means that a spec gives no rod.
func (p Pen) ThenAndNow(id string, was, is Labelled) (*Slide, error) {
	rods := []Labelled{was, is}
	sides, err := p.abreast(rods, longest(rods), 1.6*flattest)
	if err != nil {
		return nil, err
	}
	lost := p.lost(was.Spec, is.Spec)
	pic := p.picture(p.say("onto.title", "name", is.Name.Text), p.say("onto.description",
		"was", was.Label, "old", p.ringList(was.Spec), "is", is.Label, "new", p.ringList(is.Spec), "gone", p.placeList(was.Spec, lost)))
	s := &Slide{Picture: pic, Was: id + "-was"}
	up, down := 0.0, 0.0 // of both, so that one rod lies on the other when it has gone all the way
	for _, v := range sides {
		box := (&drawing.Group{Marks: v.seen(drawing.Strong, nil)}).Bounds()
		up, down = max(up, v.axis-box.Min.Y), max(down, box.Max.Y-v.axis)
	}
	apart := 1.6*p.letters + up + down + 2
	s.Down = Hundredths(apart)
	moving := &drawing.Group{ID: s.Was, Title: was.Label}
	y := 0.0
	for i, v := range sides {
		name, beyond := p.headed(margin, y+1.2*p.letters, p.shortened(rods[i].Label, p.width/2))
		pic.Add(name, p.faint(beyond, name.At.Y, drawing.Start, p.ringWords(rods[i].Spec)))
		v.axis = y + 1.6*p.letters + up + 1
		if i == 0 {
			moving.Add(v.seen(drawing.Hair, lost)...)
		} else {
			pic.Add(v.seen(drawing.Strong, nil)...)
		}
		y += apart
	}
	pic.Add(moving) // over the rod that it slides onto
	pic.Add(sides[1].scaleLine(y + 1.4*p.letters)...)
	if len(lost) > 0 {
		pic.Key = []drawing.Entry{gone.entry(p.say("onto.gone"))}
	}
	pic.Notes = p.say("onto.legend", "factor", p.ratio(sides[1].along, sides[1].across))
	p.close(pic)
	return s, nil
}

// lost are the rings of a rod that a later one has no more.
func (p Pen) lost(was, is *models.Spec) map[int]bool {
	lost := map[int]bool{}
	for _, pair := range p.comparer.Compare(was, is).RingPairs() {
		if pair.New < 0 {
			lost[pair.Old] = true
		}
	}
	return lost
}

// placeList lists where some rings stand.
func (p Pen) placeList(s *models.Spec, rings map[int]bool) string {
	if len(rings) == 0 {
		return p.say("onto.none")
	}
	var list []string
	for i, ring := range s.Rings {
		if rings[i] {
			list = append(list, p.length(float64(ring.At.Value)))
		}
	}
	return p.words.List(list)
}

// seen is the rod with the openings of its rings as circles in an ink, and a sign
// in every one that is lost.
func (v *side) seen(ink drawing.Ink, lost map[int]bool) []drawing.Mark {
	marks := append([]drawing.Mark{v.blank()}, v.handle()...)
	for i, ring := range v.spec.Rings {
		part, s := v.spec.Parts[ring.Part.Text], float64(ring.At.Value)
		surface, half := v.radius(s), float64(part.Size.Value)/2
		middle := max(surface+float64(part.Height.Value), half)
		style := drawing.Style{Stroke: ink, Width: usualLine}
		at := drawing.Point{X: v.x(s), Y: v.y(middle)}
		marks = append(marks, line(at.X, v.y(surface), at.X, v.y(max(surface, middle-half)), ink, thinLine),
			&drawing.Circle{Centre: at, Radius: v.across.mm(half), Style: style})
		if lost[i] {
			marks = append(marks, gone.at(at.X, at.Y))
		}
	}
	return marks
}
