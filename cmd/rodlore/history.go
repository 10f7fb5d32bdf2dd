package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// historyOptions say which part of a history is wanted.
type historyOptions struct {
	most     int
	since    string
	releases bool
	all      bool
}

func newHistory(p *program) *cobra.Command {
	var o historyOptions
	cmd := &cobra.Command{
		Use:   "history MODEL",
		Short: "every revision of a model, and what it changed",
		Long: `The revisions of a model, newest first: why each was made, what it changed in
the spec and what that did to the rod, in three lines each; --all has every
change, figure, word for customers and note. An edited file that is not saved
stands in front as the draft. A saved state that left the rod as it was, and
changed a price or what is wanted of it, stands between them by itself.`,
		Example: `  rodlore history skerry-10
  rodlore history skerry-10 --releases
  rodlore history skerry-10 -n 5 --since 2024 --all`,
		Args:              wants(1, 1, "one model"),
		ValidArgsFunction: p.completeModels,
		PreRunE:           func(*cobra.Command, []string) error { return o.check() },
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error {
			steps, err := o.steps(ctx, r, args[0])
			if err != nil {
				return err
			}
			out, err := o.takenOut(r, args[0], steps)
			if err != nil {
				return err
			}
			beside, err := o.besides(r, args[0], steps)
			if err != nil {
				return err
			}
			return p.show(
				func() object { return historyOf(english(r), args[0], r, steps, out, beside) },
				func() { p.showHistory(r, args[0], steps, out, beside, o.all) },
			)
		}),
	}
	cmd.Flags().IntVarP(&o.most, "number", "n", 0, "show this `number` of the newest only")
	cmd.Flags().StringVar(&o.since, "since", "", "show what is as new as this `date` only: 2024, 2024-05 or 2024-05-31")
	cmd.Flags().BoolVar(&o.releases, "releases", false, "show releases only, each against the one before")
	cmd.Flags().BoolVar(&o.all, "all", false, "show everything that is told of each")
	return cmd
}

// check refuses options that make no sense.
func (o historyOptions) check() error {
	switch {
	case o.most < 0:
		return misuse("-n wants a number above zero, not %d", o.most)
	case o.since != "" && !catalogue.IsDate(o.since):
		return misuseOf("since", "%q is no date; write 2024, 2024-05 or 2024-05-31", o.since)
	}
	return nil
}

// steps works out the part of the history that is wanted and no more.
func (o historyOptions) steps(ctx context.Context, r *catalogue.Range, model string) ([]*catalogue.Step, error) {
	revs, err := r.Timeline(model)
	if err != nil {
		return nil, err
	}
	before := (*catalogue.Revision).LastSound
	if o.releases {
		before = func(rev *catalogue.Revision) *catalogue.Revision { return rev.Before.LastRelease() }
	}
	revs = slices.DeleteFunc(revs, func(rev *catalogue.Revision) bool {
		return o.releases && rev.Status != catalogue.Released ||
			rev.Status != catalogue.Draft && rev.Day() < o.since
	})
	if o.most > 0 {
		revs = revs[:min(o.most, len(revs))]
	}
	return r.Steps(ctx, revs, before)
}

// takenOut lists when the model was taken out of the range in the part of the
// history that is wanted.
func (o historyOptions) takenOut(r *catalogue.Range, model string, steps []*catalogue.Step) ([]*catalogue.TakenOut, error) {
	out, err := r.TakenOut(model)
	return slices.DeleteFunc(out, func(t *catalogue.TakenOut) bool { return o.older(t.When, steps) }), err
}

// besides lists what was edited that made no other rod, in the part of the history
// that is wanted.
func (o historyOptions) besides(r *catalogue.Range, model string, steps []*catalogue.Step) ([]*catalogue.Beside, error) {
	if o.releases {
		return nil, nil
	}
	all, err := r.Besides(model)
	return slices.DeleteFunc(all, func(b *catalogue.Beside) bool { return b.By != nil && o.older(b.By.When, steps) }), err
}

// older reports whether a saved state lies before the part of the history that is
// wanted.
func (o historyOptions) older(when time.Time, steps []*catalogue.Step) bool {
	return when.Format(time.DateOnly) < o.since || o.most > 0 && len(steps) == o.most && when.Before(steps[len(steps)-1].When)
}

func (p *program) showHistory(
	r *catalogue.Range, model string, steps []*catalogue.Step, out []*catalogue.TakenOut, beside []*catalogue.Beside, all bool,
) {
	if len(steps)+len(out)+len(beside) == 0 {
		p.println("nothing to show: " + model + " has no such revision")
	}
	teller := stepTeller{p: p, say: english(r), authors: severalAuthors(steps), all: all}
	for i, e := range teller.entries(steps, out, beside) {
		if i > 0 {
			p.println()
		}
		p.println(e.head)
		if all {
			e.tell()
			continue
		}
		teller.line(reflow(e.why))
		teller.line(e.short...)
	}
	if !all {
		p.paragraph("--all shows all there is to each; \"compare\" sets two side by side")
	}
	p.remarked = true
	p.showNotes(notesOf(say.Each(r.Notes(), error.Error)))
}

