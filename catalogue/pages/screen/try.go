package screen

import (
	"context"
	"errors"
	"math"
	"slices"
	"strconv"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Trial is a draft that is tried out and not written yet.
type Trial struct {
	Model, File string
	Sum         string            // by which the file is known as it was when the trial began
	Text        string            // of the spec that the values stand in
	Values      []models.Value    // of that text
	Set         map[string]string // what is set instead of them, by path
	Count       string            // of rings to be laid out
	ButtRing    string            // and the place of the butt ring from the butt
	Load, Pull  string            // that bend it: grams hung, and the angle of the pull in degrees
	Rod         *catalogue.Revision
	Other       [2]string // a key that the file lacks, by its path, and what it is set to
	Dragged     bool      // whoever asks will ask again at once
	Failed      error     // why what was asked for was not done
	Theirs      string    // how Text differs from the file, where that was edited elsewhere
}

// The fields of the form of a trial, beside those of values, which go by SetKey and
// their paths.
const (
	SetKey      = "set "
	SumKey      = "sum"
	TextKey     = "text"
	WishKey     = "wish" // what the button asks for
	CountKey    = "count"
	ButtRingKey = "butt-ring-at"
	LoadKey     = "load"
	PullKey     = "pull"
	DraggedKey  = "dragged" // set by a script while something moves

	OtherKey      = "key" // something to be set that the file lacks: its path
	OtherValueKey = "value"

	EvenWish = "even"
	KeepWish = "keep"
	MoreWish = "more" // with a path behind it: one more ring or ply
	LessWish = "less"
)

// Try shows a draft beside the last release, with what can be changed of it.
func (v *Views) Try(ctx context.Context, t *Trial) (*document.Document, error) {
	before := t.Rod.Before.LastRelease()
	if before == nil && t.Rod.Before != nil && t.Rod.Before.Fault() == nil {
		before = t.Rod.Before
	}
	title := v.title(t.Rod)
	d := v.document(v.Say("screen.try.title", "rod", title), "", links(
		v.link("all", address(RangeView)), document.Span{Text: title, Link: address(RodView, RodKey, t.Model)},
		v.link("try.again", address(TryView, RodKey, t.Model))))
	outcome, err := v.outcome(ctx, t, before)
	if err != nil {
		return nil, err
	}
	stage, err := v.stage(t, before)
	if err != nil {
		return nil, err
	}
	d.Blocks = append(d.Blocks, stage,
		document.Beside{Share: 0.36, Left: []document.Block{v.controls(ctx, t)}, Right: []document.Block{document.Region{ID: "outcome", Live: true, Blocks: outcome}}})
	return d, nil
}

// stage is the rod tried out below the one it is held against, with a handle for each
// ring.
func (v *Views) stage(t *Trial, before *catalogue.Revision) (document.Block, error) {
	rods := v.labelled(before, t.Rod)
	if len(rods) == 0 {
		return document.Region{ID: "stage"}, nil
	}
	picture, err := v.pen.Stack(rods)
	if err != nil {
		return nil, err
	}
	s := document.Stage{Picture: picture, Length: math.Round(v.handleUnit(rods[len(rods)-1].TotalLength())), Unit: v.handleUnits()}
	s.From, s.To = v.pen.Standing(rods)
	for _, value := range t.Values {
		if !isRingPlace(value.Path) {
			continue
		}
		at, err := units.ParseAs[units.Length](t.text(value))
		if err != nil || at == 0 { // the tip ring stays where it is
			continue
		}
		s.Handles = append(s.Handles, document.Handle{
			Field: SetKey + value.Path.String(), Label: v.PathWords(value.Path, 0), At: v.handleUnit(float64(at)),
		})
	}
	return s, nil
}

func isRingPlace(p models.Path) bool { return len(p) == 2 && p[0].Key == "rings" && p[1].Key == "at" }

// handleUnits is what handles move in, and handleUnit a length in it.
func (v *Views) handleUnits() string {
	if v.set.Units == "imperial" {
		return "in"
	}
	return "mm"
}

func (v *Views) handleUnit(m float64) float64 {
	if v.set.Units == "imperial" {
		return math.Round(m/25.4e-3*16) / 16
	}
	return math.Round(m * 1e3)
}

// text is what a value is set to.
func (t *Trial) text(value models.Value) string {
	if text, ok := t.Set[value.Path.String()]; ok {
		return text
	}
	return value.Text
}

// controls are what can be changed of the rod.
func (v *Views) controls(ctx context.Context, t *Trial) document.Block {
	form := document.Form{
		Action: address(TryView), ID: "try", Writes: true,
		Hidden: [][2]string{{RodKey, t.Model}, {SumKey, t.Sum}, {TextKey, t.Text}},
		Buttons: []document.Button{
			{Text: v.Say("screen.try.look"), Name: WishKey}, {Text: v.Say("screen.try.keep"), Name: WishKey, Value: KeepWish},
		},
	}
	form.Blocks = append(form.Blocks, document.Fields{Legend: v.Say("screen.try.rings"), List: []document.Field{
		{Name: CountKey, Label: v.Say("screen.try.count"), Value: t.Count, Kind: "number", Attributes: [][2]string{
			{"min", strconv.Itoa(evaluate.FewestRings)}, {"max", strconv.Itoa(evaluate.MostRings)}}},
		{Name: ButtRingKey, Label: v.Say("screen.try.butt ring"), Value: t.ButtRing},
		{Kind: "submit", Name: WishKey, Label: v.Say("screen.try.look")}, // the first is what Enter presses
		{Kind: "submit", Name: WishKey, Value: EvenWish, Label: v.Say("screen.try.even")},
	}}, v.bendFields(ctx, t))
	form.Blocks = append(form.Blocks, document.Offered{ID: materialList, Options: v.materials})
	rings := max(0, slices.IndexFunc(t.Values, func(value models.Value) bool { return value.Path[0].Key == "rings" }))
	values := slices.Concat(t.Values[rings:], t.Values[:rings]) // what is changed most comes first
	for from := 0; from < len(values); {
		to, top := from, values[from].Path[0]
		for to < len(values) && values[to].Path[0].Key == top.Key && (top.Key == "rings" || values[to].Path[0] == top) {
			to++
		}
		if list, faulty := v.fields(t, values[from:to]); len(list) > 0 {
			form.Blocks = append(form.Blocks, document.Details{
				Summary: v.controlsOf(top), Open: faulty, Blocks: []document.Block{document.Fields{List: list}},
			})
		}
		from = to
	}
	form.Blocks = append(form.Blocks, document.Details{Summary: v.Say("screen.try.other"), Open: t.Other[0] != "", Blocks: []document.Block{
		document.Fields{List: []document.Field{
			{Name: OtherKey, Label: v.Say("screen.try.other key"), Value: t.Other[0]}, {Name: OtherValueKey, Label: v.Say("screen.try.other value"), Value: t.Other[1]},
		}},
	}})
	return form
}

const materialList = "materials"

// bendFields are what bends a rod.
func (v *Views) bendFields(ctx context.Context, t *Trial) document.Fields {
	return document.Fields{Legend: v.Say("screen.try.bend"), List: []document.Field{
		{Name: LoadKey, Label: v.Say("screen.try.load"), Value: t.Load, Kind: "range", Attributes: [][2]string{{"min", "0"}, {"max", strconv.Itoa(v.mostLoad(ctx, t))}, {"step", "10"}}},
		{Name: PullKey, Label: v.Say("screen.try.pull"), Value: t.Pull, Kind: "range", Attributes: [][2]string{{"min", "30"}, {"max", "150"}, {"step", "5"}}},
	}}
}

// bend is a rod bent by what a form says, in the view of that rod.
func (v *Views) bend(ctx context.Context, rev *catalogue.Revision, arg string, figs *evaluate.Figures) ([]document.Block, error) {
	t := &Trial{Rod: rev, Load: v.Load, Pull: v.Pull}
	t.Usual(figs)
	pictures, curvature, err := v.bent(ctx, t, nil)
	pictures = append(pictures, curvature...)
	if err != nil {
		pictures = append(pictures, document.Caution{Title: v.Say("screen.try.no bend"), Text: document.Plain(err.Error())})
	}
	return []document.Block{
		document.Form{ID: "try", Action: address(RodView), Ask: address(RodView), Hidden: [][2]string{{RodKey, arg}},
			Blocks: []document.Block{v.bendFields(ctx, t)}, Buttons: []document.Button{{Text: v.Say("screen.try.look")}}},
		document.Region{ID: "bent", Live: true, Blocks: pictures},
	}, ctx.Err()
}

// Usual is the bend that is shown where none is asked for: under the third load, hung.
func (t *Trial) Usual(figs *evaluate.Figures) {
	if t.Pull == "" {
		t.Pull = "90"
	}
	if f, ok := figs.Get("third-load"); ok && t.Load == "" {
		t.Load = strconv.Itoa(10 * int(math.Round(f.Value/Gram/10)))
	}
}

// controlsOf is what stands above the values under one key.
func (v *Views) controlsOf(top models.Segment) string {
	if top.Key == "rings" {
		return v.Say("screen.try.single")
	}
	return v.PathWords(models.Path{top}, 0)
}

// fields are the values under one key, and whether something is wrong with one.
func (v *Views) fields(t *Trial, values []models.Value) (list []document.Field, faulty bool) {
	var faults models.Faults
	errors.As(t.Rod.Fault(), &faults)
	for i, value := range values {
		path := value.Path
		f := document.Field{Name: SetKey + path.String(), Label: v.PathWords(path, v.saidAbove(path)), Value: t.text(value)}
		if path.Last() == "material" {
			f.Attributes = [][2]string{{"list", materialList}}
		} else if f.Options = v.options(path, value.Text); len(f.Options) > 0 {
			f.Kind = "select"
			if !slices.Contains(f.Options, f.Value) {
				f.Options = append([]string{f.Value}, f.Options...)
			}
		}
		for _, fault := range faults {
			if isOf(fault, value) {
				f.Fault, faulty = fault.Msg, true
			}
		}
		list = append(list, f)
		entry := path.Entry()
		if last := entry.Last(); (last == "rings" || last == "plies") && (i+1 == len(values) || !entry.Leads(values[i+1].Path)) {
			for _, wish := range []string{MoreWish, LessWish} {
				list = append(list, document.Field{Kind: "submit", Name: WishKey, Value: wish + " " + entry.String(), Label: v.Say("screen.try." + wish + "." + last)})
			}
		}
	}
	return list, faulty
}

// saidAbove is how many steps of a path the heading of its fields says.
func (v *Views) saidAbove(path models.Path) int {
	if len(path) > 1 && path[0].Key != "rings" {
		return 1
	}
	return 0
}

// isOf reports whether a fault is one of a value: other values in its line may have
// moved it along.
func isOf(f *models.Fault, value models.Value) bool {
	key := value.Path.Last()
	return f.Pos.File == value.Pos.File && f.Pos.Line == value.Pos.Line && (f.Path == key || len(f.Path) > len(key) && f.Path[len(f.Path)-len(key)-1:] == "."+key)
}

// options are what a value may be, where that is one of a few.
func (v *Views) options(path models.Path, now string) []string {
	switch key := path.Last(); {
	case key == "kind" && path[0].Key == "joints":
		return words(models.JointKinds)
	case key == "kind" && path[0].Key == "reel":
		return words([]models.ReelKind{models.FixedSpool, models.Multiplier, models.Centrepin, models.Fly, models.NoReel})
	case key == "part", path[0].Key == "finish" && (key == "thread" || key == "varnish"):
		return v.partsLike(now)
	}
	return nil
}

func words[S ~string](choices []S) []string {
	list := make([]string, len(choices))
	for i, choice := range choices {
		list[i] = string(choice)
	}
	return list
}

// partsLike are the parts of the range of the same kind as one of them.
func (v *Views) partsLike(name string) (names []string) {
	i := slices.IndexFunc(v.parts, func(p *models.Part) bool { return p.Name == name })
	for _, p := range v.parts {
		if i >= 0 && p.Kind == v.parts[i].Kind {
			names = append(names, p.Name)
		}
	}
	return names
}

// Gram is the pull of what is hung, N.
const Gram = 9.80665e-3

// mostLoad is up to how many grams a rod is bent.
func (v *Views) mostLoad(ctx context.Context, t *Trial) int {
	load, _ := strconv.Atoi(t.Load)
	if figs, err := v.source.FiguresWithTolerances(ctx, t.Rod); err == nil { // known by now
		if f, ok := figs.Get("test-curve"); ok {
			load = max(load, int(f.Value/Gram))
		}
	}
	return max(10*(load/10), 10)
}

// outcome is what becomes of the rod by what is set.
func (v *Views) outcome(ctx context.Context, t *Trial, before *catalogue.Revision) (blocks []document.Block, err error) {
	if t.Failed != nil {
		blocks = append(blocks, document.Caution{Title: v.Say("screen.try.failed"), Text: document.Plain(t.Failed.Error())})
	}
	if t.Theirs != "" {
		blocks = append(blocks, document.Caution{Title: v.Say("screen.try.elsewhere"), Text: document.Plain(v.Say("screen.try.both"))},
			document.Printed{Title: t.File, Text: t.Theirs, Columns: true})
	}
	if t.Rod.Fault() != nil {
		return append(blocks, v.faults([]*catalogue.Revision{t.Rod})...), nil
	}
	review, err := v.source.Judge(ctx, t.Rod)
	if err != nil {
		return append(blocks, document.Caution{Title: v.Say("screen.no figures"), Text: document.Plain(err.Error())}), ctx.Err()
	}
	step := review.Since
	if step == nil {
		if step, err = v.source.Compare(ctx, before, t.Rod); err != nil {
			return nil, err
		}
	}
	bends, curvature, err := v.bent(ctx, t, before)
	if err != nil {
		blocks = append(blocks, document.Caution{Title: v.Say("screen.try.no bend"), Text: document.Plain(err.Error())})
	}
	blocks = append(append(blocks, bends...), v.answers(step))
	if table := v.Sights(step); len(table.Rows) > 0 {
		blocks = append(blocks, table)
	}
	verdict := document.Table{Caption: v.Say("screen.try.verdict", "verdict", v.Verdict(review.Verdict())), Columns: make([]document.Column, 2)}
	for _, reason := range review.Reasons {
		verdict.Add(v.Gravity(reason), v.Note(reason.Note))
	}
	return append(append(blocks, verdict), curvature...), nil
}

// answers are the figures that say most and those that changed, each with the answer to
// whether it did; for customers those that changed.
func (v *Views) answers(step *catalogue.Step) document.Table {
	t := document.Table{Caption: v.Say("screen.figures"), Columns: v.Columns("screen", "figure", ">was", ">is", ">change", "try.answer")}
	if step.Figures == nil {
		return t
	}
	for _, f := range step.Figures.List {
		s, compared := telling.Shift(step, f.Key)
		if v.reader == Customer && (!v.shows(f.Key) || !compared || !v.Shows(s)) {
			continue
		}
		if figures.Of(f.Key).In&figures.First == 0 && (!compared || !v.Shows(s)) {
			continue
		}
		d := v.Single(f.Key)
		was, change, answer := "", "", ""
		if compared {
			d = d.Alike(s.Old.Value, s.New.Value)
			was = d.Supported(s.Key, s.Unit, s.Old.Value, s.Tolerance())
			if v.Shows(s) {
				change = d.ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance())
			}
			switch a := s.Answer(); {
			case a == diffing.Changed && !v.Shows(s):
				answer = v.Say("screen.answers.little")
			case a != "":
				answer = v.Say("screen.answers." + string(a))
			}
		}
		t.Add(v.Name(f.Key), was, d.WithTolerance(f.Key, f.Unit, f.Value, f.Tolerance), change, answer)
	}
	return t
}

