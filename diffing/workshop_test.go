package diffing_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// files are a range's, by path.
type files map[string][]byte

// revision is a model as one saved state of the demo has it.
type revision struct {
	name, day string
	files     files // the shared ones and models/NAME.yaml
	spec      *models.Spec
}

// step is a way from one revision to another.
type step struct{ old, new revision }

func (s step) name() string {
	return fmt.Sprintf("%s@%s to %s@%s", s.old.name, s.old.day, s.new.name, s.new.day)
}

// revisions gives the revisions of the demo's models by model, oldest first, all
// under the range.yaml of the last state, as rodlore compares them.
func revisions(t testing.TB) map[string][]revision {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	all, list := files{}, map[string][]revision{}
	for _, state := range states {
		maps.Copy(all, state.Files)
	}
	settings := all["range.yaml"]
	clear(all)
	for _, state := range states {
		maps.Copy(all, state.Files)
		for file, src := range all {
			name, isModel := strings.CutPrefix(strings.TrimSuffix(file, ".yaml"), "models/")
			if !isModel || src == nil {
				continue
			}
			r := revision{name: name, day: state.When.Format("2006-01-02"), files: files{
				"range.yaml": settings, "parts.yaml": all["parts.yaml"], "materials.yaml": all["materials.yaml"], "model": src,
			}}
			if r.spec, _, err = r.files.read(); err != nil {
				continue // a state with a fault
			}
			if had := list[name]; len(had) == 0 || had[len(had)-1].spec.ID() != r.spec.ID() {
				list[name] = append(had, r)
			}
		}
	}
	return list
}

// steps are those between neighbouring revisions of a model.
func steps(all map[string][]revision) []step {
	var list []step
	for _, name := range slices.Sorted(maps.Keys(all)) {
		for i, r := range all[name][1:] {
			list = append(list, step{all[name][i], r})
		}
	}
	return list
}

// leaps are n ways between any two revisions, of one model as often as not.
func leaps(all map[string][]revision, n int) []step {
	random := rand.New(rand.NewPCG(15, 16))
	names := slices.Sorted(maps.Keys(all))
	some := func(name string) revision { return all[name][random.IntN(len(all[name]))] }
	var list []step
	for len(list) < n {
		a, b := names[random.IntN(len(names))], names[random.IntN(len(names))]
		if len(list)%2 == 0 {
			b = a
		}
		if s := (step{some(a), some(b)}); s.old.spec.ID() != s.new.spec.ID() {
			list = append(list, s)
		}
	}
	return list
}

// read reads the files as rodlore does.
func (f files) read() (*models.Spec, *models.Settings, error) {
	set, err := models.ParseSettings("range.yaml", f["range.yaml"])
	if err != nil {
		return nil, nil, err
	}
	parts, err := models.ParseParts("parts.yaml", f["parts.yaml"])
	if err != nil {
		return nil, nil, err
	}
	materials, err := models.ParseMaterials("materials.yaml", f["materials.yaml"])
	if err != nil {
		return nil, nil, err
	}
	m, err := models.ParseModel("models/x.yaml", f["model"])
	if err != nil {
		return nil, nil, err
	}
	spec, err := models.Resolve(m, parts, materials)
	return spec, set, err
}

// workshop builds rods to a spec by writing what each came out as into the files
// and having these read and worked out as any others. It knows what README.md
// says of tolerances, and nothing of how they are propagated.
//
// Of what two rods share, draw gives one number; the name says what that is.
type workshop struct {
	plan map[string]*yaml.Node     // the files as they are
	draw func(name string) float64 // standard normal

	parts, materials, model, settings *yaml.Node
	seen                              map[string]int
	blanks                            map[string]string // what tells the blanks of sections apart, by the sections' names
}

