package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/plan"
	"rodlore/catalogue/say"
	"rodlore/catalogue/working"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/spelling"
)

// stepsOptions say what is planned and what becomes of the plan.
type stepsOptions struct {
	to, write string
	releases  int
	first     []string // keys of figures
}

func newSteps(p *program) *cobra.Command {
	var o stepsOptions
	cmd := &cobra.Command{
		Use:   "steps MODEL[@REV] --to GOAL.yaml --releases N",
		Short: "the rods between the one on sale and the one you want",
		Long: `Plans the releases by which a rod becomes another, so that none of them changes
more of what a customer sees than steps in range.yaml allows. It starts from the
last release, or from the revision named, and ends with the goal: a spec of the
same model, of which the draft or another revision will do too.

Edits are made group by group, as compare tells them. What changes more than one
release allows is divided: rings go or come one by one, the butt ring moves in
equal parts of its way and changes by one of your sizes, lengths of blank and
handle lie in between. Rings between those of the two rods are laid out anew on
each bent rod, as patterns does it.

Of all orders that keep to the limits, the one is taken in which the figures
named by --first come furthest in the releases before the last: each counts as
a share of its whole change, and all count alike. Every release changes
something. Where the goal is out of reach, you are told which limit stops it and
how many releases it takes.`,
		Example: `  rodlore steps skerry-10 --to lighter.yaml --releases 3
  rodlore steps skerry-10@2021 --to skerry-10@2026 --releases 4 --first recovery
  rodlore steps skerry-10 --to lighter.yaml --releases 3 --write plan`,
		Args:              wants(1, 1, "one model or revision"),
		ValidArgsFunction: p.completeRods,
		PreRunE:           func(*cobra.Command, []string) error { return o.check() },
		RunE:              func(cmd *cobra.Command, args []string) error { return p.steps(cmd.Context(), args[0], o) },
	}
	cmd.Flags().StringVar(&o.to, "to", "", "the `goal`: the path of a spec, or a revision such as skerry-10@2026")
	cmd.Flags().IntVar(&o.releases, "releases", 0, "the `number` of releases, the goal among them")
	cmd.Flags().StringSliceVar(&o.first, "first", figures.Keys(figures.Aim), "`figures` to improve as early as possible")
	cmd.Flags().StringVar(&o.write, "write", "", "put the specs into this `folder`, which must be new or empty")
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("first", completeFigures))
	return cmd
}

// completeFigures offers the keys of the figures.
func completeFigures(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return say.Each(figures.All(), func(f figures.Kind) string { return cobra.CompletionWithDesc(f.Key, figures.Short(f.Key)) }), cobra.ShellCompDirectiveNoFileComp
}

// check refuses options that make no sense, whatever the rod.
func (o stepsOptions) check() error {
	switch {
	case o.to == "":
		return misuse("steps wants a goal: --to GOAL.yaml, or --to MODEL for its draft")
	case o.releases < 1 || o.releases > plan.MostReleases:
		return misuse("--releases wants a number from 1 to %d, the goal among them", plan.MostReleases)
	}
	for _, key := range o.first {
		if err := isFigure("first", key); err != nil {
			return err
		}
	}
	return nil
}

// isFigure refuses what is no key of a figure.
func isFigure(option, key string) error {
	if known := figures.Keys(figures.Every); !slices.Contains(known, key) {
		return misuseOf(option, "there is no figure %q%s", key, spelling.DidYouMean(key, known))
	}
	return nil
}

// journey is a plan with what it was made from.
type journey struct {
	*plan.Plan
	start      *catalogue.Revision
	goal       string // as it was named
	task       plan.Task
	from, to   string // the texts of start and goal
	model, dir string // where the specs were written, "" for nowhere
}

func (p *program) steps(ctx context.Context, arg string, o stepsOptions) error {
	var j *journey
	err := p.look(ctx, func(r *catalogue.Range) (err error) {
		j, err = p.plan(ctx, r, arg, o)
		return err
	})
	var unreachable *plan.Unreachable
	if errors.As(err, &unreachable) {
		return errors.New(say.English().Teller(j.task.Settings).Unreachable(unreachable))
	}
	if err != nil {
		return err
	}
	if o.write != "" {
		if err := j.write(p.at(o.write)); err != nil {
			return err
		}
		j.dir = o.write
	}
	return p.show(func() object { return journeyOf(j) }, func() { p.showJourney(j) })
}