// bent draws the rod bent over the one it is held against, with the line through its
// rings, and where it stays flat.
func (v *Views) bent(ctx context.Context, t *Trial, before *catalogue.Revision) (bends, curvature []document.Block, err error) {
	load, err := strconv.ParseFloat(t.Load, 64)
	if err != nil || !(load >= 0 && load <= 1e6) {
		return nil, nil, nil
	}
	pull, err := strconv.ParseFloat(t.Pull, 64)
	if err != nil || !(pull >= 0 && pull <= 180) {
		return nil, nil, nil
	}
	rods, threaded := v.labelled(t.Rod), len(t.Rod.Spec().Rings) > 1
	if threaded && before != nil && before.Fault() == nil && len(before.Spec().Rings) > 1 {
		rods = v.labelled(before, t.Rod)
	}
	of := evaluate.BendCase{Force: load * Gram, Direction: pull * math.Pi / 180, Weight: true, ThroughRings: threaded}
	if t.Dragged {
		bent, err := v.pen.Bends(ctx, rods, of)
		if err != nil {
			return nil, nil, err
		}
		bends = append(bends, document.Figure{Picture: bent})
	} else if bends, err = v.bentByLoads(ctx, rods, of, load, float64(v.mostLoad(ctx, t))); err != nil {
		return nil, nil, err
	}
	along, err := v.pen.Curvature(t.Rod.Spec())
	if err != nil {
		return bends, nil, err
	}
	return bends, []document.Block{document.Figure{Picture: along}}, nil
}