// newWorkshop reads the files, of parts.yaml no more than the model names.
func newWorkshop(f files) (*workshop, error) {
	w := &workshop{plan: map[string]*yaml.Node{}, blanks: map[string]string{}}
	for file, src := range f {
		var doc yaml.Node
		if err := yaml.Unmarshal(src, &doc); err != nil {
			return nil, err
		}
		w.plan[file] = doc.Content[0]
	}
	// Another top would have to fit the butt as it comes out.
	model := w.plan["model"]
	for i := 0; i < len(model.Content); i += 2 {
		if model.Content[i].Value == "tops" {
			model.Content = slices.Delete(model.Content, i, i+2)
		}
	}
	named := text(model) + " "
	kinds := w.plan["parts.yaml"].Content
	for i := 1; i < len(kinds); i += 2 {
		var kept []*yaml.Node
		for j := 0; j < len(kinds[i].Content); j += 2 {
			if part := kinds[i].Content[j]; strings.Contains(named, " "+part.Value+" ") {
				kept = append(kept, part, kinds[i].Content[j+1])
			}
		}
		kinds[i].Content = kept
	}
	return w, nil
}

// build works out one rod.
func (w *workshop) build() (*evaluate.Figures, error) {
	w.seen = map[string]int{}
	w.parts, w.materials, w.model, w.settings = clone(w.plan["parts.yaml"]), clone(w.plan["materials.yaml"]), clone(w.plan["model"]), clone(w.plan["range.yaml"])
	for _, section := range at(w.model, "sections").Content {
		w.section(section)
	}
	for _, ring := range at(w.model, "rings").Content {
		w.ring(ring)
	}
	for _, joint := range at(w.model, "joints").Content {
		w.joint(joint)
	}
	handle := at(w.model, "handle")
	for _, key := range []string{"seat", "butt cap"} {
		if part := at(handle, key, "part"); part != nil {
			w.weigh(part)
		}
	}
	for _, grip := range at(handle, "grips").Content {
		w.grip(grip)
	}
	w.habits()
	written := files{}
	for file, node := range map[string]*yaml.Node{"parts.yaml": w.parts, "materials.yaml": w.materials, "model": w.model, "range.yaml": w.settings} {
		src, err := yaml.Marshal(node)
		if err != nil {
			return nil, err
		}
		written[file] = src
	}
	spec, set, err := written.read()
	if err != nil {
		return nil, err
	}
	// An eye may take a turn for square that no range.yaml may.
	set.TestCurve.Turn.Value += units.Angle(w.draw("eye") * units.Size("deg"))
	return evaluate.New(spec, set).Figures()
}

// tolerance is one standard deviation as range.yaml gives it.
func (w *workshop) tolerance(key string) float64 { return number(at(w.settings, "tolerances", key)) }

// section builds one blank: outside and wall off all along, modulus and density
// of its material off in it alone.
func (w *workshop) section(section *yaml.Node) {
	material := at(section, "material")
	made := at(w.materials, material.Value)
	blank := w.blanks[at(section, "name").Value]
	outside, wall := w.tolerance("outside")*w.draw("outside of "+blank), w.tolerance("wall")*w.draw("wall of "+blank)
	for _, station := range at(section, "tube").Content {
		add(at(station, "outside"), outside, "mm")
		add(at(station, "wall"), min(wall, number(at(station, "outside"))/2-number(at(station, "wall"))), "mm") // solid at most
	}
	own := another(w.materials, material, at(section, "name").Value)
	scale(at(own, "modulus"), 1+w.tolerance("modulus")/100*w.draw("modulus of "+blank))
	scale(at(own, "density"), 1+w.tolerance("density")/100*w.draw("density of "+blank))
	// Where it is not given, a twentieth of the modulus as the plan has it, and as
	// far off as three in ten.
	hoop := number(at(made, "modulus")) / 20 * math.Exp(0.3*w.draw("hoop modulus of "+blank))
	set(own, "hoop modulus", fmt.Sprintf("%.12g %s", hoop, unit(at(made, "modulus"))))
}

