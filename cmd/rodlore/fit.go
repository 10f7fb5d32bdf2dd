package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/spelling"
)

// fitOptions say what is fitted to which measurements.
type fitOptions struct {
	bench  string
	free   []string
	figure string
	write  bool
}

func newFit(p *program) *cobra.Command {
	var o fitOptions
	cmd := &cobra.Command{
		Use:   "fit MODEL",
		Short: "what measurements of a rod tell of its blank",
		Long: `Holds what was measured of one rod, a file of bench/, against what its spec and
tolerances predict, and finds by how much the rod differs from its spec:

  modulus   of each section, all its materials alike
  wall      of each section, all along
  bonding   of the rings' feet to the blank
  damping
  turn      of the tip that your eye takes for square

Whatever is not fitted may still be off by its tolerance, and nothing is taken
to be off by more than the readings make likely. Each reading is
held against what all the others predict, in standard deviations.

--write puts what was found of the rod into the draft, which figures are worked
out with from then on. It leaves range.yaml alone.`,
		Example: `  rodlore fit skerry-10
  rodlore fit skerry-10 --bench skerry-0147 --free modulus,wall --for recovery
  rodlore fit skerry-10 --write`,
		Args:              wants(1, 1, "one model"),
		ValidArgsFunction: p.completeModels,
		RunE:              func(cmd *cobra.Command, args []string) error { return p.fit(cmd.Context(), args[0], o) },
	}
	cmd.Flags().StringVar(&o.bench, "bench", "", "`name` of the file of bench/, without .yaml, where there are several")
	cmd.Flags().StringSliceVar(&o.free, "free", nil, "what is fitted, a `list` such as modulus,wall; everything if not given")
	cmd.Flags().StringVar(&o.figure, "for", "", "say what to measure next to know this `figure` better; third-load if not given")
	cmd.Flags().BoolVar(&o.write, "write", false, "put what was found into the draft")
	completeWords(cmd, "free", texts(evaluate.Frees))
	completeWords(cmd, "for", figures.Keys(figures.Every))
	return cmd
}

// completeWords lets the shell complete an option that takes one of some words.
func completeWords(cmd *cobra.Command, option string, words []string) {
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc(option, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)))
}

// texts are words as such.
func texts[S ~string](words []S) []string {
	return say.Each(words, func(word S) string { return string(word) })
}

// options reads the options.
func (o fitOptions) options() (opts evaluate.FitOptions, err error) {
	opts.For = o.figure
	if o.figure != "" {
		if err := isFigure("for", o.figure); err != nil {
			return opts, err
		}
	}
	known := texts(evaluate.Frees)
	for _, word := range o.free {
		if word = strings.TrimSpace(word); !slices.Contains(known, word) {
			return opts, misuseOf("free", "%q is not one of %s%s", word, strings.Join(known, ", "), spelling.DidYouMean(word, known))
		}
		opts.Free = append(opts.Free, evaluate.Free(word))
	}
	return opts, nil
}

// fittedRod is a rod with what its measurements tell.
type fittedRod struct {
	subject // the revision it was built to
	sheet   *models.Bench
	draft   *catalogue.Revision
	fit     *evaluate.Fit
	written bool
}

func (p *program) fit(ctx context.Context, model string, o fitOptions) error {
	opts, err := o.options()
	if err != nil {
		return err
	}
	if name, rev, given := strings.Cut(model, "@"); given {
		return misuse("fit takes the revision from the file of bench/, \"of: %s\"; write fit %s", rev, name)
	}
	var rod *fittedRod
	err = p.look(ctx, func(r *catalogue.Range) error {
		rod, err = measuredRod(r, model, o.bench)
		return err
	})
	if err != nil {
		return err
	}
	readings, err := evaluate.Readings(rod.sheet, rod.Spec(), rod.set)
	if err != nil {
		return err
	}
	if rod.fit, err = evaluate.FitRod(ctx, rod.Spec(), rod.set, readings, opts); err != nil {
		return err
	}
	if o.write {
		if err := p.writeFit(rod); err != nil {
			return err
		}
	}
	return p.show(func() object { return fitOf(rod) }, func() {
		p.showFit(rod)
		if o.write {
			p.tellWritten(rod)
		}
	})
}