// loadSteps is into how many steps the loads are parted that a rod is drawn under: what
// lies between two of them is hardly told from a straight way from one to the other.
const loadSteps = 12

// bentByLoads draws rods bent by a load, with how they bend under others up to the most,
// in grams, for a script to show between them.
func (v *Views) bentByLoads(ctx context.Context, rods []pages.Labelled, of evaluate.BendCase, load, most float64) ([]document.Block, error) {
	loads := []float64{load}
	for i := range loadSteps + 1 {
		loads = append(loads, most*float64(i)/loadSteps)
	}
	slices.Sort(loads)
	loads = slices.Compact(loads)
	cases := make([]evaluate.BendCase, len(loads))
	for i, grams := range loads {
		cases[i] = of
		cases[i].Force = grams * Gram
	}
	l, err := v.pen.BendCases(ctx, "bend", rods, cases, slices.Index(loads, load))
	if err != nil { // under more than is asked for, perhaps
		bent, err := v.pen.Bends(ctx, rods, of)
		return []document.Block{document.Figure{Picture: bent}}, err
	}
	moves := struct {
		Loads []float64 `json:"loads"`
		*pages.Ladder
	}{loads, l}
	return []document.Block{document.Moving{Of: document.Figure{Picture: l.Picture}, Field: LoadKey, Data: moves}}, nil
}