func severalAuthors(steps []*catalogue.Step) bool {
	authors := map[string]bool{}
	for _, s := range steps {
		authors[s.Author] = true
	}
	delete(authors, "") // of drafts
	return len(authors) > 1
}

// stepTeller prints revisions and what they changed.
type stepTeller struct {
	p       *program
	say     say.Teller
	authors bool // say who
	all     bool // everything, and not in a line
}

// indent sets what is said of a revision off from its head.
const indent = "  "

// mostChanges is how many changes of one group are told in a history.
const mostChanges = 4

// entry is what is told of one time.
type entry struct {
	when  time.Time
	head  string
	why   string
	short []string // in parts, what came of it
	tell  func()   // all there is to it
}

// entries are revisions, when the model was taken out and what was edited besides,
// newest first, with what is not saved in front.
func (t stepTeller) entries(steps []*catalogue.Step, out []*catalogue.TakenOut, beside []*catalogue.Beside) []entry {
	var now, past, told []entry
	for _, b := range beside {
		if b.By == nil {
			now = append(now, t.beside(b, time.Time{}, "the same rod, edited and not saved", ""))
		} else {
			past = append(past, t.beside(b, b.By.When, "the same rod", "  "+b.By.Day()+t.author(b.By.Author)))
		}
	}
	for _, o := range out {
		past = append(past, t.takenOut(o))
	}
	slices.SortStableFunc(past, func(a, b entry) int { return b.when.Compare(a.when) })
	for _, s := range steps {
		if s.Status == catalogue.Draft {
			now = append(now, t.step(s))
			continue
		}
		// Revisions stand in the order of the history, whatever the clocks showed.
		past = slices.DeleteFunc(past, func(e entry) bool {
			newer := !e.when.Before(s.When)
			if newer {
				told = append(told, e)
			}
			return newer
		})
		told = append(told, t.step(s))
	}
	return slices.Concat(now, told, past)
}

// beside is what was edited and made no other rod.
func (t stepTeller) beside(b *catalogue.Beside, at time.Time, what, when string) entry {
	return entry{at, t.p.paint(bold, what) + when, b.Why, []string{groupsOf(b.Changes)}, func() {
		t.said("%s", b.Why)
		t.said("“%s”", b.Tell)
		t.p.differences(t.say, b.Changes, 0)
	}}
}

// takenOut is that the model was taken out of the range.
func (t stepTeller) takenOut(o *catalogue.TakenOut) entry {
	head := "taken out of the range"
	if o.Now != "" {
		head = "goes on as " + o.Now
	}
	return entry{o.When, t.p.paint(bold, head) + "  " + o.Day() + t.author(o.Author), o.Why(), nil, func() { t.said("%s", o.Why()) }}
}

// said prints words as they were said, where there are any.
func (t stepTeller) said(format, words string) {
	if words != "" {
		t.p.wrapped(indent, fmt.Sprintf(format, reflow(words)))
	}
}

// author names who did something, where that is wanted.
func (t stepTeller) author(author string) string {
	if !t.authors {
		return ""
	}
	name, _, _ := strings.Cut(author, " <")
	return "  " + name
}

func (t stepTeller) step(s *catalogue.Step) entry {
	return entry{s.When, t.head(s.Revision), s.Why, t.inShort(s), func() {
		if s.Aside != nil {
			t.p.wrapped(indent, "no longer in force: the merge of "+day(s.Aside.When)+" took the other side")
		}
		t.said("%s", s.Why)
		for _, w := range s.Later {
			t.said("said "+w.Day+": %s", w.Why)
		}
		t.said("“%s”", s.Tell)
		t.said("reworded on %s", s.Reworded)
		for _, w := range s.Withdrawn {
			t.p.wrapped(indent, w.Label.Text+" withdrawn on "+w.Date.Text+": "+reflow(w.Why.Text))
		}
		t.outcome(s)
	}}
}

// line prints as many parts of a text as fit a line, and as much of the first.
func (t stepTeller) line(parts ...string) {
	if len(parts) == 0 {
		return
	}
	first, _, more := strings.Cut(parts[0], "\n")
	if more {
		first += " …"
	}
	width := t.p.width() - len(indent)
	text := runewidth.Truncate(first, width, "…")
	for i, part := range parts {
		if i == 0 || part == "" {
			continue
		}
		longer := strings.TrimPrefix(text+" · "+part, " · ")
		if runewidth.StringWidth(longer+" · …") > width {
			text = runewidth.Truncate(text+" · …", width, "…")
			break
		}
		text = longer
	}
	if text != "" {
		t.p.println(indent + text)
	}
}

// inShort says in parts what a revision changed and what that did.
func (t stepTeller) inShort(s *catalogue.Step) []string {
	switch {
	case s.Fault() != nil:
		return []string{"fault: " + firstFault(s.Fault())}
	case s.Unworkable != nil:
		return []string{"no figures: " + firstFault(s.Unworkable)}
	}
	parts := []string{groupsOf(s.Changes)}
	for _, key := range mainFigures {
		f, ok := s.Figures.Get(key)
		if !ok {
			continue
		}
		shift, compared := diffing.Find(s.Shifts, key)
		switch change := t.change(shift, f); {
		case !compared:
			parts = append(parts, figures.Short(key)+" "+t.say.Single(key).Value(key, f.Unit, f.Value))
		case change != "" && shift.Answer() == diffing.Changed:
			parts = append(parts, figures.Short(key)+" "+change)
		}
	}
	if notes := len(s.Notes) + len(s.Drifts); notes > 0 {
		parts = append(parts, count(notes, "note"))
	}
	return parts
}

