package main

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/diffing"
	"rodlore/models"
)

// object is one object of the data that --json prints, its keys in their order. Keys
// stay as they are; a change of their meaning raises the schema. What has no value is
// null (a number that is none, the zero time, no error), and a list without entries is
// an empty list.
type object []pair

type pair struct {
	key   string
	value any
}

// MarshalJSON writes the keys in their order. No object is null.
func (o object) MarshalJSON() ([]byte, error) {
	if o == nil {
		return []byte("null"), nil
	}
	var text strings.Builder
	enc := newEncoder(&text)
	for i, p := range o {
		text.WriteString([]string{`{"`, `,"`}[min(i, 1)] + p.key + `":`)
		if err := enc.Encode(written(p.value)); err != nil {
			return nil, err
		}
	}
	text.WriteByte('}')
	return []byte(text.String()), nil
}

func newEncoder(text *strings.Builder) *json.Encoder {
	enc := json.NewEncoder(text)
	enc.SetEscapeHTML(false)
	return enc
}

// written is a value as JSON can hold it.
func written(value any) any {
	switch v := value.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	case time.Time:
		if v.IsZero() {
			return nil
		}
	case error:
		return v.Error()
	case object:
		return v
	}
	if list := reflect.ValueOf(value); list.Kind() == reflect.Slice && list.IsNil() {
		return []any{}
	}
	return value
}

// writeJSON prints one document, of which the schema is the first entry.
func (p *printer) writeJSON(document object) error {
	var text strings.Builder
	enc := newEncoder(&text)
	enc.SetIndent("", "  ")
	if err := enc.Encode(append(object{{"schema", 1}}, document...)); err != nil {
		return err
	}
	_, err := p.out.WriteString(visible.JSON(text.String()))
	return err
}

// revisionOf is which revision of a model is spoken of; null for none.
func revisionOf(r *catalogue.Revision) object {
	if r == nil {
		return nil
	}
	return object{
		{"id", r.ID},
		{"label", orNull(r.Label())}, // of the latest release
		{"labels", r.Labels},         // of all its releases, oldest first
		{"date", r.When},             // null for a draft
		{"state", r.Status},
		{"top", orNull(r.Top)}, // that it is looked at with; null for the main one
		{"withdrawn", withdrawnLabels(r)},
	}
}

// withdrawnLabels are those of the labels that are off sale.
func withdrawnLabels(r *catalogue.Revision) []string {
	return say.Each(r.Withdrawn, func(w models.Withdrawal) string { return w.Label.Text })
}

// changesOf are changes of a spec.
func changesOf(changes []diffing.Change) []object {
	as := say.Teller{Words: say.English()}
	return say.Each(changes, func(c diffing.Change) object {
		return object{
			{"kind", c.Kind}, {"path", c.Path.String()},
			{"old", orNull(as.Content(c.Old))}, {"new", orNull(as.Content(c.New))}, {"group", c.Group.String()},
		}
	})
}

// orNull is a value, and null for what was not given or is not there.
func orNull[T comparable](value T) any {
	if value == *new(T) {
		return nil
	}
	return value
}

// givenOrNull is a quantity of a file, SI.
func givenOrNull[U ~float64](g models.Given[U]) any {
	if !g.Set() {
		return nil
	}
	return float64(g.Value)
}
