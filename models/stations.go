package models

import (
	"slices"

	"rodlore/models/units"
)

// Station is what is given of a section at one distance from its thin end; what its
// kind does not give is unset. Between stations all of it varies linearly.
type Station struct {
	At      Given[units.Length]
	Outside Given[units.Length] // diameter; of a hexagon from flat to flat
	Wall    Given[units.Length]
	Hollow  Given[units.Length] // of a hexagon, from flat to flat; unset means solid
	Mandrel Given[units.Length] // diameter
	EI      Given[units.Rigidity]
	Mass    Given[units.LineDensity]
}

// sectionKind is a way to make a section.
type sectionKind struct {
	path    Path   // to its stations
	outside string // their key of the outside; "" where they have none
	beyond  bool   // they may run beyond the section, as a mandrel may
	needs   string // what is said where the section names no material; "" where it names none itself

	given    func(*Section) bool
	stations func(*Section) []Station
	along    func(st *Stations, s Station)
	check    func(v value, s *Section) // of more than the stations; may be nil
}

// sectionKinds are all of them. A new one is an entry here, a key of sectionTable and
// its cross-section in evaluate.
var sectionKinds = []sectionKind{
	{
		path: Path{{Key: "tube"}}, outside: "outside", needs: "a tube needs one",
		given:    func(s *Section) bool { return s.Tube != nil },
		stations: func(s *Section) []Station { return s.Tube },
		along:    func(st *Stations, s Station) { put(&st.Outside, s.Outside); put(&st.Wall, s.Wall) },
	},
	{
		path: Path{{Key: "hexagon"}}, outside: "flats", needs: "a hexagon needs one, such as cane",
		given:    func(s *Section) bool { return s.Hexagon != nil },
		stations: func(s *Section) []Station { return s.Hexagon },
		along:    func(st *Stations, s Station) { put(&st.Outside, s.Outside); put(&st.Hollow, s.Hollow) },
	},
	{
		// The wall is the whole diameter, which leaves no bore however much thicker
		// the rod comes out.
		path: Path{{Key: "solid"}}, outside: "is", needs: "a solid rod needs one, such as glass",
		given:    func(s *Section) bool { return s.Solid != nil },
		stations: func(s *Section) []Station { return s.Solid },
		along:    func(st *Stations, s Station) { put(&st.Outside, s.Outside); put(&st.Wall, s.Outside) },
	},
	{
		path: Path{{Key: "rolled"}, {Key: "mandrel"}}, beyond: true,
		given:    func(s *Section) bool { return s.Rolled != nil },
		stations: func(s *Section) []Station { return s.Rolled.Mandrel },
		along:    func(st *Stations, s Station) { put(&st.Mandrel, s.Mandrel) },
		check:    checkPlies,
	},
	{
		path: Path{{Key: "bought"}, {Key: "outside"}}, outside: "is",
		given:    func(s *Section) bool { return s.Bought != nil },
		stations: func(s *Section) []Station { return s.Bought.Outside },
		along:    func(st *Stations, s Station) { put(&st.Outside, s.Outside) },
		check:    checkBoughtMass,
	},
	{
		path: Path{{Key: "stiffness"}}, outside: "outside",
		given:    func(s *Section) bool { return s.Stiffness != nil },
		stations: func(s *Section) []Station { return s.Stiffness },
		along: func(st *Stations, s Station) {
			put(&st.EI, s.EI)
			put(&st.Mass, s.Mass)
			put(&st.Outside, s.Outside)
		},
	},
}

// kind is how the section is made, the first of several that are given; nil where none
// is.
func (s *Section) kind() *sectionKind {
	i := slices.IndexFunc(sectionKinds, func(k sectionKind) bool { return k.given(s) })
	if i < 0 {
		return nil
	}
	return &sectionKinds[i]
}

// OfOneMaterial reports whether the section is all of the one that it names.
func (s *Section) OfOneMaterial() bool {
	k := s.kind()
	return k != nil && k.needs != ""
}

