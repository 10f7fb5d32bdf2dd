package models

import (
	"slices"

	"rodlore/models/units"
)

// Limits of what a rod may be: wide enough for a pole, narrow enough that a
// slip of a unit shows.
const (
	longest  = "30 m"
	thickest = "300 mm"
	heaviest = "20 kg"

	maxSections = 20
	maxRings    = 60
)

var modelTable = table[Model]{
	example: "keys such as name, reel, length, sections, rings and handle",
	keys: []key[Model]{
		{"name", required, word(func(m *Model) *Word { return &m.Name })},
		{"was", optional, unwalked(word(func(m *Model) *Word { return &m.Was }))},
		{"family", optional, name(func(m *Model) *Word { return &m.Family })},
		{"job", optional, word(func(m *Model) *Word { return &m.Job })},
		{"bare", optional, truth(func(m *Model) *bool { return &m.Bare })}, // before what it spares
		{"reel", required, nested(func(m *Model) *Reel { return &m.Reel }, &reelTable)},
		{"casts", optional, span(func(m *Model) *Range[units.Mass] { return &m.Casts }, upTo("5 kg"))},
		{"line", optional, nested(func(m *Model) *Line { return &m.Line }, &lineTable)},
		{"length", required, quantity(func(m *Model) *Given[units.Length] { return &m.Length }, upTo(longest))},
		{"sections", required, listUpTo(maxSections, func(m *Model) *[]Section { return &m.Sections }, &sectionTable)},
		{"blank", optional, nested(func(m *Model) *BareBlank { return &m.Blank }, &blankTable)},
		{"joints", optional, list(func(m *Model) *[]Joint { return &m.Joints }, &jointTable)},
		{"rings", required, listUpTo(maxRings, func(m *Model) *[]Ring { return &m.Rings }, &ringTable)},
		{"handle", required, nested(func(m *Model) *Handle { return &m.Handle }, &handleTable)},
		{"held", optional, held("{to: 620 mm}", func(m *Model) *Given[units.Length] { return &m.Held })},
		{"finish", optional, nested(func(m *Model) *Finish { return &m.Finish }, &finishTable)},
		{"wants", optional, wanting(func(m *Model) *[]Want { return &m.Wants })},
		{"tolerances", optional, nested(func(m *Model) *Tolerances { return &m.Tolerances }, &toleranceTable)},
		{"fitted", optional, block(func(m *Model) **Fitted { return &m.Fitted }, &fittedTable)},
		{"tops", optional, listUpTo(maxTops, func(m *Model) *[]Top { return &m.Tops }, &topTable)},
	},
	check: func(v value, m *Model) {
		before := len(v.doc.faults)
		if checkModel(v, m); len(v.doc.faults) == before {
			checkTops(v, m)
		}
	},
	spares: func(m *Model, key string) bool {
		return m.Bare && slices.Contains([]string{"reel", "rings", "handle", "finish"}, key)
	},
}

var reelTable = table[Reel]{
	example: "{kind: fixed-spool, mass: 310 g, spool: 45 mm}",
	plain:   reelKind,
	pos:     func(r *Reel) *Pos { return &r.Pos },
	keys: []key[Reel]{
		{"kind", required, reelKind},
		{"mass", optional, quantity(func(r *Reel) *Given[units.Mass] { return &r.Mass }, upTo("5 kg"))},
		{"spool", optional, quantity(func(r *Reel) *Given[units.Length] { return &r.Spool }, upTo(thickest))},
		{"height", optional, quantity(func(r *Reel) *Given[units.Length] { return &r.Height }, upTo(thickest))},
		{"at", optional, position(func(r *Reel) *Given[units.Length] { return &r.At }, fromZero(longest), "butt")},
	},
}

var reelKind = choice(func(r *Reel) *ReelKind { return &r.Kind }, FixedSpool, Multiplier, Centrepin, Fly, NoReel)

var lineTable = table[Line]{
	example: "{diameter: 0.16 mm, breaks: 9 kg}",
	keys: []key[Line]{
		{"class", optional, count(func(l *Line) *int { return &l.Class }, 1, HeaviestClass)},
		{"diameter", optional, quantity(func(l *Line) *Given[units.Length] { return &l.Diameter }, upTo("10 mm"))},
		{"breaks", optional, quantity(func(l *Line) *Given[units.Force] { return &l.Breaks }, upTo("500 kg"))},
	},
}

