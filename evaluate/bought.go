package evaluate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/optim"
	"rodlore/models"
	"rodlore/models/units"
)

// A bought blank shows its outside and its mass, and how it bends; what it is
// inside is found from that. Wall and modulus of each section are parameters of a
// fit (FitRod) to what was measured of the bare blank, held back by what blanks of
// its family are like. What the readings leave open stays a tolerance: one of the
// blank, the same in all rods built on it, besides those by which one blank
// differs from the next.

// hidden is what does not show of a bought section, mostly the logarithm of its
// ratio to what is usual.
type hidden [hiddenNumbers]float64

const (
	wallScale = iota // of the wall, all along, where the section was not weighed
	massRatio        // otherwise that of the mass to what the balance said
	wallTaper        // of the wall at the thick end over that at the thin one
	modulusRatio
	densityRatio
	outsideBeyond // m, more than the calliper said: no logarithm
	hiddenNumbers
)

func (h *hidden) add(o hidden, times float64) {
	for i, v := range o {
		h[i] += times * v
	}
}

// What is known beforehand of walls: standard deviations of logarithms (common
// practice, no source). usualWall has their medians.
const (
	scaleDeviation = 0.5
	taperDeviation = 0.35
	// calliperDeviation is how well a diameter is measured, m.
	calliperDeviation = 0.03e-3
	// labelDeviation is how far two makers' test curves of one blank are apart.
	labelDeviation = 0.15
)

// hiddenPerSection is how many numbers hidden has.
const hiddenPerSection = 5

// usualWall is the wall, m, that blanks of a family have at a diameter (common
// practice, no source).
func usualWall(f models.Family, outside float64) float64 {
	wall := 0.35e-3 + 0.05*outside
	if f == models.GlassFamily {
		wall = 0.45e-3 + 0.09*outside
	}
	return wall
}

// hollowest is the largest wall, as a share of the outside: a bore of a tenth of
// it is left.
const hollowest = 0.45

// boughtProfile is a bought section of which that is hidden. One of split cane is a
// solid hexagon over what was measured across its flats, and as heavy as it was weighed.
func boughtProfile(s models.Section, thin float64, h hidden, came sectionBuild) ([]float64, profile) {
	family, st := s.Bought.Material.Stuff(), boughtStations(s, h)
	of := stuff{
		modulus: family.Modulus * math.Exp(h[modulusRatio]) * (1 + came.modulus[0]),
		density: family.Density * math.Exp(h[densityRatio]) * (1 + came.density[0]),
		allow:   family.Compression,
	}
	of.hoop = usualHoop * of.modulus * math.Exp(came.hoop)
	solid := s.Bought.Material == models.CaneFamily
	if solid && s.Bought.Mass.Set() {
		of.density = float64(s.Bought.Mass.Value) * math.Exp(h[massRatio]) / caneVolume(st) * (1 + came.density[0])
	}
	for i, at := range st.At {
		st.At[i] = thin - at
	}
	if solid {
		return hexagonProfile(st, of, came)
	}
	return tubeProfile(st, of, came)
}

// boughtStations are the measured diameters and, where they are far apart, some in
// between, so that a wall that is no straight line is followed.
func boughtStations(s models.Section, h hidden) (st models.Stations) {
	const stretches = 3 // that a section has at least
	var usual []float64 // walls
	add := func(at, outside float64) {
		st.At, st.Outside = append(st.At, at), append(st.Outside, outside+h[outsideBeyond])
		usual = append(usual, usualWall(s.Bought.Material, outside))
	}
	measured := s.Stations()
	add(measured.At[0], measured.Outside[0])
	for i := 1; i < len(measured.At); i++ {
		at, outside := measured.At[i-1], measured.Outside[i-1]
		longer, thicker := measured.At[i]-at, measured.Outside[i]-outside
		n := math.Ceil(longer / float64(s.Length.Value) * stretches)
		for k := 1.0; k <= n; k++ {
			add(at+k/n*longer, outside+k/n*thicker)
		}
	}
	st.Hollow, st.Wall = make([]float64, len(st.At)), make([]float64, len(st.At))
	if s.Bought.Material != models.CaneFamily {
		fillWall(s, st, usual, h)
	}
	return st
}

