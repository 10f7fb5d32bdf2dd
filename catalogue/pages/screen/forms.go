package screen

import (
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
	if of != "" {
		form.Hidden = append(form.Hidden, [2]string{RodKey, of})
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
