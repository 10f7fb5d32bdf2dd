package main

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// compareOptions say what a comparison shows.
type compareOptions struct {
	all, text, exitCode bool
	shares              bool
	only                string // the one group whose shares are wanted
}

func newCompare(p *program) *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare MODEL[@REV] [MODEL[@REV]]",
		Short: "what changed between two rods, and what it did",
		Long: `What differs between two revisions, of one model or of two, and what that does
to the figures. A model alone is compared as it stands with its last release,
or with what was saved last if it never was on sale; one revision alone is
compared with the draft. --shares says which edit did what.`,
		Example: `  rodlore compare skerry-10
  rodlore compare skerry-10@2022 skerry-10@2025
  rodlore compare skerry-10@2021 skerry-10@2026 --shares
  rodlore compare skerry-10 --only ring-pattern
  rodlore compare skerry-10@2025 --text`,
		Args:              wants(1, 2, "one or two models or revisions"),
		ValidArgsFunction: p.completeRods,
		PreRunE: func(*cobra.Command, []string) error {
			if o.text && (o.shares || o.only != "") {
				return misuse("--text shows how specs are written, which has no shares; leave out one of the two")
			}
			return nil
		},
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error { return p.compare(ctx, r, args, o) }),
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show all figures and respelled values")
	cmd.Flags().BoolVar(&o.text, "text", false, "show how the text of the specs differs")
	cmd.Flags().BoolVar(&o.shares, "shares", false, "show which edit did what")
	cmd.Flags().StringVar(&o.only, "only", "", "show what the edits of one `group` did, such as ring-pattern")
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("only", p.completeGroups))
	cmd.Flags().BoolVar(&o.exitCode, "exit-code", false, "exit with 1 if the rod changed, as diff does")
	return cmd
}

func (p *program) compare(ctx context.Context, r *catalogue.Range, args []string, o compareOptions) error {
	old, now, err := bothSides(r, args)
	if err != nil {
		return err
	}
	for _, rev := range []*catalogue.Revision{old, now} {
		if rev.Fault() != nil && !o.text {
			return rev.Fault()
		}
	}
	step, err := r.Compare(ctx, old, now)
	if err != nil {
		return err
	}
	actions, err := r.Actions(ctx, old, now)
	if err != nil {
		return err
	}
	switch {
	case o.text:
		err = p.compareText(r, old, now)
	case o.shares || o.only != "":
		err = p.compareShares(ctx, r, step, o)
	default:
		t := english(r)
		err = p.show(func() object { return comparisonOf(t, step, nil, actions) }, func() { p.showComparison(t, step, actions, o.all) })
	}
	if err == nil && o.exitCode && (old.ID != now.ID || old.Top != now.Top) {
		return errNo
	}
	return err
}

// bothSides finds what is compared.
func bothSides(r *catalogue.Range, args []string) (old, now *catalogue.Revision, err error) {
	if old, err = r.FindRod(args[0]); err != nil {
		return nil, nil, err
	}
	if len(args) == 2 {
		now, err = r.FindRod(args[1])
		return old, now, err
	}
	if strings.Contains(args[0], "@") {
		if now, err = r.Draft(old.Model); err != nil {
			return nil, nil, err
		}
	} else {
		now = old
		if old = now.Before.LastRelease(); old == nil {
			old = now.LastSound()
		}
		if old == nil {
			return nil, nil, fmt.Errorf("%s: there is nothing before it to compare with", args[0])
		}
	}
	// The same top on both sides.
	top := cmp.Or(old.Top, now.Top)
	for _, rev := range []**catalogue.Revision{&old, &now} {
		if err == nil && (*rev).Top != top {
			*rev, err = (*rev).With(top)
		}
	}
	return old, now, err
}

// compareText prints how the specs differ as they are written.
func (p *program) compareText(r *catalogue.Range, old, now *catalogue.Revision) error {
	a, err := r.Source(old)
	if err != nil {
		return err
	}
	b, err := r.Source(now)
	if err != nil {
		return err
	}
	text := diffing.Text(nameOf(old), a, nameOf(now), b)
	if p.json {
		return p.writeJSON(object{{"text", text}})
	}
	for line := range strings.Lines(text) {
		p.println(p.paintDiff(strings.TrimRight(line, "\n")))
	}
	return nil
}

func nameOf(r *catalogue.Revision) string { return r.File + "@" + heading(r) }

func (p *printer) paintDiff(line string) string {
	switch {
	case strings.HasPrefix(line, "--- "), strings.HasPrefix(line, "+++ "):
		return p.paint(bold, line)
	case strings.HasPrefix(line, "@@"):
		return p.paint(faint, line)
	case strings.HasPrefix(line, "+"):
		return p.paint(blue, line)
	case strings.HasPrefix(line, "-"):
		return p.paint(amber, line)
	}
	return line
}

// comparisonNotes are the notes of the comparison and of the newer figures,
// and why there are none.
func comparisonNotes(t say.Teller, s *catalogue.Step) []footnote {
	notes := notesOf(told(t, s.Notes))
	if s.Figures != nil {
		notes = append(notes, notesOn(t, s.Figures.Notes)...)
	}
	if s.Unworkable != nil {
		notes = append(notes, footnote{"", "no figures: " + s.Unworkable.Error()})
	}
	return notes
}

func (p *printer) showComparison(t say.Teller, s *catalogue.Step, actions *evaluate.Actions, all bool) {
	p.showSides(s)
	if actions != nil {
		p.wrapped("", actionWords(t.Display, *actions))
		p.println()
	}
	p.showChanges(t, s.Changes, all)
	p.println()
	if s.Seen != nil {
		p.showSights(t, heading(s.Against), heading(s.Revision), s.Sights())
		p.println()
	}
	notes := &footnotes{list: comparisonNotes(t, s)}
	p.showShifts(t, s, notes, all)
	p.showFootnotes(notes)
}

// showSides prints what is compared.
func (p *printer) showSides(s *catalogue.Step) {
	for _, line := range wrap(title(s.Against)+" → "+side(s.Against, s.Revision), p.width()) {
		p.println(p.paint(bold, line))
	}
	p.println()
}

// side names the newer revision without repeating a name that is the same.
func side(old, now *catalogue.Revision) string {
	if old.Spec() != nil && now.Spec() != nil && old.Spec().Name.Text == now.Spec().Name.Text {
		return standing(now)
	}
	return title(now)
}

// showChanges lists the changes of the spec, group by group.
func (p *printer) showChanges(t say.Teller, changes []diffing.Change, all bool) {
	edits := diffing.Edits(changes)
	if len(edits) == 0 {
		p.println("the same rod")
	}
	for _, e := range edits {
		p.println(p.paint(bold, e.Group.String()))
		for _, c := range e.Changes {
			lines := wrap(t.Difference(c), p.width()-4)
			p.println("  " + p.paint(styles[c.Kind], lines[0]))
			p.indented("    ", lines[1:])
		}
	}
	p.showRespelled(t, changes, all)
}

var styles = map[diffing.Kind]style{diffing.Added: blue, diffing.Removed: amber}

// showRespelled lists or counts the values that are only written otherwise.
func (p *printer) showRespelled(t say.Teller, changes []diffing.Change, all bool) {
	var again []string
	for _, c := range changes {
		if c.Kind == diffing.Respelled {
			again = append(again, t.Difference(c))
		}
	}
	switch {
	case len(again) == 0:
	case !all:
		p.println(count(len(again), "value") + " written otherwise with the same meaning; --all shows them")
	default:
		p.println(p.paint(bold, "written otherwise"))
		for _, text := range again {
			p.wrapped("  ", text)
		}
	}
}
