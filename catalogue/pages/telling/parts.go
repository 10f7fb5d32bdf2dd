package telling

import (
	"rodlore/catalogue"
	"rodlore/models"
)

// shared says what became of a shared part or material, which is told by what it is
// and not by what the workshop calls it.
func (t Teller) shared(step *catalogue.Step, name string) string {
	old, now := step.Against.Spec().Parts[name], step.Spec().Parts[name]
	switch {
	case old == nil || now == nil:
		return t.Say("edits.material")
	case now.Kind != models.RingPart:
		return t.Say("edits.part." + string(now.Kind))
	}
	size := t.Value("butt-ring-size", "m", float64(now.Size.Value))
	for _, of := range []struct {
		path     string
		old, now float64
	}{
		{"foot", float64(old.Foot.Length.Value), float64(now.Foot.Length.Value)},
		{"height", float64(old.Height.Value), float64(now.Height.Value)},
		{"mass", float64(old.Mass.Value), float64(now.Mass.Value)},
	} {
		switch {
		case of.now > of.old:
			return t.Say("edits.rings."+of.path+".up", "size", size)
		case of.now < of.old:
			return t.Say("edits.rings."+of.path+".down", "size", size)
		}
	}
	return t.Say("edits.rings.made", "size", size)
}
