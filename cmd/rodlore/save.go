package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
)

func newSave(p *program) *cobra.Command {
	var why, tell, date string
	cmd := &cobra.Command{
		Use:   "save [MODEL|FILE...] --why REASON",
		Short: "save edits as a new revision, with the reason",
		Long: `Saves the edits of the models named, or of the whole range, together with those
of the shared files (parts, materials, settings) and of what was built, measured
and heard of their rods. A file of the range can be saved by itself. A model
whose file is gone is taken out of the range where it is named, and stays
otherwise. The reason is kept with the revision, and so are words for customers
if you give any. Specs with faults are refused. In git the result is one
ordinary commit.`,
		Example: `  rodlore save --why "butt ring 80 mm further up, the old place slapped"
  rodlore save skerry-10 --why "one ring fewer" --tell "Casts a touch lighter."
  rodlore save skerry-10 --date 2025-11-02 --why "as it went to the show"
  rodlore save builds/2026.yaml --why "rod 0148"`,
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			if why == "" {
				return misuse("say why with --why \"…\": the reason is what you will look for in later years")
			}
			when, err := p.dated(date)
			if err != nil {
				return err
			}
			req := catalogue.SaveRequest{Why: why, Tell: tell, When: when}
			if date != "" {
				req.Now = p.now()
			}
			return p.save(cmd.Context(), req, args)
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the `reason`, for yourself in later years")
	cmd.Flags().StringVar(&tell, "tell", "", "the `words` for customers")
	cmd.Flags().StringVar(&date, "date", "", "the `day` it was, where that is not today")
	return cmd
}

// save saves models, by their names, and files of the range, by their paths.
func (p *program) save(ctx context.Context, req catalogue.SaveRequest, what []string) error {
	var saved *catalogue.Saved
	var named []namedSheet
	err := p.work(ctx, func(r *catalogue.Range) (err error) {
		for _, arg := range what {
			if !isPath(arg) {
				req.Models = append(req.Models, arg)
				continue
			}
			file, err := p.rangePath(arg)
			if err != nil {
				return err
			}
			req.Files = append(req.Files, file)
		}
		if named, err = p.nameRevisions(ctx, r, req); err != nil {
			return err
		}
		saved, err = r.Save(ctx, req)
		if err != nil && len(named) > 0 {
			err = errors.Join(err, p.unname(named))
		}
		if errors.Is(err, catalogue.ErrUnchanged) && strings.TrimSpace(req.Tell) != "" {
			saved, err = p.saveWords(ctx, r, req, err)
		}
		if gone, _ := r.Gone(ctx); errors.Is(err, catalogue.ErrUnchanged) && len(gone) > 0 {
			return fmt.Errorf("%w; %s: %s", err, gone[0], goneFile(gone[0]))
		}
		return err
	})
	if err != nil {
		return err
	}
	// The new state is read back, so that what is told is what was kept.
	err = p.work(ctx, func(r *catalogue.Range) error {
		var revs []*catalogue.Revision
		for _, model := range saved.Models {
			rev, err := r.Find(model, "saved")
			if err != nil {
				return err
			}
			revs = append(revs, rev)
		}
		if !p.json {
			for _, n := range named {
				p.wrapped("", fmt.Sprintf("wrote into %s that its rod was built to %s", n.file, n.of))
			}
			return p.showSaved(ctx, r, saved, revs)
		}
		t, list := english(r), []object{}
		for _, rev := range revs {
			since, err := sinceRelease(ctx, r, rev)
			if err != nil {
				return err
			}
			list = append(list, object{{"model", rev.Model}, {"revision", revisionOf(rev)}, {"words", toldWords(t, rev.Tell, since)}})
		}
		return p.writeJSON(object{
			{"state", saved.State}, {"files", saved.Files}, {"models", list},
			{"same-rod", saved.Same}, // models whose rod it leaves as it was, and of which it says something else
			{"gone", saved.Gone},     // models that it takes out of the range
			{"left", saved.Left},     // models that stay in it though their files are gone
		})
	})
	if err != nil { // such as an interruption
		fmt.Fprintln(p.err, savedAs(saved))
	}
	return err
}

// savedAs says how much was saved, and as which state.
func savedAs(saved *catalogue.Saved) string {
	return "saved " + count(len(saved.Files), "file") + " as " + saved.State[:8] + " in git"
}

// namedSheet is a file of bench/ into which a revision was written, and what it was
// before.
type namedSheet struct {
	file, of string
	before   []byte
}

// nameRevisions writes into the files of bench/ that a save takes along which
// revision their rods were built to, where they do not say it.
func (p *program) nameRevisions(ctx context.Context, r *catalogue.Range, req catalogue.SaveRequest) (done []namedSheet, err error) {
	unnamed, err := r.Unnamed(ctx, req)
	if err != nil {
		return nil, err
	}
	for _, sheet := range unnamed {
		src, err := p.files().Read(sheet.File)
		if err != nil {
			return nil, errors.Join(err, p.unname(done))
		}
		named, err := sheet.NameRevision(src, sheet.BuiltTo)
		if err == nil {
			err = p.files().Put(sheet.File, named)
		}
		if err != nil {
			return nil, errors.Join(err, p.unname(done))
		}
		done = append(done, namedSheet{sheet.File, sheet.BuiltTo, src})
	}
	return done, nil
}

// unname makes files what they were: what they name was not saved.
func (p *program) unname(named []namedSheet) error {
	return errors.Join(say.Each(named, func(n namedSheet) error { return p.files().Put(n.file, n.before) })...)
}

// saveWords keeps words that come with no edit as a note on the model's last saved
// revision.
func (p *program) saveWords(ctx context.Context, r *catalogue.Range, req catalogue.SaveRequest, unchanged error) (*catalogue.Saved, error) {
	if len(req.Models) != 1 || len(req.Files) > 0 {
		return nil, fmt.Errorf("%w; words without an edit go to one model: name it, as in \"rodlore save MODEL --tell …\"", unchanged)
	}
	rev, err := r.Find(req.Models[0], "saved")
	if err != nil {
		return nil, err
	}
	when := req.When
	if when.IsZero() {
		when = p.now()
	}
	state, err := p.addWords(ctx, r, rev, "added", day(when), strings.TrimSpace(req.Why), strings.TrimSpace(req.Tell), req.Why)
	return &catalogue.Saved{State: state, Files: []string{catalogue.NotesFile(rev.Model)}}, err
}

// rangePath is the path within the range of a file that was named from where the
// run starts or, where there is none, from the folder of the range.
func (p *program) rangePath(arg string) (string, error) {
	path, err := filepath.Abs(p.at(arg))
	if err != nil {
		return "", err
	}
	if _, err := os.Stat(path); err != nil {
		path = filepath.Join(p.root, arg)
	}
	file, err := filepath.Rel(p.root, path)
	return filepath.ToSlash(file), err
}

func (p *program) showSaved(ctx context.Context, r *catalogue.Range, saved *catalogue.Saved, revs []*catalogue.Revision) error {
	p.println(savedAs(saved))
	for _, name := range saved.Gone {
		p.println(name + " is taken out of the range; its history stays")
	}
	for _, name := range saved.Left {
		p.indented("", wrap(name+" stays in the range: "+goneFile(name), p.width()))
	}
	if len(revs) == 0 {
		if len(saved.Gone)+len(saved.Same) == 0 {
			p.wrapped("", "no model has changed by it"+keptWith(r, saved))
		}
		return p.showSame(r, saved)
	}
	teller := stepTeller{p: p, say: english(r)}
	steps, err := r.Steps(ctx, revs, (*catalogue.Revision).LastSound)
	if err != nil {
		return err
	}
	for _, step := range steps {
		p.println()
		p.println(p.paint(bold, title(step.Revision)))
		teller.outcome(step)
		if step.Tell == "" {
			continue
		}
		since, err := sinceRelease(ctx, r, step.Revision)
		if err != nil {
			return err
		}
		p.showWords(teller.say, step.Tell, since)
	}
	return p.showSame(r, saved)
}

// keptWith says of which revisions the words of a save are that changed none.
func keptWith(r *catalogue.Range, saved *catalogue.Saved) string {
	var kept []string
	for _, file := range saved.Files {
		name := strings.TrimSuffix(path.Base(file), path.Ext(file))
		if rev, err := r.Find(name, "saved"); err == nil && len(rev.Later) > 0 {
			kept = append(kept, title(rev))
		}
	}
	if len(kept) == 0 {
		return ""
	}
	return "; its words are kept with " + strings.Join(kept, " and ")
}

// showSame tells what a save says of rods that it leaves as they were.
func (p *printer) showSame(r *catalogue.Range, saved *catalogue.Saved) error {
	for _, model := range saved.Same {
		besides, err := r.Besides(model)
		if err != nil {
			return err
		}
		for _, b := range besides {
			if b.By != nil && b.By.ID == saved.State {
				p.println()
				p.println(p.paint(bold, title(b.Revision)) + ": the same rod")
				p.differences(english(r), b.Changes, mostChanges)
			}
		}
	}
	return nil
}

// sinceRelease compares a revision with the last release before it; nil where there
// is none, or one of the two gives no figures.
func sinceRelease(ctx context.Context, r *catalogue.Range, rev *catalogue.Revision) (*catalogue.Step, error) {
	before := rev.Before.LastRelease()
	if before == nil {
		return nil, nil
	}
	step, err := r.Compare(ctx, before, rev)
	if err != nil || step.Shifts == nil {
		return nil, err
	}
	return step, nil
}