var sectionTable = table[Section]{
	example: "{name: tip, length: 1565 mm, tube: [...], material: carbon-30t}",
	label:   "name",
	pos:     func(s *Section) *Pos { return &s.Pos },
	entry:   func(s *Section) Segment { return entryNamed(s.Name.Text) },
	keys: []key[Section]{
		{"name", required, name(func(s *Section) *Word { return &s.Name })},
		{"length", required, quantity(func(s *Section) *Given[units.Length] { return &s.Length }, upTo(longest))},
		{"tube", optional, list(func(s *Section) *[]Station { return &s.Tube }, &tubeTable)},
		{"hexagon", optional, list(func(s *Section) *[]Station { return &s.Hexagon }, &hexagonTable)},
		{"solid", optional, list(func(s *Section) *[]Station { return &s.Solid }, &outsideTable)},
		{"material", optional, word(func(s *Section) *Word { return &s.Material })},
		{"rolled", optional, block(func(s *Section) **Rolled { return &s.Rolled }, &rolledTable)},
		{"bought", optional, block(func(s *Section) **Bought { return &s.Bought }, &boughtTable)},
		{"stiffness", optional, list(func(s *Section) *[]Station { return &s.Stiffness }, &stiffnessTable)},
	},
	check: checkSection,
}

var rolledTable = table[Rolled]{
	example: "{mandrel: [...], plies: [...]}",
	pos:     func(r *Rolled) *Pos { return &r.Pos },
	keys: []key[Rolled]{
		{"mandrel", required, list(func(r *Rolled) *[]Station { return &r.Mandrel }, &mandrelTable)},
		{"plies", required, list(func(r *Rolled) *[]Ply { return &r.Plies }, &plyTable)},
	},
}

var plyTable = table[Ply]{
	example: "{material: uni-125, angle: 0, wraps: 3}",
	pos:     func(p *Ply) *Pos { return &p.Pos },
	keys: []key[Ply]{
		{"material", required, word(func(p *Ply) *Word { return &p.Material })},
		{"angle", required, quantity(func(p *Ply) *Given[units.Angle] { return &p.Angle }, between("-90 deg", "90 deg"))},
		{"wraps", required, nested(func(p *Ply) *Ply { return p }, &wrapsTable)},
		{"from", optional, quantity(func(p *Ply) *Given[units.Length] { return &p.From }, fromZero(longest))},
		{"to", optional, quantity(func(p *Ply) *Given[units.Length] { return &p.To }, upTo(longest))},
	},
}

var wrapsTable = table[Ply]{
	example: "{tip: 3, butt: 2.5}",
	plain:   sameWraps(),
	keys: []key[Ply]{
		{"tip", required, number(func(p *Ply) *float64 { return &p.TipWraps }, upTo("100"))},
		{"butt", required, number(func(p *Ply) *float64 { return &p.ButtWraps }, upTo("100"))},
	},
}

var jointTable = table[Joint]{
	example: "{between: [butt, tip], kind: overlap, length: 82 mm}",
	label:   "between",
	pos:     func(j *Joint) *Pos { return &j.Pos },
	entry:   jointSegment,
	keys: []key[Joint]{
		{"between", required, sections()},
		{"kind", required, choice(func(j *Joint) *JointKind { return &j.Kind }, JointKinds...)},
		{"length", required, quantity(func(j *Joint) *Given[units.Length] { return &j.Length }, upTo("2 m"))},
		{"gap", optional, quantity(func(j *Joint) *Given[units.Length] { return &j.Gap }, fromZero("50 mm"))},
		{"outside", optional, quantity(func(j *Joint) *Given[units.Length] { return &j.Outside }, upTo(thickest))},
		{"wall", optional, quantity(func(j *Joint) *Given[units.Length] { return &j.Wall }, upTo(thickest))},
		{"material", optional, word(func(j *Joint) *Word { return &j.Material })},
		{"mass", optional, quantity(func(j *Joint) *Given[units.Mass] { return &j.Mass }, fromZero("1 kg"))},
		{"bonding", optional, quantity(func(j *Joint) *Given[units.Share] { return &j.Bonding }, fromZero("100 %"))},
		{"whipping", optional, quantity(func(j *Joint) *Given[units.Length] { return &j.Whipping }, fromZero("200 mm"))},
	},
	check: checkJoint,
}

var ringTable = table[Ring]{
	example: "{at: 95 mm, part: SL-6}",
	label:   "at",
	pos:     func(r *Ring) *Pos { return &r.Pos },
	entry:   func(r *Ring) Segment { return entryAt(r.At.Value) },
	keys: []key[Ring]{
		{"at", required, position(func(r *Ring) *Given[units.Length] { return &r.At }, fromZero(longest), "tip")},
		{"part", required, word(func(r *Ring) *Word { return &r.Part })},
		{"whipping", optional, quantity(func(r *Ring) *Given[units.Length] { return &r.Whipping }, upTo("200 mm"))},
	},
}

