package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
)

// sharesCaption says under every table of shares what they are.
const sharesCaption = "A share is what one edit changes, averaged over all orders in which the edits could be made; the " +
	"shares add up to the change. A blank is less than the last digit shown."

// sharesOf is what groups of edits did, SI, by the figure's key.
func sharesOf(s *diffing.Shares) []object {
	return say.Each(s.List, func(share diffing.Share) object {
		return object{
			{"group", share.Group.String()}, {"edits", changesOf(share.Changes)}, {"figures", share.Figures},
			{"standard-errors", share.StandardErrors}, // null where the shares are exact
		}
	})
}

// compareShares prints which edit did what.
func (p *program) compareShares(ctx context.Context, r *catalogue.Range, s *catalogue.Step, o compareOptions) error {
	shares, err := r.Shares(ctx, s.Against, s.Revision)
	if err != nil {
		return fmt.Errorf("%w; without --shares the changes are shown", err)
	}
	if o.only != "" {
		only, err := pickShare(shares, s.Changes, o.only)
		if err != nil {
			return err
		}
		shares.List = []diffing.Share{only}
	}
	t := english(r)
	if p.json {
		return p.writeJSON(comparisonOf(t, s, shares, nil))
	}
	v := shareView{&p.printer, s.Shifts, shares.List, t.Display, o.all}
	p.showSides(s)
	if o.only != "" {
		p.showChanges(t, shares.List[0].Changes, o.all)
		p.println()
		v.showOnly()
	} else {
		p.showChanges(t, s.Changes, o.all)
		p.println()
		v.show()
	}
	p.showNotes(append(comparisonNotes(t, s), notesOf(t.Shares(shares))...))
	return nil
}

// spelled is how a group is written on the command line: "ring-pattern".
func spelled(group string) string { return strings.ReplaceAll(group, " ", "-") }

// pickShare finds the share of the group that was asked for.
func pickShare(shares *diffing.Shares, changes []diffing.Change, group string) (diffing.Share, error) {
	var known []string
	for _, share := range shares.List {
		if spelled(share.Group.String()) == spelled(group) {
			return share, nil
		}
		known = append(known, spelled(share.Group.String()))
	}
	for _, e := range diffing.Edits(changes) {
		if spelled(e.Group.String()) == spelled(group) {
			return diffing.Share{}, fmt.Errorf("--only: what changed under %q can move no figure", e.Group)
		}
	}
	if len(known) == 0 {
		return diffing.Share{}, fmt.Errorf("--only: nothing changed that can move a figure")
	}
	return diffing.Share{}, fmt.Errorf("--only: nothing changed under %q; what changed is %s", group, strings.Join(known, ", "))
}

// completeGroups offers the groups of edits between the revisions named.
func (p *program) completeGroups(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	return p.offers(cmd.Context(), func(r *catalogue.Range, offer func(word, what string)) error {
		old, now, err := bothSides(r, args)
		if err != nil || old.Fault() != nil || now.Fault() != nil {
			return err
		}
		for _, e := range diffing.Edits(diffing.Specs(old.Spec(), now.Spec())) {
			if !e.Silent() {
				offer(spelled(e.Group.String()), english(r).Summary(e.Changes, 2))
			}
		}
		return nil
	})
}

// shareView shows shares as text.
type shareView struct {
	*printer
	shifts []diffing.Shift
	list   []diffing.Share
	figures.Display
	all bool
}

// show tells what each edit did to the main figures; to all others too, if
// wanted.
func (v shareView) show() {
	if len(v.list) == 0 {
		v.println("nothing changed that can move a figure")
		return
	}
	across, shown := v.across()
	v.print("", across)
	if text := v.standardErrors(shown); text != "" {
		v.wrapped("", text)
	}
	v.showOthers(shown)
	v.paragraph("%s", sharesCaption)
}

// across lays out the shares in the main figures, edits down and figures across, as
// many as there is room for.
func (v shareView) across() (table, []diffing.Shift) {
	shifts := slices.DeleteFunc(slices.Clone(v.shifts), func(f diffing.Shift) bool {
		_, shared := v.list[0].Figures[f.Key]
		return !shared || !slices.Contains(mainFigures, f.Key)
	})
	for n := len(shifts); ; n-- {
		if t := v.tableOf(shifts[:n]); n <= 1 || t.width(v.width()) <= v.width() {
			return t, shifts[:n]
		}
	}
}

func (v shareView) tableOf(shifts []diffing.Shift) table {
	t := newTable(filling("edit"))
	total := []string{"together"}
	for _, f := range shifts {
		t.columns = append(t.columns, numbers(figures.Short(f.Key)))
		total = append(total, v.change(f, f.Change))
	}
	for _, share := range v.list {
		row := []string{share.Group.String()}
		for _, f := range shifts {
			row = append(row, v.change(f, share.Figures[f.Key]))
		}
		t.add(row...)
	}
	t.add(total...)
	return t
}

// change writes a change of a figure, or a part of one; "" where its digits
// show nothing.
func (v shareView) change(f diffing.Shift, change float64) string {
	return changeText(v.Display, f.Key, f.Unit, change, f.New.Value)
}

// standardErrors tells how far off estimated shares may be; "" of exact ones.
func (v shareView) standardErrors(shown []diffing.Shift) string {
	var parts []string
	for _, f := range shown {
		worst := 0.0
		for _, share := range v.list {
			worst = max(worst, share.StandardErrors[f.Key])
		}
		if v.shows(f, worst) {
			parts = append(parts, figures.Short(f.Key)+" "+v.value(f, worst))
		}
	}
	switch {
	case v.list[0].StandardErrors == nil:
		return ""
	case len(parts) == 0:
		return "standard errors of the shares: less than a digit shown"
	}
	return "standard errors of the shares, at most: " + strings.Join(parts, ", ")
}

func (v shareView) value(f diffing.Shift, value float64) string {
	return v.Display.Single(f.Key).Value(f.Key, f.Unit, value)
}

func (v shareView) shows(f diffing.Shift, value float64) bool {
	return v.Display.Single(f.Key).Shows(f.Key, f.Unit, value, value)
}

// showOthers tells who changed the figures that stand in no table yet, or
// counts them.
func (v shareView) showOthers(shown []diffing.Shift) {
	t := newTable(words("figure"), numbers("change"), filling("of it"))
	for _, f := range v.shifts {
		if _, known := diffing.Find(shown, f.Key); known {
			continue
		}
		if row := v.row(f); row != nil {
			t.add(row...)
		}
	}
	switch {
	case len(t.rows) == 0:
	case v.all:
		v.println()
		v.print("", t)
	default:
		v.wrapped("", count(len(t.rows), "other figure")+" changed; --all shows by what")
	}
}

// row tells one figure's change and the shares in it, the largest first; nil
// where none shows.
func (v shareView) row(f diffing.Shift) []string {
	list := slices.SortedStableFunc(slices.Values(v.list), func(a, b diffing.Share) int {
		return cmp.Compare(math.Abs(b.Figures[f.Key]), math.Abs(a.Figures[f.Key]))
	})
	var parts []string
	for _, share := range list {
		if of, ok := share.Figures[f.Key]; ok {
			if text := v.change(f, of); text != "" {
				parts = append(parts, share.Group.String()+" "+text)
			}
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{figures.Short(f.Key), cmp.Or(v.change(f, f.Change), "0"), strings.Join(parts, ", ")}
}

// showOnly tells what the one edit in the list did to the figures.
func (v shareView) showOnly() {
	share := v.list[0]
	t := newTable(filling("figure"), numbers("by this"), numbers("in all"))
	hidden := 0
	for _, f := range v.shifts {
		of, ok := share.Figures[f.Key]
		if !ok {
			continue
		}
		text := v.change(f, of)
		if text == "" && !v.all {
			hidden++
			continue
		}
		if off := share.StandardErrors[f.Key]; v.shows(f, off) {
			text += " ± " + v.value(f, off)
		}
		t.add(figures.Short(f.Key), text, v.change(f, f.Change))
	}
	v.print("", t)
	if hidden > 0 {
		v.wrapped("", count(hidden, "figure")+" without a share that shows; --all lists them")
	}
	v.paragraph("%s", sharesCaption)
}