// groupsOf names what changed.
func groupsOf(changes []diffing.Change) string {
	return strings.Join(say.Each(diffing.Edits(changes), func(e diffing.Edit) string { return e.Group.String() }), ", ")
}

// outcome prints what a revision changed, and what came of it.
func (t stepTeller) outcome(s *catalogue.Step) {
	p, width := t.p, t.p.width()-len(indent)
	switch {
	case s.Fault() != nil:
		p.wrapped(indent, "fault: "+firstFault(s.Fault()))
		return
	case s.Unworkable != nil:
		p.wrapped(indent, "no figures: "+firstFault(s.Unworkable))
		return
	}
	most := mostChanges
	if t.all {
		most = 0
	}
	p.differences(t.say, s.Changes, most)
	if len(s.Sights()) > 0 {
		p.wrapped(indent, besideRelease(t.say, heading(s.Seen), s.Sights()))
	}
	for _, m := range s.Heard {
		p.wrapped(indent, "heard "+m.Date.Text+": “"+reflow(m.Said.Text)+"”")
	}
	p.indented(indent, fill(t.figures(s), " · ", width))
	for _, n := range told(t.say, s.Notes) {
		p.wrapped(indent, "note: "+n)
	}
	for _, d := range s.Drifts {
		p.wrapped(indent, "note: "+t.drift(d))
	}
}

// drift says what of a release is worked out otherwise today, and why. Figures
// of which no digit shown differs are counted, and those beyond a few.
func (t stepTeller) drift(d catalogue.Drift) string {
	const most = 3
	var words []string
	for _, f := range d.Figures {
		figure := t.say.Single(f.Key)
		if !figure.Same(f.Key, f.Unit, f.Then, f.Now) && (len(words) < most || t.all) {
			now := t.say.LimitOf(figure.Value(f.Key, f.Unit, f.Now), f.Weakest)
			words = append(words, fmt.Sprintf("%s was %s and is %s", figures.Short(f.Key), figure.Value(f.Key, f.Unit, f.Then), now))
		}
	}
	if more := len(d.Figures) - len(words); more > 0 {
		words = append(words, count(more, "other figure")+" a little")
	}
	return fmt.Sprintf("what was released as %s comes out otherwise today, though nobody edited it: %s. Why: %s",
		d.Label, strings.Join(words, ", "), strings.Join(told(t.say, d.Why), "; "))
}

// head is the line that says which revision it is.
func (t stepTeller) head(r *catalogue.Revision) string {
	names := say.Each(r.Labels, func(label string) string { return t.say.Label(r, label) })
	switch r.Status {
	case catalogue.Draft:
		return t.p.paint(bold, strings.Join(append(names, "draft, not saved"), ", "))
	case catalogue.Prototype:
		names = append(names, string(r.Status))
	}
	return t.p.paint(bold, strings.Join(names, ", ")) + "  " + day(r.When) + "  " + t.p.paint(faint, r.ShortID()) + t.author(r.Author)
}

// figures are the main figures of a revision with their change, or that the numbers
// cannot tell. Figures that are the same have nothing beside them unless all is
// wanted.
func (t stepTeller) figures(s *catalogue.Step) []string {
	var words []string
	for _, key := range mainFigures {
		f, ok := s.Figures.Get(key)
		if !ok {
			continue
		}
		d := t.say.Single(key)
		word := figures.Short(key) + " " + d.Value(key, f.Unit, f.Value)
		shift, _ := diffing.Find(s.Shifts, key)
		var beside []string
		change := t.change(shift, f)
		if change != "" && (t.all || shift.Answer() == diffing.Changed) {
			beside = append(beside, change)
		}
		switch {
		case shift.ByDesign():
			beside = append(beside, "by design")
		case shift.Answer() == diffing.Open, t.all && shift.Answer() == diffing.Same:
			beside = append(beside, answerOf(shift))
		}
		if len(beside) > 0 {
			word += " (" + strings.Join(beside, ", ") + ")"
		}
		words = append(words, word)
	}
	return words
}

// change writes the change of a figure; "" where its digits show none.
func (t stepTeller) change(shift diffing.Shift, f evaluate.Figure) string {
	if !shift.Both() || !shift.Changed() {
		return ""
	}
	return changeText(t.say.Display, f.Key, f.Unit, shift.Change, f.Value)
}

// firstFault is the first of the faults and how many there are besides.
func firstFault(err error) string {
	var faults models.Faults
	if !errors.As(err, &faults) {
		return err.Error()
	}
	text := faults[0].Error()
	if more := len(faults) - 1; more > 0 {
		text += fmt.Sprintf(" (and %d more)", more)
	}
	return text
}
