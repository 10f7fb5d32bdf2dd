package say

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/diffing"
)

// Aspect is what of a rod is seen.
func (w *Words) Aspect(a diffing.Aspect) string { return w.Say("aspects." + string(a)) }

// Looks is what is seen of a rod in one aspect.
func (t Teller) Looks(looks []diffing.Look) string {
	return strings.Join(Each(looks, t.look), ", ")
}

func (t Teller) look(l diffing.Look) string {
	switch l := l.(type) {
	case diffing.Number:
		return t.Count("looks."+string(l.Of), l.N)
	case diffing.Distance:
		return t.length(float64(l))
	case diffing.RingSize:
		return t.Value("butt-ring-size", "m", float64(l))
	case diffing.Taper:
		if l.Back == l.Front {
			return t.length(l.Back)
		}
		return t.Say("looks.taper", "back", t.length(l.Back), "front", t.length(l.Front))
	case diffing.Joint:
		return t.Say("looks." + string(l))
	case diffing.Bare:
		return t.Say("looks." + string(l))
	case diffing.Solid:
		return t.Say("looks.solid", "material", string(l))
	case diffing.Name:
		return string(l)
	}
	panic("say: no words for what is seen")
}

func (t Teller) length(m float64) string { return t.Value("", "m", m) }

// FromTo says what a sight was and what it is.
func (t Teller) FromTo(s diffing.Sight) string { return t.Looks(s.Old) + " → " + t.Looks(s.New) }

// By says by how much a sight changed, with its sign; "" for what is not measured.
func (t Teller) By(s diffing.Sight) string {
	switch {
	case s.Unit == "m":
		return t.Change("", "m", s.Size, float64(s.New[0].(diffing.Distance)))
	case s.Aspect == diffing.ButtRingSize:
		return sign(s.Size) + t.Count("looks.size", int(math.Abs(s.Size)))
	case s.Unit == "1":
		return sign(s.Size) + strconv.Itoa(int(math.Abs(s.Size)))
	}
	return ""
}

func sign(v float64) string {
	if v < 0 {
		return "−"
	}
	return "+"
}

// Limit says how much of a sight one release allows; "" where there is no limit.
func (t Teller) Limit(s diffing.Sight) string {
	switch {
	case math.IsInf(s.Limit, 1):
		return ""
	case s.Unit == "m":
		return t.length(s.Limit)
	case s.Aspect == diffing.ButtRingSize:
		return t.Count("looks.size", int(s.Limit))
	case s.Unit == "1":
		return t.look(diffing.Number{Of: s.New[0].(diffing.Number).Of, N: int(s.Limit)})
	}
	return t.Say("looks.stays")
}

// Sight says in a sentence what is seen: by how many, by how much, or from what to
// what.
func (t Teller) Sight(s diffing.Sight) string {
	path := "sights." + string(s.Aspect)
	direction := ".up"
	if s.Size < 0 {
		direction = ".down"
	}
	switch {
	case s.Aspect == diffing.HandleShape || s.Aspect == diffing.ReelSeat:
		return t.made(path, s)
	case s.Aspect == diffing.BlankColour || s.Aspect == diffing.WhippingColour:
		return t.coloured(path, s)
	case t.Has(path):
		return t.Say(path, "old", t.Looks(s.Old), "new", t.Looks(s.New))
	case s.Unit == "m":
		by := t.Size("", "m", s.Size, float64(s.New[0].(diffing.Distance)))
		return t.Say(path+direction, "old", t.Looks(s.Old), "new", t.Looks(s.New), "by", by)
	}
	return t.Count(path+direction, int(math.Abs(s.Size)))
}

// coloured says that a colour is another, or that none is named on one side.
func (t Teller) coloured(path string, s diffing.Sight) string {
	how := ".from to"
	if s.Old[0] == diffing.None {
		how = ".new"
	} else if s.New[0] == diffing.None {
		how = ".gone"
	}
	return t.Say(path+how, "old", t.Looks(s.Old), "new", t.Looks(s.New))
}

// made says that something is made of another stuff or of other parts. Those are told by
// what they are, not by what the workshop calls them; what its name does not say is left
// out.
func (t Teller) made(path string, s diffing.Sight) string {
	old, known := t.plain(s.Old)
	now, alsoKnown := t.plain(s.New)
	switch {
	case !known || !alsoKnown:
		return t.Say(path + ".other")
	case old == now:
		return t.Say(path+".stuff", "stuff", now)
	}
	return t.Say(path+".from to", "old", old, "new", now)
}

// stuffs are what grips are made of, the more special first.
var stuffs = []string{"rubber", "cork", "foam", "wood"}

// Stuff is what a grip is made of as its name has it; "" where that does not say. Nothing
// else in a spec does: of what a grip is turned from it has the density, and those of cork
// and foam overlap (common practice, no source). A name that says nothing is no harm: such
// a grip is drawn in a neutral colour, and told of without naming its material.
func Stuff(name string) string {
	i := slices.IndexFunc(stuffs, func(of string) bool { return strings.Contains(strings.ToLower(name), of) })
	if i < 0 {
		return ""
	}
	return stuffs[i]
}

// plain is what is seen without the workshop's names; false where it is nothing else.
func (t Teller) plain(looks []diffing.Look) (string, bool) {
	var said []string
	for _, l := range looks {
		name, ok := l.(diffing.Name)
		if !ok {
			said = append(said, t.look(l))
			continue
		}
		of := Stuff(string(name))
		if of == "" {
			return "", false
		}
		said = append(said, t.Say("stuffs."+of))
	}
	return strings.Join(said, ", "), true
}
