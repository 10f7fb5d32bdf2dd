package pages

import (
	"strings"

	"rodlore/catalogue/say"
	"rodlore/models"
)

// describe says all that Rod draws.
func (p Pen) describe(s *models.Spec) string {
	var joints []string
	sections := say.Each(s.Sections, p.section)
	for i, at := range s.JointSpans() {
		joints = append(joints, p.say("joints."+string(s.Joints[i].Kind), "from", p.length(at.From), "to", p.length(at.To)))
	}
	rings := say.Each(s.Rings, func(ring models.Ring) string {
		return p.say("ring", "part", ring.Part.Text, "place", p.length(float64(ring.At.Value)))
	})
	grips := say.Each(s.Handle.Grips, func(g models.Grip) string {
		return p.say("grip", "from", p.length(float64(g.From.Value)), "to", p.length(float64(g.To.Value)))
	})
	sentences := []string{p.say("rod.description", "name", s.Name.Text, "length", p.display.Written(s.Length.Quantity()), "sections", p.words.List(sections))}
	if len(joints) > 0 {
		sentences = append(sentences, p.say("rod.joints", "joints", p.words.List(joints)))
	}
	side := "rod.rings below"
	if s.Reel.Kind.OnTop() {
		side = "rod.rings above"
	}
	sentences = append(sentences, p.say(side, "rings", p.words.List(rings)))
	if len(grips) > 0 {
		sentences = append(sentences, p.say("rod.grips", "grips", p.words.List(grips)))
	}
	return strings.Join(append(sentences, p.colours(s)...), " ")
}

// section names a section, with its length and what a solid one is of.
func (p Pen) section(s models.Section) string {
	named := s.Name.Text + " " + p.length(float64(s.Length.Value))
	if s.Solid != nil {
		return p.say("solid", "section", named, "material", s.Material.Text)
	}
	return named
}

// colours says what colours the rod has.
func (p Pen) colours(s *models.Spec) []string {
	var list []string
	if s.Finish.Colour.Text != "" {
		list = append(list, p.say("rod.blank colour", "colour", s.Finish.Colour.Text))
	}
	if s.Finish.Trim.Text != "" {
		list = append(list, p.say("rod.whipping colour", "colour", s.Finish.Trim.Text))
	}
	return list
}
