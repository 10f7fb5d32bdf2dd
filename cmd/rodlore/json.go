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
func (p *program) writeJSON(document any) error {
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
	// Withdrawn are those of the labels that are off sale.
	Withdrawn []string `json:"withdrawn"`
}

func revisionOf(r *catalogue.Revision) revisionJSON {
	return revisionJSON{
		ID: r.ID, Label: orNull(r.Label()), Labels: listOf(r.Labels), Date: dateOrNull(r.When), State: string(r.Status),
		Withdrawn: withdrawnLabels(r),
	}
}

func withdrawnLabels(r *catalogue.Revision) []string {
	labels := []string{}
	for _, w := range r.Withdrawn {
		labels = append(labels, w.Label.Text)
	}
	return labels
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
	list := make([]changeJSON, len(changes))
	for i, c := range changes {
		list[i] = changeJSON{c.Kind, c.Path.String(), orNull(say.English().Content(c.Old)), orNull(say.English().Content(c.New)), c.Group.String()}
	}
	return list
}

// orNull is nil for what was not given.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
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
