package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/diffing"
	"rodlore/evaluate"
)

// compareOptions say what a comparison shows.
type compareOptions struct {
	all, text, exitCode bool
	shares              bool
	only                string // the one group whose shares are wanted
}

// check refuses options that do not go together.
func (o compareOptions) check() error {
	if o.text && (o.shares || o.only != "") {
		return misuse("--text shows how specs are written, which has no shares; leave out one of the two")
	}
	return nil
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
		ValidArgsFunction: p.completeRevisions,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := o.check(); err != nil {
				return err
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.compare(r, args, o) })
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show unchanged figures and respelled values too")
	cmd.Flags().BoolVar(&o.text, "text", false, "show how the text of the specs differs")
	cmd.Flags().BoolVar(&o.shares, "shares", false, "show which edit did what")
	cmd.Flags().StringVar(&o.only, "only", "", "show what the edits of one `group` did, such as ring-pattern")
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("only", p.completeGroups))
	cmd.Flags().BoolVar(&o.exitCode, "exit-code", false, "exit with 1 if the rod changed, as diff does")
	return cmd
}

func (p *program) compare(r *catalogue.Range, args []string, o compareOptions) error {
	old, new, err := bothSides(r, args)
	if err != nil {
		return err
	}
	for _, rev := range []*catalogue.Revision{old, new} {
		if rev.Fault != nil && !o.text {
			return rev.Fault
		}
	}
	step, err := r.Compare(old, new)
	if err != nil {
		return err
	}
	switch {
	case o.text:
		err = p.compareText(r, old, new)
	case o.shares || o.only != "":
		err = p.compareShares(r, step, o)
	case p.json:
		err = p.writeJSON(newCompareJSON(step))
	default:
		err = p.showComparison(r, step, o.all)
	}
	if err == nil && o.exitCode && old.ID != new.ID {
		return errNo
	}
	return err
}

// bothSides finds what is compared.
func bothSides(r *catalogue.Range, args []string) (old, new *catalogue.Revision, err error) {
	if old, err = r.FindArg(args[0]); err != nil {
		return nil, nil, err
	}
	if len(args) == 2 {
		new, err = r.FindArg(args[1])
		return old, new, err
	}
	model, _, isRevision := strings.Cut(args[0], "@")
	if isRevision {
		new, err = r.Draft(model)
		return old, new, err
	}
	new = old
	if released := new.Before.LastRelease(); released != nil {
		return released, new, nil
	}
	if old = new.LastSound(); old == nil {
		return nil, nil, fmt.Errorf("%s: there is nothing before it to compare with", model)
	}
	return old, new, nil
}

// compareText prints how the specs differ as they are written.
func (p *program) compareText(r *catalogue.Range, old, new *catalogue.Revision) error {
	a, err := r.Source(old)
	if err != nil {
		return err
	}
	b, err := r.Source(new)
	if err != nil {
		return err
	}
	text := diffing.Text(nameOf(old), a, nameOf(new), b)
	if p.json {
		return p.writeJSON(textJSON{schema1, text})
	}
	for line := range strings.Lines(text) {
		p.println(p.paintDiff(strings.TrimRight(line, "\n")))
	}
	return nil
}

// textJSON is what compare --text prints.
type textJSON struct {
	schema
	Text string `json:"text"`
}

func nameOf(r *catalogue.Revision) string { return r.File + "@" + heading(r) }