// fillWall fills in the wall, of the usual taper but for what is hidden of it. Where
// the section was weighed, it is of the scale that makes up its mass.
func fillWall(s models.Section, st models.Stations, usual []float64, h hidden) {
	fill := func(scale float64) {
		for i, at := range st.At {
			along := at/float64(s.Length.Value) - 0.5
			st.Wall[i] = min(usual[i]*math.Exp(scale+h[wallTaper]*along), hollowest*st.Outside[i])
		}
	}
	scale := h[wallScale]
	if s.Bought.Mass.Set() {
		density := s.Bought.Material.Stuff().Density * math.Exp(h[densityRatio])
		volume := float64(s.Bought.Mass.Value) * math.Exp(h[massRatio]) / density
		// The volume grows with the scale; where none makes it, the nearest does.
		low, high := bisected(-3, 3, 1e-14, func(scale float64) bool {
			fill(scale)
			return tubeVolume(st) < volume
		})
		scale = (low + high) / 2
	}
	fill(scale)
}

// tubeVolume is π∫(D−w)w ds, by Simpson's rule between stations, which is exact for
// an outside and a wall that are linear there.
func tubeVolume(st models.Stations) (volume float64) {
	area := func(outside, wall float64) float64 { return math.Pi * (outside - wall) * wall }
	for i := 1; i < len(st.At); i++ {
		oa, ob, wa, wb := st.Outside[i-1], st.Outside[i], st.Wall[i-1], st.Wall[i]
		volume += (st.At[i] - st.At[i-1]) / 6 * (area(oa, wa) + 4*area((oa+ob)/2, (wa+wb)/2) + area(ob, wb))
	}
	return volume
}

// caneVolume is ∫√3/2·f² ds, by Simpson's rule, which is exact between stations.
func caneVolume(st models.Stations) (volume float64) {
	for i := 1; i < len(st.At); i++ {
		a, b := st.Outside[i-1], st.Outside[i]
		volume += (st.At[i] - st.At[i-1]) * math.Sqrt(3) / 2 * (a*a + a*b + b*b) / 3
	}
	return volume
}

// boughtBlank is what was found of the bought sections of a blank.
type boughtBlank struct {
	id      string
	found   []hidden    // most probable, by section of the spec
	free    []Parameter // what was looked for
	unknown [][]hidden  // what is left open: independent parts of one deviation each, one for each of free, by section
	fitting *fitting    // nil where nothing was read
	at      *optim.Minimum
}

// of is what is hidden of section i of a rod on which the parts that are not known
// came out so.
func (b *boughtBlank) of(i int, known []float64) hidden {
	h := b.found[i]
	for k, part := range b.unknown {
		if known[k] != 0 {
			h.add(part[i], known[k])
		}
	}
	return h
}

// boughtBlanks remembers the blanks that were looked at last: what a blank is
// takes longer to find than the figures of a rod on it.
var boughtBlanks = struct {
	sync.Mutex
	known map[string]*boughtBlank
}{known: map[string]*boughtBlank{}}

const mostBlanks = 64

// boughtOf finds the blank of a spec, once; nil where no section is bought.
func boughtOf(s *models.Spec, set *models.Settings) (*boughtBlank, error) {
	if !s.OfBought() {
		return nil, nil
	}
	id := boughtID(s, set)
	boughtBlanks.Lock()
	b := boughtBlanks.known[id]
	boughtBlanks.Unlock()
	if b != nil {
		return b, nil
	}
	b, err := findBought(s, set, id)
	if err != nil {
		return nil, err
	}
	boughtBlanks.Lock()
	defer boughtBlanks.Unlock()
	if len(boughtBlanks.known) >= mostBlanks {
		clear(boughtBlanks.known)
	}
	boughtBlanks.known[id] = b
	return b, nil
}

// boughtID tells bought blanks apart: by all that is said of the blank, and by the
// convention that a test curve read off it goes by.
func boughtID(s *models.Spec, set *models.Settings) string {
	return said(s, "sections", "blank", "joints") + fmt.Sprint(set.TestCurve.Pull.Value, set.TestCurve.Turn.Value)
}

// said is what a spec says under those keys, without prices.
func said(s *models.Spec, keys ...string) string {
	var all strings.Builder
	for f := range s.Fields() {
		if slices.Contains(keys, f.Path[0].Key) && !f.IsPrice() {
			fmt.Fprintf(&all, "%s=%s\n", f.Path, f.CanonicalValue())
		}
	}
	return all.String()
}