// joint whips one joint, an overlap, as long as the file says or else two diameters
// of the socket as it came out. It is as much off where both files say the same.
func (w *workshop) joint(joint *yaml.Node) {
	given, upper := at(joint, "whipping"), at(joint, "between").Content[1].Value
	length := 0.0
	if given != nil {
		length = number(given)
	}
	for _, section := range at(w.model, "sections").Content {
		if tube := at(section, "tube"); given == nil && at(section, "name").Value == upper {
			length = 2 * number(at(tube.Content[len(tube.Content)-1], "outside"))
		}
	}
	if length > 0 {
		length += w.tolerance("whipping") * w.draw("whipping of "+text(given)+" at the joint of "+text(at(joint, "between")))
		set(joint, "whipping", fmt.Sprintf("%.9g mm", max(length, 0)))
	}
}

// ring builds one ring: the third of a part from the tip is the third, wherever
// it stands. Place and whipping are the same where it was not moved, and the
// whipping as long.
func (w *workshop) ring(ring *yaml.Node) {
	of, place := at(ring, "part").Value, at(ring, "at")
	part := at(w.parts, "rings", of)
	stands := of + " at " + place.Value
	length := 0.0
	if foot := at(part, "foot"); foot != nil {
		length = number(at(foot, "length")) + 4 // and a margin, where the ring gives no length
	}
	if given := at(ring, "whipping"); given != nil {
		length = number(given)
	}
	if length > 0 {
		length += w.tolerance("whipping") * w.draw(fmt.Sprintf("whipping of %g mm of %s", length, stands))
		set(ring, "whipping", fmt.Sprintf("%.9g mm", max(length, 0)))
	}
	w.weigh(at(ring, "part"))
	if number(place) > 0 {
		add(place, w.tolerance("ring position")*w.draw("place of "+stands), "mm")
	}
}

// weigh puts one bought part of another mass in its place.
func (w *workshop) weigh(named *yaml.Node) {
	for _, kind := range []string{"rings", "seats", "caps", "grips"} {
		part := at(w.parts, kind, named.Value)
		if part == nil {
			continue
		}
		which := w.next(named.Value + " of " + text(at(part, "mass")))
		own := another(at(w.parts, kind), named, fmt.Sprint("no. ", len(w.seen), which))
		scale(at(own, "mass"), 1+w.tolerance("part mass")/100*w.draw("mass of "+which))
	}
}

// next numbers the things of one name.
func (w *workshop) next(name string) string {
	w.seen[name]++
	return fmt.Sprintf("%s, no. %d", name, w.seen[name])
}

func (w *workshop) grip(grip *yaml.Node) {
	if at(grip, "part") != nil {
		w.weigh(at(grip, "part"))
		return
	}
	material := at(grip, "material")
	which := w.next(material.Value + " of " + text(at(w.materials, material.Value, "density")))
	own := another(w.materials, material, "of "+which)
	scale(at(own, "density"), 1+w.tolerance("grip density")/100*w.draw("density of "+which))
}

// habits puts off what is the same for all rods: the feet by ten points of
// bonding, the damping by a factor of about a third.
func (w *workshop) habits() {
	bonding := at(w.settings, "foot bonding")
	bonding.Value = fmt.Sprintf("%.9g %%", min(max(number(bonding)+10*w.draw("bonding"), 0), 100))
	scale(at(w.settings, "damping"), math.Exp(0.3*w.draw("damping")))
}

// at is the value under a path of keys; nil where there is none.
func at(node *yaml.Node, keys ...string) *yaml.Node {
	for _, key := range keys {
		var found *yaml.Node
		for i := 0; node != nil && i+1 < len(node.Content); i += 2 {
			if node.Content[i].Value == key {
				found = node.Content[i+1]
			}
		}
		node = found
	}
	return node
}

// set puts a value under a key, anew or in place of another.
func set(node *yaml.Node, key, value string) {
	if had := at(node, key); had != nil {
		had.Value = value
		return
	}
	node.Content = append(node.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: key}, &yaml.Node{Kind: yaml.ScalarNode, Value: value})
}

// another copies the entry that a name stands for under a name of its own, and
// names that.
func another(table, named *yaml.Node, mark string) *yaml.Node {
	own := clone(at(table, named.Value))
	named.Value = fmt.Sprintf("%s (%s)", named.Value, mark)
	table.Content = append(table.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: named.Value}, own)
	return own
}

