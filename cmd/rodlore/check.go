package main

import (
	"github.com/spf13/cobra"

	"rodlore/catalogue"
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
	checked := len(names)
	if checked == 0 {
		all, err := r.Models()
		if err != nil {
			return err
		}
		checked = len(all)
	}
	if err := p.showFaults(checked, faults); err != nil {
		return err
	}
	if len(faults) > 0 {
		return errNo
	}
	return nil
}

func (p *program) showFaults(checked int, faults models.Faults) error {
	if p.json {
		doc := checkJSON{schema: schema1, Models: checked, Faults: []faultJSON{}}
		for _, f := range faults {
			doc.Faults = append(doc.Faults, faultJSON{f.Pos.File, f.Pos.Line, f.Pos.Col, f.Path, f.Msg})
		}
		return p.writeJSON(doc)
	}
	for _, f := range faults {
		p.println(p.placed(f))
	}
	if len(faults) == 0 {
		p.println(count(checked, "model") + ", no faults")
	} else {
		p.println(count(checked, "model") + ", " + count(len(faults), "fault"))
	}
	return nil
}