func (p *program) paintDiff(line string) string {
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

// compareJSON is what compare prints.
type compareJSON struct {
	schema
	Old     sideJSON     `json:"old"`
	New     sideJSON     `json:"new"`
	Changes []changeJSON `json:"changes"`
	Sights  []sightJSON  `json:"sights"` // none where two models are compared
	Figures []shiftJSON  `json:"figures"`
	Notes   []string     `json:"notes"`
	Shares  []shareJSON  `json:"shares,omitzero"` // where they were asked for
}

type sideJSON struct {
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
}

// shiftJSON is one figure on both sides, SI; null where a side has none.
type shiftJSON struct {
	Key    string   `json:"key"`
	Old    *float64 `json:"old"`
	New    *float64 `json:"new"`
	Unit   string   `json:"unit"`
	Change *float64 `json:"change"`
	Error  float64  `json:"error"`
	// Tolerance is one standard deviation of the change; null where it is not
	// known.
	Tolerance *float64        `json:"tolerance"`
	Real      diffing.Verdict `json:"real"` // "yes", "no" or "unknown"
}

func newCompareJSON(s *catalogue.Step) compareJSON {
	return compareJSON{
		schema:  schema1,
		Old:     sideJSON{s.Against.Model, revisionOf(s.Against)},
		New:     sideJSON{s.Model, revisionOf(s.Revision)},
		Changes: changesOf(s.Changes), Sights: sightsOf(s.Sights), Figures: shiftsOf(s.Shifts), Notes: listOf(comparisonNotes(s)),
	}
}

func shiftsOf(shifts []diffing.Shift) []shiftJSON {
	list := []shiftJSON{}
	for _, f := range shifts {
		entry := shiftJSON{
			Key: f.Key, Unit: f.Unit, Change: numberOrNull(f.Change), Error: f.Error,
			Tolerance: numberOrNull(f.Tolerance), Real: f.Real(),
		}
		if f.Old != nil {
			entry.Old = numberOrNull(f.Old.Value)
		}
		if f.New != nil {
			entry.New = numberOrNull(f.New.Value)
		}
		list = append(list, entry)
	}
	return list
}

// comparisonNotes are the notes of the comparison and of the newer figures,
// and why there are none.
func comparisonNotes(s *catalogue.Step) []string {
	notes := s.Notes
	if s.Figures != nil {
		notes = append(notes[:len(notes):len(notes)], s.Figures.Notes...)
	}
	if s.Unworkable != nil {
		notes = append(notes, "no figures: "+s.Unworkable.Error())
	}
	return notes
}

func (p *program) showComparison(r *catalogue.Range, s *catalogue.Step, all bool) error {
	set, err := r.Settings()
	if err != nil {
		return err
	}
	p.showSides(s)
	p.showChanges(s.Changes, all)
	p.println()
	if s.Seen != nil {
		p.showSights(heading(s.Against), heading(s.Revision), s.Sights)
		p.println()
	}
	p.showShifts(s, evaluate.DisplayOf(set), all)
	p.footnotes(comparisonNotes(s))
	return nil
}

// showSides prints what is compared.
func (p *program) showSides(s *catalogue.Step) {
	for _, line := range wrap(title(s.Against)+" → "+side(s.Against, s.Revision), p.width()) {
		p.println(p.paint(bold, line))
	}
	p.println()
}

// side names the newer revision without repeating a name that is the same.
func side(old, new *catalogue.Revision) string {
	if old.Spec != nil && new.Spec != nil && old.Spec.Name.Text == new.Spec.Name.Text {
		return standing(new)
	}
	return title(new)
}

// showChanges lists the changes of the spec, group by group.
func (p *program) showChanges(changes []diffing.Change, all bool) {
	edits := diffing.Edits(changes)
	if len(edits) == 0 {
		p.println("the same rod")
	}
	for _, e := range edits {
		p.println(p.paint(bold, string(e.Group)))
		for _, c := range e.Changes {
			lines := wrap(c.Tell(), p.width()-4)
			p.println("  " + p.paint(styleOf(c.Kind), lines[0]))
			p.indented("    ", lines[1:])
		}
	}
	p.showRespelled(changes, all)
}

func styleOf(k diffing.Kind) style {
	switch k {
	case diffing.Added:
		return blue
	case diffing.Removed:
		return amber
	}
	return plain
}

// showRespelled lists or counts the values that are only written otherwise.
func (p *program) showRespelled(changes []diffing.Change, all bool) {
	n := respelled(changes)
	switch {
	case n == 0:
	case !all:
		p.println(count(n, "value") + " written otherwise with the same meaning; --all shows them")
	default:
		p.println(p.paint(bold, "written otherwise"))
		for _, c := range changes {
			if c.Kind == diffing.Respelled {
				p.indented("  ", wrap(c.Tell(), p.width()-2))
			}
		}
	}
}

// showShifts prints the figures that really changed, and all of them if wanted.
func (p *program) showShifts(s *catalogue.Step, d evaluate.Display, all bool) {
	t := table{columns: []column{
		{head: "figure", wraps: true}, {head: heading(s.Against), right: true}, {head: heading(s.Revision), right: true},
		{head: "change", right: true}, {head: "", right: true},
	}}
	var left leftOut
	apart := false
	for _, f := range s.Shifts {
		if !all && left.out(f, d) {
			continue
		}
		t.add(shiftRow(f, d)...)
		apart = apart || f.Both() && d.Single(f.Key).RoundedApart(f.Key, f.Unit, f.Old.Value, f.New.Value, f.Tolerance)
	}
	if len(t.rows) > 0 {
		p.print("", t)
	}
	if apart {
		p.indented("", wrap(roundedApart, p.width()))
	}
	if left != (leftOut{}) {
		p.indented("", wrap(left.String()+"; --all shows them", p.width()))
	}
}

// roundedApart says why 2.94 and 3.02 may differ by 0.07.
const roundedApart = "changes are worked out before rounding, so a last digit may not fit the figures beside it"

// leftOut counts the figures that are not shown: those that did not change,
// that changed no more than rods built to one spec differ, and that changed by
// less than the digits show.
type leftOut struct{ same, scatter, hidden int }

// out reports whether a figure is not shown, and counts it then.
func (l *leftOut) out(f diffing.Shift, d evaluate.Display) bool {
	switch {
	case !f.Changed():
		l.same++
	case f.Real() == diffing.NotReal:
		l.scatter++
	case f.Both() && !evaluate.Shows(d.Single(f.Key).Change(f.Key, f.Unit, f.Change, f.New.Value)):
		l.hidden++
	default:
		return false
	}
	return true
}

func (l leftOut) String() string {
	var parts []string
	if l.same > 0 {
		parts = append(parts, count(l.same, "figure")+" unchanged")
	}
	if l.scatter > 0 {
		parts = append(parts, count(l.scatter, "figure")+" without real change")
	}
	if l.hidden > 0 {
		parts = append(parts, count(l.hidden, "figure")+" changed by less than a digit shown")
	}
	return strings.Join(parts, ", ")
}

// shiftRow is one figure on both sides, its change and that in percent, or that
// it is no real change.
func shiftRow(f diffing.Shift, d evaluate.Display) []string {
	d = d.Single(f.Key)
	row := []string{evaluate.Short(f.Key), "none", "none", "", ""}
	if f.Old != nil {
		row[1] = d.Value(f.Key, f.Unit, f.Old.Value)
	}
	if f.New != nil {
		row[2] = d.Value(f.Key, f.Unit, f.New.Value)
	}
	if !f.Both() {
		return row
	}
	row[3] = "same"
	if f.Changed() {
		row[3] = d.ChangeWithTolerance(f.Key, f.Unit, f.Change, f.New.Value, f.Tolerance)
		row[4] = weight(f)
	}
	return row
}

// weight says how much a change is, as a share of the old value but of counts
// and shares, of which a percentage misleads; or that it is none.
func weight(f diffing.Shift) string {
	switch {
	case f.Real() == diffing.NotReal:
		return "not real"
	case f.Unit == "1":
		return ""
	}
	return percent(f.Percent())
}

// percent writes a share of the old value with its sign.
func percent(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return strings.Replace(fmt.Sprintf("%+.1f %%", v), "-", "−", 1)
}
