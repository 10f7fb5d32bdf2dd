package telling

import (
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/models"
)

// Face is how the maker of a range looks and is reached, as pages show it; nil where
// the range gives no more than a name.
func Face(r *catalogue.Range, m *models.Maker) (*document.Face, error) {
	logo, err := r.Logo()
	if err != nil {
		return nil, err
	}
	f := &document.Face{Logo: logo, Reach: []document.Text{document.Bold(m.Text)}}
	for _, line := range m.Address {
		f.Reach = append(f.Reach, document.Plain(line.Text))
	}
	for _, way := range []struct{ text, kind string }{{m.Phone.Text, "tel:"}, {m.Mail.Text, "mailto:"}, {m.Web.Text, "https://"}} {
		if way.text == "" {
			continue
		}
		out := way.kind + way.text
		switch {
		case way.kind == "tel:": // RFC 3966, 5.1.1, without the separators
			out = way.kind + strings.Map(digit, way.text)
		case strings.Contains(way.text, "://"):
			out = way.text
		}
		f.Reach = append(f.Reach, document.Text{{Text: strings.ReplaceAll(strings.TrimPrefix(way.text, "https://"), " ", "\u00a0"), Out: out}})
	}
	if c := m.Colour; c != nil {
		const readable = 4.5
		f.Accent, f.OnDark = c.String(), c.Until(models.Accent{R: 255, G: 255, B: 255}, models.Accent{R: 20, G: 24, B: 28}, readable).String()
	}
	if logo == nil && len(f.Reach) == 1 && f.Accent == "" {
		return nil, nil
	}
	return f, nil
}

// digit keeps what a telephone dials.
func digit(r rune) rune {
	if r >= '0' && r <= '9' || r == '+' {
		return r
	}
	return -1
}
