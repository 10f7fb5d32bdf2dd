package main

import (
	"fmt"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// sourcesOf is what the tolerance of one figure comes from, SI; the squares of the
// effects and the rest add up to that of the tolerance.
func sourcesOf(t say.Teller, figs *evaluate.Figures, key string) object {
	f, _ := figs.Get(key)
	sources, rest := figs.Contributions(key)
	return object{
		{"figure", key}, {"tolerance", f.Tolerance}, {"sampled", f.Sampled},
		{"inputs", say.Each(sources, func(s evaluate.Contribution) object { // largest effect first
			return object{
				{"kind", s.ID.Kind}, {"of", orNull(s.ID.Of)}, {"name", t.Note(s.Name)},
				{"deviation", s.Deviation}, {"unit", s.Unit}, // of the deviation
				{"effect", s.Effect}, // of one deviation more on the figure
			}
		})},
		{"rest", rest}, // of what comes from no input by itself
	}
}

// leastShown is the share of a variance from which a source is listed by
// itself.
const leastShown = 0.0005

// showSources lists what makes a figure wide.
func (p *printer) showSources(s subject, figs *evaluate.Figures, key string) {
	f, _ := figs.Get(key)
	d, plain := s.display().Single(key), s.display().Single("")
	p.println(p.paint(bold, title(s.Revision)))
	p.println(figures.Short(key) + " " + d.WithTolerance(key, f.Unit, f.Value, f.Tolerance))
	sources, rest := figs.Contributions(key)
	if len(sources) == 0 {
		p.println(withoutSources(f))
		return
	}
	p.println()
	t := newTable(filling("not known better than"), numbers("to"), numbers("which does"), numbers("share"))
	variance, small, shown := f.Tolerance*f.Tolerance, 0, 0.0
	for _, src := range sources {
		share := src.Effect * src.Effect / variance
		if share < leastShown {
			small++
			continue
		}
		shown += share
		to := "± " + plain.Deviation("", src.Unit, src.Deviation, src.Deviation)
		if src.ID.Kind == evaluate.KnownInput {
			to = "" // it is many things at once
		}
		t.add(s.teller().Note(src.Name), to, d.Effect(key, f.Unit, src.Effect, f.Value), percentOf(share))
	}
	if share := rest * rest / variance; share >= leastShown {
		shown += share
		t.add("several of them at once", "", "± "+d.Deviation(key, f.Unit, rest, f.Value), percentOf(share))
	}
	p.print("", t)
	if small > 0 {
		p.println(fmt.Sprintf("%s with less, %s in all", count(small, "source"), percentOf(max(1-shown, 0))))
	}
	if f.Sampled {
		p.paragraph("It does not follow these in a straight line, so its tolerance comes from sample rods.")
	}
}

// withoutSources says why a figure has none.
func withoutSources(f evaluate.Figure) string {
	if f.Tolerance == 0 {
		return "It is exact: nothing that scatters from rod to rod changes it."
	}
	return "It is not known how far it scatters: some rods built to the spec do not have it."
}

// percentOf writes a share of a whole.
func percentOf(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }
