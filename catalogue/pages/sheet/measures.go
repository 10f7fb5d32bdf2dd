package sheet

import (
	"rodlore/catalogue/pages/document"
	"rodlore/evaluate"
)

// measurable are the figures that a workshop can measure with a balance, weights
// and a tape.
var measurable = []string{
	"weight", "balance", "butt-ring-to-reel", "third-load", "tip-drop", "test-curve", "recovery",
}

// measures is what the rod should measure, with a place for what it does.
func (s *sheet) measures() []document.Block {
	t := document.Table{Columns: s.Columns("sheet.figures", "figure", ">value", "range", "measured")}
	t.Columns[3].Blank = true
	for _, key := range measurable {
		if f, ok := s.figures.Get(key); ok {
			t.Add(s.Name(key), s.Supported(key, f.Unit, f.Value, f.Tolerance), s.within(f), s.measured[key])
		}
	}
	how := s.Say("sheet.figures.how",
		"held", s.length(s.spec.HeldTo()), "load", s.Value("", "N", float64(s.set.BenchLoad.Value)),
		"turn", s.Value("", "rad", float64(s.set.TestCurve.Turn.Value)), "pull", s.Value("", "rad", float64(s.set.TestCurve.Pull.Value)))
	return []document.Block{
		s.heading("sheet.figures.heading"), t, document.Paragraph(document.Plain(how + " " + s.Say("sheet.figures.tolerance"))),
	}
}

// within says between which values nineteen of twenty rods lie; nothing where
// that is not known.
func (s *sheet) within(f evaluate.Figure) string {
	if !(f.Tolerance > 0) {
		return ""
	}
	// Two standard deviations hold 95.4 % of what is normally distributed (NIST/
	// SEMATECH e-Handbook of Statistical Methods, section 1.3.6.7.1).
	low, high := f.Value-2*f.Tolerance, f.Value+2*f.Tolerance
	return s.Say("sheet.figures.span",
		"low", s.Supported(f.Key, f.Unit, low, f.Tolerance), "high", s.Supported(f.Key, f.Unit, high, f.Tolerance))
}
