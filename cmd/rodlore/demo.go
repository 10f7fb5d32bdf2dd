package main

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate/figures"
)

// demoModel is the model whose evolution is shown.
const demoModel = "skerry-10"

func newDemo(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "demo DIR",
		Short: "make an invented range to look around in",
		Long: `Makes the range of an invented maker, with six years of history, as a git
repository in a new folder, and shows how one of its models evolved.`,
		Example: "  rodlore demo my-range",
		Args:    wants(1, 1, "the folder to make"),
		RunE: func(cmd *cobra.Command, args []string) error {
			at := p.at(args[0])
			if err := makeFolder(at, func(dir string) error { return buildDemo(cmd.Context(), dir) }); err != nil {
				return err
			}
			p.dir, p.made = at, true
			return p.work(cmd.Context(), func(r *catalogue.Range) error { return p.showDemo(cmd.Context(), r, at) })
		},
	}
}

// buildDemo replays the history of the demo range into a repository in dir.
func buildDemo(ctx context.Context, dir string) (err error) {
	states, err := demo.States()
	if err != nil {
		return err
	}
	draft, err := demo.Draft()
	if err != nil {
		return err
	}
	store, err := gitstore.Create(dir)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, store.Close()) }()
	head := ""
	for _, s := range states {
		if err := ctx.Err(); err != nil {
			return err
		}
		if head, err = saveDemo(ctx, store, head, s); err != nil {
			return err
		}
	}
	return putFiles(dir, draft)
}

// saveDemo saves one state on top of head and releases what it put on sale. It
// goes past the checks of Range.Save, since the demo has a mistake in its past.
func saveDemo(ctx context.Context, store *gitstore.Store, head string, s demo.State) (string, error) {
	if err := putFiles(store.Root(), s.Files); err != nil {
		return "", err
	}
	head, err := store.Save(ctx, catalogue.Save{
		Parent: head, Files: s.Files, Message: catalogue.Message(s.Why, s.Tell), Author: s.Author, When: s.When,
	})
	if err != nil || len(s.Releases) == 0 {
		return head, err
	}
	r, err := catalogue.Open(ctx, store)
	if err != nil {
		return "", err
	}
	for _, release := range s.Releases {
		rev, err := r.Find(release.Model, "saved")
		if err != nil {
			return "", err
		}
		req := catalogue.ReleaseRequest{Label: release.Label, Author: s.Author, When: s.When}
		if _, err := r.Release(ctx, rev, req); err != nil {
			return "", err
		}
	}
	return head, nil
}

func (p *program) showDemo(ctx context.Context, r *catalogue.Range, dir string) error {
	names, err := r.Models()
	if err != nil {
		return err
	}
	steps, err := historyOptions{releases: true}.steps(ctx, r, demoModel)
	if err != nil {
		return err
	}
	set, err := r.Settings()
	if err != nil {
		return err
	}
	t := say.English().Teller(set)
	if p.json {
		return p.writeJSON(object{{"range", dir}, {"models", names}, {"model", demoModel}, {"revisions", stepsOf(t, steps)}})
	}
	slices.Reverse(steps)
	intro := fmt.Sprintf("%s holds the range of %s, an invented maker: %s in one git repository. This is how the %s changed, release by release:",
		dir, set.Maker, count(len(names), "model"), steps[0].Spec().Name)
	p.wrapped("", intro)
	p.println()
	p.evolution(steps, t.Display)
	for _, s := range steps[1:] {
		p.println()
		p.println(p.paint(bold, s.Label()))
		if s.Tell != "" {
			p.wrapped(indent, "“"+reflow(s.Tell)+"”")
		}
		p.differences(t, s.Changes, 2)
	}
	p.tryNext(dir)
	return nil
}

// evolution is a table of releases with their main figures.
func (p *printer) evolution(steps []*catalogue.Step, d figures.Display) {
	shown := figures.Keys(figures.Compared)
	t := newTable(append([]column{words("release"), words("saved on")}, ofFigures(shown)...)...)
	for _, s := range steps {
		t.add(append([]string{s.Label(), day(s.When)}, valuesOf(d, s.Figures, shown, "")...)...)
	}
	p.print("", t)
}

// tryNext offers commands to copy.
func (p *printer) tryNext(dir string) {
	p.println("\nTry next:")
	for _, c := range []string{
		"history " + demoModel,
		"figures " + demoModel,
		"compare " + demoModel + "@2021 " + demoModel + "@2026",
		"compare " + demoModel,
		"bend " + demoModel + " --load 200g",
		"review " + demoModel,
		"sheet " + demoModel + "@2026 --out " + demoModel + ".pdf",
		"story " + demoModel + " --out " + demoModel + ".html",
		"serve --open",
	} {
		p.println("  rodlore -C " + visible.Arg(dir) + " " + c)
	}
	p.println("Where rodlore is not installed, write \"go run ./cmd/rodlore\" for \"rodlore\".")
}
