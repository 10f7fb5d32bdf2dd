package main

import (
	"context"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
)

// reasonJSON is something that speaks against a rod.
type reasonJSON struct {
	Rule  string `json:"rule"`
	Grave bool   `json:"grave"` // it makes the rod not fit; others are reservations
	Text  string `json:"text"`
}

func reasonsOf(v *catalogue.Review) []reasonJSON {
	list := make([]reasonJSON, len(v.Reasons))
	for i, r := range v.Reasons {
		list[i] = reasonJSON(r)
	}
	return list
}

// showVerdict prints the verdict and its reasons.
func (p *program) showVerdict(v *catalogue.Review) {
	p.println(p.paint(bold, "Verdict: "+string(v.Verdict())))
	t := table{columns: []column{{}, {wraps: true}}}
	for _, r := range v.Reasons {
		t.add(gravity(r), r.Text)
	}
	p.print("  ", t)
}

// gravity is the word in front of a reason.
func gravity(r catalogue.Reason) string {
	if r.Grave {
		return "against it"
	}
	return "reservation"
}

var _ = context.Background
var _ = cobra.NoArgs