// plan finds start and goal, both of the parts and materials of today, and plans
// the way.
func (p *program) plan(ctx context.Context, r *catalogue.Range, arg string, o stepsOptions) (*journey, error) {
	j := &journey{goal: o.to, task: plan.Task{Releases: o.releases, First: o.first}}
	task := &j.task
	var err error
	if task.Settings, err = r.Settings(); err != nil {
		return nil, err
	}
	if task.Parts, task.Materials, err = r.Shared(); err != nil {
		return nil, err
	}
	if task.Limits, err = r.Limits(); err != nil {
		return nil, err
	}
	if err := j.findStart(r, arg, task); err != nil {
		return nil, err
	}
	var file string
	if file, j.to, err = p.goalText(r, o.to); err != nil {
		return nil, err
	}
	if task.Goal, err = models.ParseSpec(file, []byte(j.to), task.Parts, task.Materials); err != nil {
		return nil, err
	}
	if a, b := task.Start.Name.Text, task.Goal.Name.Text; a != b {
		return nil, fmt.Errorf("%s is the spec of a %s, not of a %s; a plan leads from a rod to another of the same model and name", o.to, b, a)
	}
	j.Plan, err = plan.Make(ctx, *task)
	return j, err
}

// findStart finds the revision that a plan starts from: the last release, or the
// one named.
func (j *journey) findStart(r *catalogue.Range, arg string, task *plan.Task) (err error) {
	if j.start, err = r.FindArg(arg); err != nil {
		return err
	}
	j.model = j.start.Model
	if !strings.Contains(arg, "@") {
		if j.start = j.start.LastRelease(); j.start == nil {
			return fmt.Errorf("%s was never released; name the revision to start from, such as %s@saved", arg, arg)
		}
	}
	if j.start.Fault() != nil {
		return j.start.Fault()
	}
	if j.from, err = r.Source(j.start); err != nil {
		return err
	}
	task.Start, err = models.ParseSpec(j.start.File, []byte(j.from), task.Parts, task.Materials)
	if err != nil {
		return fmt.Errorf("%s cannot be built of what parts.yaml and materials.yaml hold today: %s", title(j.start), firstFault(err))
	}
	return nil
}

// goalText is the text of the goal and its file, seen from the range's folder.
func (p *program) goalText(r *catalogue.Range, name string) (file, text string, err error) {
	if !isPath(name) {
		rev, err := r.FindArg(name)
		if err != nil {
			return "", "", fmt.Errorf("--to: %w", err)
		}
		text, err = r.Source(rev)
		return rev.File, text, err
	}
	src, err := working.ReadFile(p.at(name))
	if err != nil {
		return "", "", fmt.Errorf("--to: %w", err)
	}
	if file, err = filepath.Abs(p.at(name)); err == nil {
		file, err = filepath.Rel(p.root, file)
	}
	return file, string(src), err
}

// write puts the specs of a plan into a folder that is new or empty: all of them
// or, where one cannot be written, none.
func (j *journey) write(dir string) error {
	last := len(j.Releases) - 1
	files := map[string][]byte{j.file(last): []byte(j.to)}
	for i, r := range j.Releases[:last] {
		text, err := models.SpliceSpec(j.file(i), []byte(j.from), []byte(j.to), r.Spec.Model)
		if err != nil {
			return fmt.Errorf("release %d: %w", i+1, err)
		}
		files[j.file(i)] = text
	}
	return makeFolder(dir, func(dir string) error { return putFiles(dir, files) })
}

// file is where the spec of a release is written.
func (j *journey) file(release int) string { return fmt.Sprintf("%s-%d.yaml", j.model, release+1) }

// journeyOf is what steps prints, SI.
func journeyOf(j *journey) object {
	t, before := say.English().Teller(j.task.Settings), j.task.Start
	var releases []object // each against the one before; the last one is the goal
	for i, r := range j.Releases {
		file := ""
		if j.dir != "" {
			file = j.file(i)
		}
		releases = append(releases, object{
			{"id", r.Spec.ID()}, {"changes", changesOf(diffing.Specs(before, r.Spec))}, {"sights", sightsOf(t, r.Sights)},
			{"figures", figuresOf(t, r.Figures)}, {"file", orNull(file)},
		})
		before = r.Spec
	}
	return object{
		{"model", j.model}, {"start", revisionOf(j.start)},
		{"goal", j.goal},        // as it was named
		{"first", j.task.First}, // figures
		{"figures", figuresOf(t, j.Start)}, {"releases", releases},
		{"ways", j.Ways},           // orders that keep to the limits, of which this is the best
		{"together", j.Together},   // edits that were not told apart
		{"written", orNull(j.dir)}, // the folder
		{"notes", j.notes(t)},
	}
}
