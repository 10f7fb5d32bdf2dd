package screen

import (
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
)

// deedForm is a form that does something by a command; fields go by the names of its
// options.
func (v *Views) deedForm(deed, of string, fields ...document.Field) document.Form {
	for i, f := range fields {
		if f.Label == "" {
			fields[i].Label = v.Say("screen.fields." + f.Name)
		}
	}
	form := document.Form{
		Action: address(DoView), Writes: true, Hidden: [][2]string{{DeedKey, deed}},
		Buttons: []document.Button{{Text: v.Say("screen.deeds." + deed)}},
	}
	switch {
	case of == RodKey: // one of the fields says it
	case of != "":
		form.Hidden = append(form.Hidden, [2]string{RodKey, of})
	default:
		fields = append([]document.Field{{Name: RodKey, Label: v.Say("screen.of." + deed), Needed: true}}, fields...)
	}
	if len(fields) > 0 {
		form.Blocks = []document.Block{document.Fields{List: fields}}
	}
	return form
}

// draftForms are what can be done with a draft.
func (v *Views) draftForms(rev *catalogue.Revision) []document.Block {
	blocks := []document.Block{document.Heading{Level: 2, Text: v.Say("screen.draft")}}
	if rev.Fault() == nil {
		blocks = append(blocks, v.deedForm(SaveDeed, rev.Model,
			document.Field{Name: "why", Needed: true}, document.Field{Name: "tell", Kind: "textarea"}))
	}
	return append(blocks, v.deedForm(PutBackDeed, rev.Model))
}

// Asked is what a command says, or is to be asked.
type Asked struct {
	View, Of string
	Fields   []document.Field // of what is asked
	Said     []document.Block
	Deeds    []Deed
}

// Deed is something that can be done, with fields that go by the options of its command.
type Deed struct {
	Name   string
	Fields []document.Field
	Of     document.Field // what it is of, where that is said: its value and what is wrong with it
}

// ofOthers are deeds that are of something else than the view's own rod.
var ofOthers = map[string]bool{BuiltDeed: true, RepairDeed: true, BlankDeed: true, LikeDeed: true, ExampleDeed: true}

// Asked shows what a command says, under the rod that it is of.
func (v *Views) Asked(a Asked) (*document.Document, error) {
	title, to := v.Say("screen.views."+a.View), []document.Span{v.link("all", address(RangeView))}
	d := v.document(title, "")
	if rev, arg := v.askedOf(a); rev != nil {
		d.Title = v.Say("screen.of rod", "what", title, "rod", v.title(rev))
		to = append(to, document.Span{Text: v.title(rev), Link: address(RodView, RodKey, arg)})
		if rev.Fault() == nil {
			picture, err := v.figure(v.pen.Rod(rev.Spec()))
			if err != nil {
				return nil, err
			}
			d.Blocks = append(d.Blocks, picture)
		}
	}
	switch a.View {
	case BuiltView:
		to = append(to, v.link("views.chart", address(ChartView, RodKey, a.Of)))
		d.Blocks = append(d.Blocks, document.Form{Action: address(SerialView), Blocks: []document.Block{document.Fields{List: []document.Field{
			{Name: RodKey, Label: v.Say("screen.of.serial"), Kind: "search", Needed: true}}}}, Buttons: []document.Button{{Text: v.Say("screen.find")}}})
	case SerialView, ChartView:
		to = append(to, v.link("views.built", address(BuiltView)))
	}
	d.Blocks = append([]document.Block{links(to...)}, d.Blocks...)
	if len(a.Fields) > 0 {
		form := document.Form{Action: address(a.View), Blocks: []document.Block{document.Fields{List: a.Fields}}, Buttons: []document.Button{{Text: v.Say("screen.ask")}}}
		if a.Of != "" {
			form.Hidden = [][2]string{{RodKey, a.Of}}
		}
		d.Blocks = append(d.Blocks, form)
	}
	d.Blocks = append(d.Blocks, a.Said...)
	for _, deed := range a.Deeds {
		if deed.Name == MeasureDeed {
			d.Blocks = append(d.Blocks, document.Heading{Level: 2, Text: v.Say("screen.deeds.measure")},
				links(v.link("views.trace", address(TraceView, RodKey, a.Of))))
			d.Blocks = append(d.Blocks, v.readings(a.Of, deed.Fields)...)
			continue
		}
		of := a.Of
		if ofOthers[deed.Name] {
			of = ""
		}
		form := v.deedForm(deed.Name, of, deed.Fields...)
		if of == "" {
			asked := &form.Blocks[0].(document.Fields).List[0]
			asked.Value, asked.Fault = deed.Of.Value, deed.Of.Fault
		}
		d.Blocks = append(d.Blocks, document.Details{Summary: v.Say("screen.deeds." + deed.Name), Open: a.View == NewView,
			Blocks: []document.Block{form}})
	}
	return d, nil
}

// askedOf is the rod that a command is asked of, and what it is found by; nil where it is
// of none.
func (v *Views) askedOf(a Asked) (*catalogue.Revision, string) {
	switch a.View {
	case NewView:
		return nil, ""
	case SerialView:
		built, err := v.source.Build(a.Of)
		if err != nil {
			return nil, ""
		}
		rev, err := v.source.BuiltTo(built)
		if err != nil {
			return nil, ""
		}
		return rev, name(rev)
	}
	rev, err := v.source.FindRod(a.Of)
	if err != nil {
		return nil, ""
	}
	return rev, a.Of
}

// Review puts a review under the rod that it is of, with what can be ticked, and a saved
// rod on sale.
func (v *Views) Review(page *document.Document, of string, review *catalogue.Review) (*document.Document, error) {
	picture, err := v.figure(v.pen.Rod(review.Spec()))
	if err != nil {
		return nil, err
	}
	page.Blocks = append([]document.Block{picture}, page.Blocks...)
	var fields []document.Field
	for _, check := range review.ByHand {
		if check.Tick == nil {
			label := strings.TrimSuffix(check.Check.Text+": "+check.Look.Text, ": ")
			fields = append(fields, document.Field{Name: "tick", Kind: "checkbox", Value: check.Check.Text, Label: label})
		}
	}
	for i, block := range page.Blocks {
		if _, boxes := block.(document.Checklist); boxes { // for paper, where these are to be clicked
			page.Blocks[i] = v.deedForm(TickDeed, of, append(fields, document.Field{Name: "by", Needed: true}, document.Field{Name: "why"})...)
		}
	}
	if review.Status == catalogue.Prototype {
		fields := []document.Field{{Name: LabelKey, Needed: true}}
		if review.Verdict() == catalogue.NotFit {
			fields = append(fields, document.Field{Name: "despite", Needed: true})
		}
		page.Blocks = append(page.Blocks, v.deedForm(ReleaseDeed, of, fields...))
	}
	return v.Back(page, of), nil
}