var handleTable = table[Handle]{
	example: "{seat: {at: 560 mm from butt, part: seat-16}, grips: [...]}",
	pos:     func(h *Handle) *Pos { return &h.Pos },
	keys: []key[Handle]{
		{"seat", optional, nested(func(h *Handle) *HandlePart { return &h.Seat }, &seatTable)},
		{"grips", optional, list(func(h *Handle) *[]Grip { return &h.Grips }, &gripTable)},
		{"butt cap", optional, nested(func(h *Handle) *HandlePart { return &h.Cap }, &capTable)},
	},
}

var seatTable = table[HandlePart]{
	example: "{at: 560 mm from butt, part: seat-16}",
	pos:     func(p *HandlePart) *Pos { return &p.Pos },
	keys: []key[HandlePart]{
		{"at", required, position(func(p *HandlePart) *Given[units.Length] { return &p.At }, fromZero(longest), "butt")},
		{"part", required, word(func(p *HandlePart) *Word { return &p.Part })},
	},
}

var capTable = table[HandlePart]{
	example: "{part: cap-24}",
	pos:     func(p *HandlePart) *Pos { return &p.Pos },
	keys: []key[HandlePart]{
		{"part", required, word(func(p *HandlePart) *Word { return &p.Part })},
	},
}

var gripTable = table[Grip]{
	example: "{from: 0 mm, to: 120 mm, diameter: 27 mm, material: cork}",
	label:   "from",
	pos:     func(g *Grip) *Pos { return &g.Pos },
	entry:   func(g *Grip) Segment { return entryAt(g.From.Value) },
	keys: []key[Grip]{
		{"from", required, position(func(g *Grip) *Given[units.Length] { return &g.From }, fromZero(longest), "butt")},
		{"to", required, position(func(g *Grip) *Given[units.Length] { return &g.To }, upTo(longest), "butt")},
		{"diameter", optional, quantity(func(g *Grip) *Given[units.Length] { return &g.Diameter }, upTo(thickest))},
		{"ends", optional, quantity(func(g *Grip) *Given[units.Length] { return &g.Ends }, upTo(thickest))},
		{"material", optional, word(func(g *Grip) *Word { return &g.Material })},
		{"part", optional, word(func(g *Grip) *Word { return &g.Part })},
	},
	check: checkGrip,
}

// held reads how far something is held, from the butt.
func held[T any](example string, get func(*T) *Given[units.Length]) reader[T] {
	return nested(func(t *T) *T { return t }, &table[T]{example: example, keys: []key[T]{
		{"to", required, position(get, upTo(longest), "butt")},
	}})
}

var finishTable = table[Finish]{
	example: "{thread: A, varnish: two coats, colour: moss, trim: copper}",
	pos:     func(f *Finish) *Pos { return &f.Pos },
	keys: []key[Finish]{
		{"thread", optional, word(func(f *Finish) *Word { return &f.Thread })},
		{"varnish", optional, word(func(f *Finish) *Word { return &f.Varnish })},
		{"colour", optional, word(func(f *Finish) *Word { return &f.Colour })},
		{"trim", optional, word(func(f *Finish) *Word { return &f.Trim })},
	},
}

var toleranceTable = table[Tolerances]{
	example: "{wall: 0.04 mm, modulus: 3 %}",
	pos:     func(t *Tolerances) *Pos { return &t.Pos },
	keys: []key[Tolerances]{
		{"outside", optional, quantity(func(t *Tolerances) *Given[units.Length] { return &t.Outside }, fromZero("5 mm"))},
		{"wall", optional, quantity(func(t *Tolerances) *Given[units.Length] { return &t.Wall }, fromZero("5 mm"))},
		{"modulus", optional, quantity(func(t *Tolerances) *Given[units.Share] { return &t.Modulus }, fromZero("50 %"))},
		{"density", optional, quantity(func(t *Tolerances) *Given[units.Share] { return &t.Density }, fromZero("50 %"))},
		{"ring position", optional, quantity(func(t *Tolerances) *Given[units.Length] { return &t.RingPosition }, fromZero("100 mm"))},
		{"part mass", optional, quantity(func(t *Tolerances) *Given[units.Share] { return &t.PartMass }, fromZero("50 %"))},
		{"whipping", optional, quantity(func(t *Tolerances) *Given[units.Length] { return &t.Whipping }, fromZero("50 mm"))},
		{"grip density", optional, quantity(func(t *Tolerances) *Given[units.Share] { return &t.GripDensity }, fromZero("50 %"))},
	},
}
