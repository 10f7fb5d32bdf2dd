package main

import (
	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/evaluate"
	"rodlore/models"
)

func newCheck(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "check [MODEL...]",
		Short: "every fault in the range's files",
		Long: `Reads the range's files as they stand and lists every fault in them, as
file:line:col: path: message. Without a model all of them are checked. A range
that is in no git repository can be checked too.`,
		Example:           "  rodlore check\n  rodlore check skerry-10",
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.check(r, args) })
		},
	}
}

// checkJSON is what check prints.
type checkJSON struct {
	schema
	Models int         `json:"models"`
	Faults []faultJSON `json:"faults"`
	Notes  []modelNote `json:"notes"`
}

// modelNote is something to look at twice in a model without faults.
type modelNote struct {
	Model string `json:"model"`
	Note  string `json:"note"`
}

// faultJSON is one fault; line and column are 0 where they are not known.
type faultJSON struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Message string `json:"message"`
}

func (p *program) check(r *catalogue.Range, names []string) error {
	faults, err := r.Check(names...)
	if err != nil {
		return err
	}
	if len(names) == 0 {
		if names, err = r.Models(); err != nil {
			return err
		}
	}
	notes, err := modelNotes(r, names)
	if err != nil {
		return err
	}
	if err := p.showFaults(len(names), faults, notes); err != nil {
		return err
	}
	if len(faults) > 0 {
		return errNo
	}
	return nil
}

// modelNotes are what to look at twice: what no workshop would build, and what
// the models want and miss.
func modelNotes(r *catalogue.Range, names []string) ([]modelNote, error) {
	set, err := r.Settings()
	if err != nil {
		return nil, nil //nolint:nilerr // told among the faults
	}
	notes := []modelNote{}
	for _, name := range names {
		rev, err := r.Draft(name)
		if err != nil {
			return nil, err
		}
		figs, err := r.Figures(rev)
		if err != nil {
			continue // told among the faults, or no rod at all
		}
		for _, n := range figs.Notes {
			notes = append(notes, modelNote{name, n})
		}
		for _, w := range evaluate.Wants(rev.Spec, figs) {
			if !w.Met {
				notes = append(notes, modelNote{name, "wants " + w.Tell(evaluate.DisplayOf(set))})
			}
		}
	}
	return notes, nil
}

func (p *program) showFaults(checked int, faults models.Faults, notes []modelNote) error {
	if p.json {
		doc := checkJSON{schema: schema1, Models: checked, Faults: []faultJSON{}, Notes: listOf(notes)}
		for _, f := range faults {
			doc.Faults = append(doc.Faults, faultJSON{f.Pos.File, f.Pos.Line, f.Pos.Col, f.Path, f.Msg})
		}
		return p.writeJSON(doc)
	}
	for _, f := range faults {
		p.println(p.placed(f))
	}
	for _, n := range notes {
		p.indented("", wrap("note: "+n.Model+": "+n.Note, p.width()))
	}
	if len(faults) == 0 {
		p.println(count(checked, "model") + ", no faults")
	} else {
		p.println(count(checked, "model") + ", " + count(len(faults), "fault"))
	}
	return nil
}
