package screen

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rodlore/catalogue/pages/document"
	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

// builtTo is the revision that a rod that is measured was most likely built to.
func (v *Views) builtTo(of string) string {
	if rev, err := v.source.FindRod(of); err == nil && !strings.Contains(of, "@") {
		if last := rev.LastRelease(); last != nil {
			return of + "@" + last.Label()
		}
	}
	return of
}

// readings are a form for each kind of reading, which asks what it needs.
func (v *Views) readings(of string, fields []document.Field) (blocks []document.Block) {
	for _, kind := range models.ReadingKinds {
		if kind.What == models.TraceMeasure {
			continue
		}
		list := []document.Field{{Name: RodKey, Label: v.Say("screen.of.measure"), Value: v.builtTo(of), Needed: true}}
		for _, f := range fields {
			needed := f.Name == "rod" || f.Name == "reading" || slices.Contains(kind.Wants, f.Name)
			if needed || f.Name == "date" || slices.Contains(kind.May, f.Name) {
				f.Needed = needed
				list = append(list, f)
			}
		}
		form := v.deedForm(MeasureDeed, RodKey, list...)
		form.Hidden = [][2]string{{DeedKey, MeasureDeed}, {"what", string(kind.What)}}
		blocks = append(blocks, document.Details{Summary: string(kind.What), Blocks: []document.Block{document.Paragraph(document.Plain(kind.Example)), form}})
	}
	return blocks
}

// Trace is a form for a photograph of a bent rod, over which the bend that is worked
// out for the load is laid.
func (v *Views) Trace(of, load string, fields []document.Field) (*document.Document, error) {
	rev, err := v.source.FindRod(of)
	if err == nil {
		err = rev.Fault()
	}
	if err != nil {
		return nil, err
	}
	d := v.document(v.Say("screen.of rod", "what", v.Say("screen.views.trace"), "rod", v.title(rev)), "",
		links(v.link("all", address(RangeView)), document.Span{Text: v.title(rev), Link: address(RodView, RodKey, of)}, v.link("views.fit", address(FitView, RodKey, rev.Model))))
	picture, err := v.figure(v.pen.Rod(rev.Spec()))
	if err != nil {
		return nil, err
	}
	over := ""
	if force, err := units.ParseAs[units.Force](load); err == nil && force > 0 {
		rods, err := v.source.Rods()
		if err != nil {
			return nil, err
		}
		if bent, err := rods.Of(rev.Spec()).Bend(evaluate.BendCase{Force: float64(force), Direction: math.Pi / 2, Weight: true}); err == nil {
			places := make([]string, len(bent.Points))
			for i, at := range bent.Points {
				places[i] = fmt.Sprintf("%.4f,%.4f", at.X, at.Y)
			}
			over = strings.Join(places, " ")
		}
	}
	form := v.deedForm(TraceDeed, RodKey, append([]document.Field{{Name: RodKey, Label: v.Say("screen.of.measure"), Value: v.builtTo(of), Needed: true}}, fields...)...)
	form.ID, form.Ask, form.Hidden = "try", address(TraceView), [][2]string{{DeedKey, TraceDeed}}
	d.Blocks = append(d.Blocks, picture,
		document.Caution{Title: v.Say("cautions.heading"), Text: document.Plain(v.Say("cautions.weights.text"))},
		document.Paragraph(document.Plain(v.Say("screen.trace.how"))),
		document.Marking{Choose: v.Say("screen.trace.choose"), Zoom: v.Say("screen.trace.zoom"), Mark: v.Say("screen.trace.mark"), Point: v.Say("screen.trace.point"), Over: over}, form)
	return d, nil
}
