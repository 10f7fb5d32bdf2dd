package main

import (
	"fmt"
	"math"
	"strings"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// strong is the least correlation that is told.
const strong = 0.8

// unlikely is the chance below which a rod is said to be none of its spec.
const unlikely = 0.01

func (p *printer) showFit(rod *fittedRod) {
	p.println(p.paint(bold, title(rod.Revision)))
	p.printf("%s, measured on %s: %s\n\n", say.English().RodName(rod.sheet.Rod.Text), rod.sheet.Date.Text, rod.sheet.File)
	p.showReadings(rod)
	if rod.sheet.Of.Text == "" {
		p.paragraph("%s does not say which revision the rod was built to, so it is held against the spec as it stands now; once that is edited this would be another rod. Write of: and the revision into it.", rod.sheet.File)
	}
	p.println()
	p.showUnknowns(rod)
	p.showDoubts(rod)
	p.showNext(rod.fit, rod.teller().Narrow(), "this rod is now")
	p.paragraph("%s", say.English().Say("cautions.weights.text"))
}

func (p *printer) showReadings(rod *fittedRod) {
	in := rod.teller().Narrow()
	t := newTable(words("reading"), numbers("measured"), numbers("by spec"), numbers("fitted"), numbers("off"), words(""))
	for _, r := range rod.fit.Readings {
		t.add(in.Note(r.Name()), in.Read(r.Reading), in.Reading(r.Reading, r.Before), in.Reading(r.Reading, r.After), figures.Deviations(r.Off), doubted[r.Disagrees])
	}
	p.print("", t)
	p.println("off: from what all the other readings predict, in standard deviations")
}

// doubted marks a reading that the others contradict.
var doubted = map[bool]string{true: "!"}

func (p *printer) showUnknowns(rod *fittedRod) {
	t := newTable(words("against spec and range"), numbers("before"), numbers("fitted"), numbers("±"), words(""))
	for _, u := range rod.fit.Parameters {
		note := ""
		if !u.Told() {
			note = "readings say little"
		}
		in := rod.teller()
		t.add(in.Note(u.Name()), "± "+amount(in, &u, u.Before), signed(in, &u), amount(in, &u, u.After), note)
	}
	p.print("", t)
}

// amount writes a difference from the spec.
func amount(in say.Teller, u *evaluate.Parameter, v float64) string {
	switch {
	case u.Unit == "m" && in.Units == "imperial":
		return fmt.Sprintf("%.4f in", v/units.Size("in"))
	case u.Unit == "m":
		return fmt.Sprintf("%.3f mm", 1e3*v)
	case u.Unit == "rad":
		return fmt.Sprintf("%.1f°", v/units.Size("deg"))
	}
	return fmt.Sprintf("%.1f %%", 100*v)
}

// signed writes what was fitted with its sign.
func signed(in say.Teller, u *evaluate.Parameter) string {
	if u.Value < 0 {
		return "−" + amount(in, u, -u.Value)
	}
	return "+" + amount(in, u, u.Value)
}

// showDoubts tells what goes together, what disagrees and how likely it all is.
func (p *printer) showDoubts(rod *fittedRod) {
	fit, t := rod.fit, rod.teller().Narrow()
	for _, c := range fit.Correlations {
		if math.Abs(c.Value) < strong {
			break
		}
		how := "more of one would be less of the other"
		if c.Value > 0 {
			how = "more of one would be more of the other"
		}
		p.paragraph("The readings hardly tell the %s and the %s apart: %s (correlation %s).",
			t.Note(fit.Parameters[c.A].Name()), t.Note(fit.Parameters[c.B].Name()), how, strings.Replace(fmt.Sprintf("%.2f", c.Value), "-", "−", 1))
	}
	if fit.Astray() {
		p.paragraph("! So many readings disagree with the others that they are no slips: it is rather another rod than the spec says.")
	}
	for _, r := range fit.Readings {
		if r.Disagrees && !fit.Astray() {
			p.paragraph("! %s disagrees with all the others: it is off by %.1f standard deviations, and %.1f is what the farthest of %s reaches in one sheet of twenty. Read it again; where it was a slip, take its line out.",
				t.Note(r.Name()), math.Abs(r.Off), fit.Threshold, count(len(fit.Readings), "reading"))
		}
	}
	if fit.Chance < unlikely {
		p.paragraph("All in all this rod is hardly one of its spec: rods within their tolerances come to such readings %s. A reading may be wrong, or the tolerances narrower than the work; \"tolerances: {modulus: 10 %%}\" in the spec, say, gives the fit more room.",
			chanceWords(fit.Chance))
	}
	p.showEye(rod)
}

// chanceWords says how often.
func chanceWords(chance float64) string {
	if chance < 1e-4 {
		return "less than once in ten thousand times"
	}
	return fmt.Sprintf("once in %.0f times", 1/chance)
}

// showEye offers the turn that the maker takes for square.
func (p *printer) showEye(rod *fittedRod) {
	for _, u := range rod.fit.Parameters {
		if u.Free != evaluate.FreeTurn || !u.Told() {
			continue
		}
		deg := units.Size("deg")
		says := float64(rod.set.TestCurve.Turn.Value)
		p.paragraph("Your eye takes a turn of %.1f° ± %.1f° for square; range.yaml says %.1f°. With \"turn: %.1f deg\" there, test curves are those that you pull.",
			(says+u.Value)/deg, u.After/deg, says/deg, (says+u.Value)/deg)
	}
}

// showNext says of what it is that fit tells, and what to measure of it next.
func (p *printer) showNext(fit *evaluate.Fit, in say.Teller, of string) {
	show := func(v float64) string { return in.Deviation("", fit.ForUnit, v, v) }
	p.paragraph("The %s of %s known to ± %s. What to measure next:", figures.Short(fit.For), of, show(fit.Know))
	t := newTable(words(""), words(""))
	for _, n := range fit.Next {
		t.add(in.Note(n.Name()), "to ± "+show(n.Know))
	}
	p.print("  ", t)
}