func clone(node *yaml.Node) *yaml.Node {
	own := *node
	own.Content = make([]*yaml.Node, len(node.Content))
	for i, child := range node.Content {
		own.Content[i] = clone(child)
	}
	return &own
}

// text is all that is written under a node.
func text(node *yaml.Node) string {
	if node == nil {
		return ""
	}
	all := node.Value
	for _, child := range node.Content {
		all += " " + text(child)
	}
	return all
}

// number is a quantity without its unit.
func number(node *yaml.Node) float64 {
	var v float64
	if _, err := fmt.Sscan(node.Value, &v); err != nil {
		panic(fmt.Sprintf("%q: %v", node.Value, err))
	}
	return v
}

// unit is what stands behind a quantity's number.
func unit(node *yaml.Node) string { return strings.TrimLeft(node.Value, "-+.0123456789 ") }

func scale(node *yaml.Node, by float64) {
	node.Value = fmt.Sprintf("%.12g %s", number(node)*by, unit(node))
}

// add adds to a quantity that must be in that unit.
func add(node *yaml.Node, by float64, in string) {
	if unit(node) != in {
		panic(fmt.Sprintf("%q is not in %s", node.Value, in))
	}
	node.Value = fmt.Sprintf("%.12g %s", number(node)+by, in)
}

// workshops are those for either side of a step.
func (s step) workshops() (sides [2]*workshop, err error) {
	for i, r := range []revision{s.old, s.new} {
		if sides[i], err = newWorkshop(r.files); err != nil {
			return sides, err
		}
		for _, section := range at(sides[i].plan["model"], "sections").Content {
			sides[i].blanks[at(section, "name").Value] = fmt.Sprint("blank ", i, text(section))
		}
	}
	for _, now := range at(sides[1].plan["model"], "sections").Content {
		for _, old := range at(sides[0].plan["model"], "sections").Content {
			if name := at(now, "name").Value; at(old, "name").Value == name && oneBlank(sides, old, now) {
				sides[1].blanks[name] = sides[0].blanks[name]
			}
		}
	}
	return sides, nil
}

// oneBlank reports whether sections of two plans are of one blank: of the same
// material, and as thick at as many stations as far as makers write that down. Those
// of the demo that stand elsewhere then are of blanks that were cut for a joint.
func oneBlank(sides [2]*workshop, a, b *yaml.Node) bool {
	var made [2]string
	for i, section := range []*yaml.Node{a, b} {
		made[i] = text(at(sides[i].plan["materials.yaml"], at(section, "material").Value))
	}
	stationsOf := func(section *yaml.Node) []*yaml.Node { return at(section, "tube").Content }
	if made[0] != made[1] || at(a, "material").Value != at(b, "material").Value || len(stationsOf(a)) != len(stationsOf(b)) {
		return false
	}
	for i, station := range stationsOf(a) {
		other, rounding := stationsOf(b)[i], 0.0
		if text(at(station, "at")) != text(at(other, "at")) {
			rounding = 0.051 // mm
		}
		if math.Abs(number(at(station, "outside"))-number(at(other, "outside"))) > rounding || text(at(station, "wall")) != text(at(other, "wall")) {
			return false
		}
	}
	return true
}

// pair builds a rod in either workshop, of what both share the same, and gives the
// figures' changes.
func pair(sides [2]*workshop, seed uint64) (map[string]float64, error) {
	drawn, random := map[string]float64{}, rand.New(rand.NewPCG(seed, 17))
	draw := func(name string) float64 {
		v, ok := drawn[name]
		if !ok {
			v = random.NormFloat64()
			drawn[name] = v
		}
		return v
	}
	var built [2]*evaluate.Figures
	for i, w := range sides {
		own := *w
		own.draw = draw
		var err error
		if built[i], err = own.build(); err != nil {
			return nil, err
		}
	}
	old, now := built[0], built[1]
	changes := map[string]float64{}
	for _, f := range now.List {
		if was, ok := old.Get(f.Key); ok {
			changes[f.Key] = f.Value - was.Value
		}
	}
	return changes, nil
}
