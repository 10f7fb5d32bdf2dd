package main

import (
	"encoding/json"
	"math"
	"strings"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/diffing"
	"rodlore/models"
)

// The data that --json prints. Keys stay as they are; a change of their meaning
// raises the schema. What has no value is null, and a list without entries is
// an empty list.

// schema is the first entry of every document.
type schema struct {
	Schema int `json:"schema"`
}

var schema1 = schema{1}

// writeJSON prints one document.
func (p *printer) writeJSON(document any) error {
	var text strings.Builder
	enc := json.NewEncoder(&text)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(document); err != nil {
		return err
	}
	_, err := p.out.WriteString(visible.JSON(text.String()))
	return err
}

// revisionJSON is which revision of a model is spoken of.
type revisionJSON struct {
	ID     string     `json:"id"`
	Label  *string    `json:"label"`  // of the latest release
	Labels []string   `json:"labels"` // of all its releases, oldest first
	Date   *time.Time `json:"date"`   // null for a draft
	State  string     `json:"state"`
	Top    *string    `json:"top"` // that it is looked at with; null for the main one
	// Withdrawn are those of the labels that are off sale.
	Withdrawn []string `json:"withdrawn"`
}

func revisionOf(r *catalogue.Revision) revisionJSON {
	return revisionJSON{
		ID: r.ID, Label: orNull(r.Label()), Labels: listOf(r.Labels), Date: dateOrNull(r.When), State: string(r.Status),
		Top: orNull(r.Top), Withdrawn: withdrawnLabels(r),
	}
}

// revisionOrNull is null where there is none.
func revisionOrNull(r *catalogue.Revision) *revisionJSON {
	if r == nil {
		return nil
	}
	doc := revisionOf(r)
	return &doc
}

func withdrawnLabels(r *catalogue.Revision) []string {
	return each(r.Withdrawn, func(w models.Withdrawal) string { return w.Label.Text })
}

// changeJSON is one change of a spec.
type changeJSON struct {
	Kind  diffing.Kind `json:"kind"`
	Path  string       `json:"path"`
	Old   *string      `json:"old"`
	New   *string      `json:"new"`
	Group string       `json:"group"`
}

func changesOf(changes []diffing.Change) []changeJSON {
	as := say.Teller{Words: say.English()}
	return each(changes, func(c diffing.Change) changeJSON {
		return changeJSON{c.Kind, c.Path.String(), orNull(as.Content(c.Old)), orNull(as.Content(c.New)), c.Group.String()}
	})
}

// orNull is nil for what was not given.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

// faultOrNull is what an error says.
func faultOrNull(err error) *string {
	if err == nil {
		return nil
	}
	return orNull(err.Error())
}

func dateOrNull(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// numberOrNull is nil for what is no number, which JSON cannot hold.
func numberOrNull(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// listOf is the list itself, and an empty one instead of null.
func listOf[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// each is what view makes of every entry of a list, and never null.
func each[E, D any](list []E, view func(E) D) []D {
	docs := make([]D, len(list))
	for i, entry := range list {
		docs[i] = view(entry)
	}
	return docs
}

// givenOrNull is a quantity of a file, SI.
func givenOrNull[U ~float64](g models.Given[U]) *float64 {
	if !g.Set() {
		return nil
	}
	return numberOrNull(float64(g.Value))
}