// BareBlank is the bought blank of a spec as it was measured.
func BareBlank(s *models.Spec) *models.Spec {
	blank := s.Bared()
	blank.Fitted = nil
	blank.Held = models.Given[units.Length]{Value: units.Length(s.Blank.HeldTo(s.TotalLength())), Text: "the hold"}
	return blank
}

// findBought finds what is hidden of a blank.
func findBought(s *models.Spec, set *models.Settings, id string) (*boughtBlank, error) {
	b := &boughtBlank{id: id, found: make([]hidden, len(s.Sections))}
	blank := BareBlank(s)
	hangs := *set // a bare blank has no rings for a line to run through
	hangs.TestCurve.Line = ""
	set = &hangs
	readings, err := boughtReadings(blank, set)
	if err != nil {
		return nil, err
	}
	free := hiddenParameters(blank)
	covariance := mat.NewSymDense(len(free), nil)
	for k := range free {
		covariance.SetSym(k, k, 1)
	}
	x := make([]float64, len(free))
	if len(readings) > 0 {
		f := &fitting{bench: bench{spec: blank, set: set, readings: readings}, parameters: free, raw: true}
		f.others = eyeOnly(blank, set)
		if b.at, err = f.solve(context.Background()); err != nil {
			return nil, fmt.Errorf("what is said of the blank goes with no wall and modulus that was found: %w", err)
		}
		if covariance, err = b.at.Covariance(); err != nil {
			return nil, err
		}
		b.fitting, x = f, b.at.X
	}
	for k, u := range free {
		b.found[u.section][u.number] = x[k] * u.Before
	}
	b.free = free
	return b, b.leaveOpen(covariance)
}

// eyeOnly is what a test curve of a bare blank is off by besides. Its own walls and
// modulus are what is looked for.
func eyeOnly(s *models.Spec, set *models.Settings) []perturbation {
	l := inputList{spec: s, dev: deviationsOf(s, set), seen: map[string]int{}}
	l.settings()
	return slices.DeleteFunc(l.inputs, func(in perturbation) bool { return in.ID.Kind != TurnInput })
}

// leaveOpen keeps what is not known, in independent parts: the columns of the
// symmetric root of the covariance. Of all its roots that one follows it without a
// jump, so that part k of two blanks that are known alike is nearly the same, and one
// that is cut or read anew may share its errors with what it was.
func (b *boughtBlank) leaveOpen(covariance *mat.SymDense) error {
	axes, deviations, err := axesOf(covariance)
	if err != nil {
		return err
	}
	var root mat.Dense
	root.Mul(axes, mat.NewDiagDense(len(deviations), deviations))
	root.Mul(&root, axes.T())
	for k := range b.free {
		part := make([]hidden, len(b.found))
		for i, u := range b.free {
			part[u.section][u.number] = root.At(i, k) * u.Before
		}
		b.unknown = append(b.unknown, part)
	}
	return nil
}

// axesOf are the principal axes of a covariance, and the standard deviation along
// each, ascending.
func axesOf(covariance *mat.SymDense) (axes *mat.Dense, deviations []float64, err error) {
	var eigen mat.EigenSym
	if !eigen.Factorize(covariance, true) {
		return nil, nil, fmt.Errorf("what is not known of the blank cannot be taken apart")
	}
	axes = new(mat.Dense)
	eigen.VectorsTo(axes)
	for _, value := range eigen.Values(nil) {
		deviations = append(deviations, math.Sqrt(max(value, 0)))
	}
	return axes, deviations, nil
}

// wallOrMass is what says how much material there is: the mass of a section that
// was weighed, since then everything else may be off while that is not.
func wallOrMass(s models.Section) Parameter {
	if mass := float64(s.Bought.Mass.Value); mass > 0 {
		deviation, _ := models.UsualDeviation(models.WeightMeasure, mass)
		return Parameter{Free: FreeMass, Unit: "1", Before: deviation / mass, number: massRatio}
	}
	return Parameter{Free: FreeWall, Unit: "1", Before: scaleDeviation, number: wallScale}
}