// Alike reports whether there can be a section in between two: they have one name, and
// are made in one way with as many stations. Plies must be the same; only the mandrel on
// which they are rolled may differ.
func (s *Section) Alike(other *Section) bool {
	k := s.kind()
	if s.Name.Text != other.Name.Text || k != other.kind() || len(k.stations(s)) != len(k.stations(other)) {
		return false
	}
	return s.Rolled == nil || slices.EqualFunc(s.Rolled.Plies, other.Rolled.Plies, func(a, b Ply) bool {
		return a.Material.Text == b.Material.Text && a.Angle.Value == b.Angle.Value && a.TipWraps == b.TipWraps && a.ButtWraps == b.ButtWraps &&
			a.From.Set() == b.From.Set() && a.To.Set() == b.To.Set()
	})
}

// Stations are what a section says of its cross-section along it, in SI units, by
// place; what its kind does not give is nil.
type Stations struct {
	At            []float64 // from the thin end
	Outside, Wall []float64
	Hollow        []float64
	Mandrel       []float64
	EI, Mass      []float64 // measured
}

// Stations reads those of the section.
func (s *Section) Stations() (st Stations) {
	if k := s.kind(); k != nil {
		for _, at := range k.stations(s) {
			put(&st.At, at.At)
			k.along(&st, at)
		}
	}
	return st
}

func put[U ~float64](list *[]float64, g Given[U]) { *list = append(*list, float64(g.Value)) }

// between interpolates one of the quantities between the two stations around a place; ok
// is false if it is not given.
func (st Stations) between(values []float64, at units.Length) (value float64, ok bool) {
	for i := 1; i < len(values); i++ {
		from, to := st.At[i-1], st.At[i]
		if float64(at) <= to || i == len(values)-1 {
			return values[i-1] + (values[i]-values[i-1])*(float64(at)-from)/(to-from), to > from
		}
	}
	return 0, false
}

// stationTable is the table of stations of one kind.
func stationTable(example string, check func(value, *Station), keys ...key[Station]) table[Station] {
	at := key[Station]{"at", required, quantity(func(s *Station) *Given[units.Length] { return &s.At }, fromZero(longest))}
	return table[Station]{
		example: example, label: "at", keys: append([]key[Station]{at}, keys...), check: check,
		entry: func(s *Station) Segment { return entryAt(s.At.Value) },
	}
}

// outsideAs is the outside under a key.
func outsideAs(name string) key[Station] {
	return key[Station]{name, required, quantity(func(s *Station) *Given[units.Length] { return &s.Outside }, upTo(thickest))}
}

var (
	tubeTable = stationTable("{at: 0 mm, outside: 8.9 mm, wall: 1.05 mm}", checkWall, outsideAs("outside"),
		key[Station]{"wall", required, quantity(func(s *Station) *Given[units.Length] { return &s.Wall }, upTo(thickest))})
	hexagonTable = stationTable("{at: 0 mm, flats: 2.2 mm}", checkHollow, outsideAs("flats"),
		key[Station]{"hollow", optional, quantity(func(s *Station) *Given[units.Length] { return &s.Hollow }, fromZero(thickest))})
	outsideTable = stationTable("{at: 0 mm, is: 8.2 mm}", nil, outsideAs("is"))
	mandrelTable = stationTable("{at: 0 mm, diameter: 1.1 mm}", nil,
		key[Station]{"diameter", required, quantity(func(s *Station) *Given[units.Length] { return &s.Mandrel }, upTo(thickest))})
	stiffnessTable = stationTable("{at: 0 mm, ei: 0.05 N·m2, mass: 9 g/m, outside: 2.0 mm}", nil,
		key[Station]{"ei", required, quantity(func(s *Station) *Given[units.Rigidity] { return &s.EI }, upTo("1000000 N·m2"))},
		key[Station]{"mass", required, quantity(func(s *Station) *Given[units.LineDensity] { return &s.Mass }, upTo("20 kg/m"))},
		outsideAs("outside"))
)

func checkWall(v value, s *Station) {
	if s.Outside.Set() && s.Wall.Set() && s.Wall.Value > s.Outside.Value/2 {
		v.at(s.Wall.Pos, "wall", "%q is thicker than half the outside of %q; a wall of half the outside is solid",
			s.Wall.Text, s.Outside.Text)
	}
}

func checkHollow(v value, s *Station) {
	if s.Outside.Set() && s.Hollow.Value >= s.Outside.Value {
		v.at(s.Hollow.Pos, "hollow", "%q leaves nothing of flats of %q", s.Hollow.Text, s.Outside.Text)
	}
}