// measuredRod finds a measured rod and the revision that it was built to.
func measuredRod(r *catalogue.Range, model, bench string) (*fittedRod, error) {
	draft, err := r.Draft(model)
	if err != nil {
		return nil, err
	}
	sheet, err := r.Sheet(model, bench)
	if err != nil {
		return nil, err
	}
	built, err := r.Built(sheet)
	if err != nil {
		return nil, err
	}
	set, err := r.Settings()
	return &fittedRod{subject: subject{built, set}, sheet: sheet, draft: draft}, err
}

// hopeless is the chance of a rod below which a fit to it is not written.
const hopeless = 1e-4

// writeFit puts what was found into the draft, which must have the same blank.
func (p *program) writeFit(rod *fittedRod) error {
	block, err := blockOf(rod)
	if err != nil {
		return err
	}
	rod.written, err = splice(p.files(), rod.draft.File, func(src []byte) ([]byte, error) {
		return models.SpliceFitted(rod.draft.File, src, block)
	})
	return err
}

// blockOf is what goes into the draft, or why nothing does.
func blockOf(rod *fittedRod) (*models.Fitted, error) {
	if rod.draft.Fault() != nil {
		return nil, rod.draft.Fault()
	}
	if rod.fit.Chance < hopeless {
		return nil, fmt.Errorf("%s: %s is hardly a rod of this spec, so its fit is not written; take out readings that are wrong, or give the fit more room with tolerances in the spec",
			rod.sheet.File, say.English().RodName(rod.sheet.Rod.Text))
	}
	if !evaluate.SameBlank(rod.Spec(), rod.draft.Spec()) {
		return nil, fmt.Errorf("%s: the draft has another blank than %s was built on; a fit to that rod tells nothing of it",
			rod.draft.File, say.English().RodName(rod.sheet.Rod.Text))
	}
	block, err := rod.fit.Block(say.English().RodName(rod.sheet.Rod.Text), rod.sheet.Date)
	if err != nil {
		return nil, err
	}
	if block.Empty() && len(block.KnownTo) == 0 {
		return nil, fmt.Errorf("%s: its readings tell nothing of the rod that the spec does not say; measure more of it", rod.sheet.File)
	}
	return block, nil
}

// tellWritten says what became of the draft.
func (p *printer) tellWritten(rod *fittedRod) {
	p.println()
	if !rod.written {
		p.println(rod.draft.File + " has this fit already; nothing written")
		return
	}
	p.println("wrote the fit into " + rod.draft.File + "; look at it and save it:")
	p.lookAndSave("figures", rod.draft.Model)
}

// fitOf is what fit prints, SI.
func fitOf(rod *fittedRod) object {
	fit, t, written := rod.fit, say.Teller{Words: say.English()}, ""
	if rod.written {
		written = rod.draft.File
	}
	return object{
		{"model", rod.Model},
		{"revision", revisionOf(rod.Revision)}, // that the rod was built to
		{"sheet", rod.sheet.File}, {"rod", rod.sheet.Rod.Text}, {"date", rod.sheet.Date.Text},
		{"readings", say.Each(fit.Readings, func(r evaluate.FittedReading) object {
			return object{
				{"name", t.Note(r.Name())}, {"figure", orNull(r.Figure)},
				{"value", r.Value}, // of a traced point how far it lies off the rod
				{"deviation", r.Deviation}, {"unit", r.Unit}, {"before", r.Before}, {"after", r.After}, {"off", r.Off}, {"disagrees", r.Disagrees},
			}
		})},
		// How much more each is than spec or range say, and its standard deviations.
		{"unknowns", say.Each(fit.Parameters, func(u evaluate.Parameter) object {
			return object{
				{"free", u.Free}, {"section", orNull(u.Section)}, {"value", u.Value}, {"unit", u.Unit},
				{"before", u.Before}, {"after", u.After}, {"told", u.Told()},
			}
		})},
		{"correlations", fit.Correlations}, // of two unknowns, by their places in the list from 0
		{"squares", fit.Squares}, {"chance", fit.Chance}, {"threshold", fit.Threshold}, {"for", fit.For},
		{"known", fit.Know}, // standard deviation of that figure of the rod
		{"next", say.Each(fit.Next, func(n evaluate.Next) object { return object{{"name", t.Note(n.Name())}, {"known", n.Know}} })},
		{"written", orNull(written)}, // the file; null where none was
		{"caution", say.English().Say("cautions.weights.text")},
	}
}
