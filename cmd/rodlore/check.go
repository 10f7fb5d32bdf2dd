package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models"
)

func newCheck(p *program) *cobra.Command {
	var remote, forget string
	cmd := &cobra.Command{
		Use:   "check [MODEL...]",
		Short: "every fault in the range's files, and what was altered of releases",
		Long: `Reads the range's files as they stand and lists every fault in them, as
file:line:col: path: message. Releases are held against what their tags and the
releases after them say, against what was seen of them on this computer before,
and against their signatures: a tag that was moved, replaced, edited or taken
away, a released spec that is another one now, a history rewritten behind a
release and a signature that does not hold are told, with the git command that
shows it. With --remote they are held against those of another repository too.
Without a model all of them are checked. A range that is in no git repository
can be checked too.`,
		Example:           "  rodlore check\n  rodlore check skerry-10\n  rodlore check --remote",
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			if cmd.Flags().Changed("forget") {
				if len(args) > 0 {
					return misuseOf("forget", "write the release after an equals sign, as in --forget=%s, and nothing else with it", args[0])
				}
				return p.forget(forget)
			}
			if cmd.Flags().Changed("remote") {
				remote = cmp.Or(remote, soleRemote)
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.check(cmd.Context(), r, args, remote) })
		},
	}
	cmd.Flags().StringVar(&remote, "remote", "", "hold the releases against those of a git remote, by its `name`; origin if not given")
	cmd.Flags().Lookup("remote").NoOptDefVal = soleRemote
	cmd.Flags().StringVar(&forget, "forget", "", "forget how a `release` was seen here before; all of them if not given")
	cmd.Flags().Lookup("forget").NoOptDefVal = allReleases
	return cmd
}

// soleRemote stands for origin, or the one remote there is.
const soleRemote = "-"

// modelNote is something to look at twice in a model without faults.
type modelNote struct{ model, note string }

// check checks models, all where none is named, and against a remote where one is.
func (p *program) check(ctx context.Context, r *catalogue.Range, names []string, remote string) error {
	r.ReadOnce()
	faults, err := r.Check(ctx, names...)
	if err != nil {
		return err
	}
	gone, err := r.Gone(ctx)
	if err != nil {
		return err
	}
	for _, model := range gone {
		faults = append(faults, &models.Fault{Pos: models.Pos{File: "models/" + model + ".yaml", Line: 1, Col: 1}, Msg: goneFile(model)})
	}
	altered, err := r.Altered(ctx, names...)
	if err != nil {
		return err
	}
	if remote != "" {
		found, err := r.AgainstRemote(ctx, strings.TrimPrefix(remote, soleRemote))
		if err != nil {
			return err
		}
		altered = append(altered, found...)
	}
	missing, err := r.Lost(ctx)
	if err != nil {
		return err
	}
	for _, m := range missing {
		p.complain("note: " + m.Error())
	}
	if len(names) == 0 {
		if names, err = r.Models(); err != nil {
			return err
		}
	}
	notes, err := modelNotes(ctx, r, names, day(p.now()))
	if err != nil {
		return err
	}
	if p.unremembered != nil {
		notes = append(notes, modelNote{"", "releases are not remembered: " + p.unremembered.Error()})
	}
	if err := p.showFaults(len(names), faults, altered, notes); err != nil {
		return err
	}
	if len(faults)+len(missing) > 0 || slices.ContainsFunc(altered, func(a catalogue.Alteration) bool { return !a.Doubt }) {
		return errNo
	}
	return nil
}