// hiddenOf are the numbers that are hidden of a section. Cane is solid, so it has
// no wall, and where it was weighed its density follows.
func hiddenOf(s models.Section) []Parameter {
	of := s.Bought.Material.Stuff()
	modulus := Parameter{Free: FreeModulus, Unit: "1", Before: of.ModulusSpread, number: modulusRatio}
	density := Parameter{Free: FreeDensity, Unit: "1", Before: of.DensitySpread, number: densityRatio}
	outside := Parameter{Free: FreeOutside, Unit: "m", Before: calliperDeviation, number: outsideBeyond}
	taper := Parameter{Free: FreeWallTaper, Unit: "1", Before: taperDeviation, number: wallTaper}
	switch {
	case s.Bought.Material != models.CaneFamily:
		return []Parameter{modulus, wallOrMass(s), taper, density, outside}
	case s.Bought.Mass.Set():
		return []Parameter{modulus, wallOrMass(s), outside}
	}
	return []Parameter{modulus, density, outside}
}

// hiddenParameters are what does not show of the bought sections, with what is known
// beforehand.
func hiddenParameters(s *models.Spec) (list []Parameter) {
	for i, section := range s.Sections {
		if section.Bought == nil {
			continue
		}
		for _, u := range hiddenOf(section) {
			u.Section, u.section = section.Name.Text, i
			u.set = func(b *build, e float64) { b.sections[i].hidden[u.number] = e }
			list = append(list, u)
		}
	}
	return list
}

func allWeighed(s *models.Spec) bool {
	return !slices.ContainsFunc(s.Sections, func(s models.Section) bool { return s.Bought == nil || !s.Bought.Mass.Set() })
}

// boughtReadings are all that was read of a bare blank: what was measured, what it
// weighs as a whole where its sections were not weighed, and what the label says.
func boughtReadings(blank *models.Spec, set *models.Settings) ([]Reading, error) {
	list, err := Readings(&models.Bench{Measured: blank.Blank.Measured}, blank, set)
	if err != nil {
		return nil, err
	}
	if mass := blank.Blank.Mass; mass.Set() && !allWeighed(blank) { // otherwise it is the sum of them, and checked to be
		deviation, unit := models.UsualDeviation(models.WeightMeasure, float64(mass.Value))
		list = append(list, Reading{What: models.WeightMeasure, Value: float64(mass.Value), Deviation: deviation, Unit: unit})
	}
	if label := blank.Blank.LabelTestCurve; label.Set() {
		value := float64(label.Value)
		list = append(list, Reading{What: models.TestCurveMeasure, Value: value, Deviation: labelDeviation * value, Unit: "N", label: true})
	}
	return list, nil
}

// BoughtSection is what was found of a bought section, with standard deviations.
type BoughtSection struct {
	Name               string
	Modulus, ModulusBy float64 // Pa, and a share of it
	Thin, Thick        float64 // wall at either end, m; 0 of cane, which is solid
	ThinBy, ThickBy    float64 // shares of them
}

// Blank is what was found of a bought blank.
type Blank struct {
	Sections []BoughtSection // the bought ones, butt first
	// Fit is how that goes with what was read of the bare blank; nil where
	// nothing was.
	Fit *Fit
}

// BoughtBlank tells what was found of the bought blank of a spec, and what
// measurement of the bare blank would make its third load more certain; nil where
// no section is bought.
func BoughtBlank(s *models.Spec, set *models.Settings) (*Blank, error) {
	b, err := boughtOf(s, set)
	if err != nil || b == nil {
		return nil, err
	}
	blank := &Blank{}
	for i, section := range s.Sections {
		if section.Bought != nil {
			blank.Sections = append(blank.Sections, b.section(i, section))
		}
	}
	if b.fitting == nil {
		return blank, nil
	}
	blank.Fit, err = b.fitting.result(b.at, "third-load")
	return blank, err
}

// section tells what was found of section i. The wall at either end is known as
// far as the parts that are not known move it, each by itself.
func (b *boughtBlank) section(i int, s models.Section) BoughtSection {
	ends := func(h hidden) (thin, thick float64) {
		wall := boughtStations(s, h).Wall
		return wall[0], wall[len(wall)-1]
	}
	h := b.found[i]
	out := BoughtSection{Name: s.Name.Text, Modulus: s.Bought.Material.Stuff().Modulus * math.Exp(h[modulusRatio])}
	out.Thin, out.Thick = ends(h)
	for _, part := range b.unknown {
		out.ModulusBy = math.Hypot(out.ModulusBy, part[i][modulusRatio])
		if out.Thin > 0 {
			off := h
			off.add(part[i], 1)
			thin, thick := ends(off)
			out.ThinBy = math.Hypot(out.ThinBy, thin/out.Thin-1)
			out.ThickBy = math.Hypot(out.ThickBy, thick/out.Thick-1)
		}
	}
	return out
}
