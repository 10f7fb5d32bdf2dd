package models_test

import (
	"strings"
	"testing"

	"rodlore/models"
	"rodlore/models/units"
)

// fitText is a fit to a rod as it stands in a spec.
const fitText = `fitted: # more or less than spec and range say
  to: rod 0147
  date: 2026-11-07
  modulus: {butt: 2.3 %, tip: -1.1 %}
  wall: {tip: -0.012 mm}
  damping: -8 %
  known to: # what the readings left open: of each line all at once
    - {modulus: {butt: 1.8 %}, wall: {tip: 0.009 mm}}
    - {damping: 10 %}
`

// fit is the same as a program makes it.
func fit() *models.Fitted {
	word := func(s string) models.Word { return models.Word{Text: s} }
	return &models.Fitted{
		To:   word("rod 0147"),
		Date: models.Date{Text: "2026-11-07"},
		Came: models.Came{
			Modulus: []models.OfSection[units.Share]{{word("butt"), models.Fraction(0.02304)}, {word("tip"), models.Fraction(-0.0112)}},
			Wall:    []models.OfSection[units.Length]{{word("tip"), models.Millimetres(-12e-6)}},
			Damping: models.Fraction(-0.08),
		},
		KnownTo: []models.Came{
			{Modulus: []models.OfSection[units.Share]{{word("butt"), models.Fraction(0.018)}}, Wall: []models.OfSection[units.Length]{{word("tip"), models.Millimetres(9e-6)}}},
			{Damping: models.Fraction(0.1)},
		},
	}
}

func TestSpliceFitted(t *testing.T) {
	plain := string(read(t, "good/skerry-10.yaml"))
	crlf := func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }
	for _, tt := range []struct{ name, src, want string }{
		{"at the end", plain, plain + fitText},
		{"behind a last line without its end", strings.TrimSuffix(plain, "\n"), plain + strings.TrimSuffix(fitText, "\n")},
		{"line ends as they are", crlf(plain), crlf(plain + fitText)},
		{"mark of the encoding", "\ufeff" + plain, "\ufeff" + plain + fitText},
		{"over the one there is", plain + "fitted: # by the tank\n  to: rod 1\n  date: 2020-01-02 # windy\n\n# the end\n", plain + fitText + "\n# the end\n"},
		{"over one in braces", plain + "fitted: {to: rod 1, date: 2020-01-02}", plain + strings.TrimSuffix(fitText, "\n")},
		{"over one that runs on", plain + "fitted: {to: rod 1, date: 2020-01-02\n}\n", plain + fitText},
		{"before what stands behind", "fitted:\n  to: rod 1\n  date: 2020-01-02\n  wall: {tip: 0.1 mm}\n" + plain, fitText + plain},
		{"the same again", plain + fitText, plain + fitText},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := models.SpliceFitted("skerry-10.yaml", []byte(tt.src), fit())
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != tt.want {
				t.Errorf("got\n%q\nwant\n%q", got, tt.want)
			}
		})
	}
}

func TestSpliceFittedRefuses(t *testing.T) {
	plain := string(read(t, "good/skerry-10.yaml"))
	for _, tt := range []struct{ name, src, want string }{
		{"the end of a document", plain + "...\n", "skerry-10.yaml: the fit cannot be written into it"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := models.SpliceFitted("skerry-10.yaml", []byte(tt.src), fit()); err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
}
