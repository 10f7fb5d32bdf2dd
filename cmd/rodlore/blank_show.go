package main

import (
	"fmt"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// blankOf is what was found of a bought blank, SI; null for one that was not bought.
// Deviations are shares of what they belong to.
func blankOf(s subject) object {
	b, err := evaluate.BoughtBlank(s.Spec(), s.set)
	if err != nil || b == nil {
		return nil
	}
	fit, t := b.Fit, s.teller().Narrow()
	if fit == nil {
		fit = &evaluate.Fit{}
	}
	return object{
		{"sections", say.Each(b.Sections, func(one evaluate.BoughtSection) object { // each number with its deviation
			return object{
				{"section", one.Name}, {"modulus", []float64{one.Modulus, one.ModulusBy}}, // Pa
				{"thin", []float64{one.Thin, one.ThinBy}}, // wall at the thin end, m
				{"thick", []float64{one.Thick, one.ThickBy}},
			}
		})},
		{"readings", say.Each(fit.Readings, func(r evaluate.FittedReading) object {
			return object{
				{"name", t.Note(r.Name())}, {"read", r.Value}, {"deviation", r.Deviation}, {"found", r.After}, {"off", r.Off},
				{"unit", r.Unit}, {"disagrees", r.Disagrees},
			}
		})},
		// Most helpful first; know is the deviation that the third load would then be known to, N.
		{"next", say.Each(fit.Next, func(n evaluate.Next) object { return object{{"name", t.Note(n.Name())}, {"know", n.Know}} })},
	}
}

// showBlank tells what was found of a bought blank, and what to measure next.
func (p *printer) showBlank(s subject) {
	b, err := evaluate.BoughtBlank(s.Spec(), s.set)
	if err != nil || b == nil {
		return // without a blank there were no figures, and that was told
	}
	p.println()
	size, unit := units.Size("mm"), "mm"
	if s.set.Units == "imperial" {
		size, unit = units.Size("in"), "in"
	}
	wall := func(m, share float64) string { return within(m/size, share, unit) }
	t := newTable(words("the bought blank"), numbers("modulus"), numbers("wall, thin end"), numbers("thick end"))
	for _, one := range b.Sections {
		if one.Thick == 0 {
			t.add(one.Name, within(one.Modulus/1e9, one.ModulusBy, "GPa"), "solid", "solid")
			continue
		}
		t.add(one.Name, within(one.Modulus/1e9, one.ModulusBy, "GPa"), wall(one.Thin, one.ThinBy), wall(one.Thick, one.ThickBy))
	}
	p.print("", t)
	p.println("found from its mass, its outside and what was measured of it")
	if b.Fit == nil {
		p.wrapped("", "Nothing tells how it bends: hang a weight from its tip, and write the reading under blank, measured, as in a bench file.")
		return
	}
	p.showBlankReadings(b.Fit, s.teller().Narrow())
}

// disagreeing are the readings of a bare blank that contradict the others, and by how
// much.
func disagreeing(fit *evaluate.Fit, in say.Teller) []string {
	var texts []string
	for _, r := range fit.Readings {
		if r.Disagrees {
			texts = append(texts, fmt.Sprintf("The %s was read as %s; by all else that is said of the blank it would be about %s, which is %.1f standard deviations away. Read it again, look at the rest again, or give it a wider ±.",
				in.Note(r.Name()), in.Read(r.Reading), in.Reading(r.Reading, r.Rest), max(r.Off, -r.Off)))
		}
	}
	return texts
}

// within writes a number with the share that it is known to.
func within(v, share float64, unit string) string {
	return fmt.Sprintf("%.3g %s ± %.0f %%", v, unit, 100*share)
}

func (p *printer) showBlankReadings(fit *evaluate.Fit, in say.Teller) {
	p.println()
	t := newTable(words("of the bare blank"), numbers("read"), numbers("found"), numbers("off"), words(""))
	for _, r := range fit.Readings {
		t.add(in.Note(r.Name()), in.Read(r.Reading), in.Reading(r.Reading, r.After), figures.Deviations(r.Off), doubted[r.Disagrees])
	}
	p.print("", t)
	for _, text := range disagreeing(fit, in) {
		p.paragraph("! %s", text)
	}
	p.showNext(fit, in, "the bare blank is")
}