// modelNotes are what to look at twice: what no workshop would build, what the
// models want and miss, and what cannot be of their rods.
func modelNotes(ctx context.Context, r *catalogue.Range, names []string, today string) (notes []modelNote, err error) {
	set, err := r.Settings()
	if err != nil {
		return nil, nil //nolint:nilerr // told among the faults
	}
	t := say.English().Teller(set)
	add := func(model string, texts ...string) {
		for _, text := range texts {
			notes = append(notes, modelNote{model, text})
		}
	}
	called := map[string]string{} // the model that has a name already
	for _, name := range names {
		rev, err := r.Draft(name)
		if err != nil {
			return nil, err
		}
		if s := rev.Spec(); s != nil && called[s.Name.Text] != "" {
			add(name, fmt.Sprintf("it is called %s, as %s is: a customer cannot tell them apart", s.Name.Text, called[s.Name.Text]))
		} else if s != nil {
			called[s.Name.Text] = name
		}
		records, err := recordNotes(ctx, r, t, name, today)
		if err != nil {
			return nil, err
		}
		add(name, records...)
		figs, err := r.Figures(rev)
		if rev.Fault() != nil {
			continue // told among the faults
		}
		if err != nil {
			add(name, "no figures: "+err.Error())
			continue
		}
		main := notesOn(t, figs.Notes)
		for i, n := range main {
			place := ""
			if path, ok := figs.Notes[i].Args["path"].(string); ok {
				if pos := rev.Spec().PosOf(path); pos != (models.Pos{}) {
					place = pos.String() + ": "
				}
			}
			add(name, place+n.String())
		}
		if blank, err := evaluate.BoughtBlank(rev.Spec(), set); err == nil && blank != nil && blank.Fit != nil {
			add(name, disagreeing(blank.Fit, t.Narrow())...)
		}
		for _, w := range evaluate.Wants(rev.Spec(), figs) {
			if !w.Met {
				add(name, "wants "+t.Wanted(w))
			}
		}
		for _, top := range rev.Tops() {
			add(top.Model+"+"+top.Top, topNotes(r, t, top, main)...)
		}
	}
	return notes, nil
}

// topNotes are what to look at twice in a model with another of its tops, and not with
// its main one too.
func topNotes(r *catalogue.Range, t say.Teller, top *catalogue.Revision, main []footnote) []string {
	figs, err := r.Figures(top)
	if err != nil {
		return []string{err.Error()}
	}
	own := slices.DeleteFunc(notesOn(t, figs.Notes), func(n footnote) bool { return slices.Contains(main, n) })
	return say.Each(own, footnote.String)
}

// recordNotes are those of what was built, measured and heard.
func recordNotes(ctx context.Context, r *catalogue.Range, t say.Teller, model, today string) ([]string, error) {
	builds, err := r.BuildNotes(ctx, model, today)
	if err != nil {
		return nil, err
	}
	sheets, err := r.SheetNotes(model)
	if err != nil {
		return nil, err
	}
	withdrawn, err := r.WithdrawnNotes(model)
	if err != nil {
		return nil, err
	}
	found := slices.Concat(builds, sheets, withdrawn)
	remarks, err := r.Heard(model)
	if err == nil { // else told among the faults
		for _, m := range remarks {
			found = append(found, r.RemarkNotes(model, m, today)...)
		}
	}
	return told(t, found), nil
}

func (p *program) showFaults(checked int, faults models.Faults, altered []catalogue.Alteration, notes []modelNote) error {
	if p.json {
		return p.writeJSON(object{
			{"models", checked},
			{"faults", say.Each(faults, func(f *models.Fault) object { // line and column are 0 where they are not known
				return object{{"file", f.Pos.File}, {"line", f.Pos.Line}, {"column", f.Pos.Col}, {"path", f.Path}, {"message", f.Msg}}
			})},
			{"releases", say.Each(altered, func(a catalogue.Alteration) object { // that do not stand as they were made, or in doubt
				text, show := alteredWords(say.Teller{Words: say.English()}, a) // and the git command that shows it
				return object{{"model", a.Model}, {"label", a.Label}, {"tag", a.Tag}, {"text", text}, {"show", show}, {"doubt", a.Doubt}}
			})},
			{"notes", say.Each(notes, func(n modelNote) object { return object{{"model", n.model}, {"note", n.note}} })},
		})
	}
	for _, f := range faults {
		p.println(p.placed(f))
	}
	wrong := p.showAltered(altered)
	for _, n := range notes {
		p.wrapped("", "note: "+strings.TrimPrefix(n.model+": "+n.note, ": "))
	}
	result := count(checked, "model") + ", no faults"
	if len(faults) > 0 {
		result = count(checked, "model") + ", " + count(len(faults), "fault")
	}
	if wrong > 0 {
		result += ", " + count(wrong, "release") + " not as made"
	}
	p.println(result)
	return nil
}

// showAltered lists releases that do not stand as they were made, and counts
// those of which that is sure.
func (p *printer) showAltered(altered []catalogue.Alteration) (sure int) {
	for _, a := range altered {
		what := "altered: "
		if a.Doubt {
			what = "note: "
		} else {
			sure++
		}
		text, show := alteredWords(say.Teller{Words: say.English()}, a)
		p.wrapped("", what+a.Model+"@"+a.Label+": "+text)
		if show != "" {
			p.println("  look at it: " + show)
		}
	}
	return sure
}
