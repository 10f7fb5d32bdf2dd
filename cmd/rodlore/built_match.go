package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/diffing"
)

func newBuiltMatch(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "match NUMBER",
		Short: "can a rod like one that was sold still be built",
		Long: `Says whether a rod to match one that was built can still be built, with the
parts and materials of today: which are gone, which are not what they were, and
what such a rod would come to against the one sold. The exit code is 1 where it
cannot.`,
		Example:           "  rodlore built match 0124",
		Args:              wants(1, 1, "the number of a rod"),
		ValidArgsFunction: p.completeSerials,
		RunE:              p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error { return p.match(ctx, r, args[0]) }),
	}
}

// matched is a rod that was built, and what a match of it would be.
type matched struct {
	subject // the revision that the rod was built to
	build   *catalogue.Build
	rebuilt *catalogue.Rebuilt
	step    *catalogue.Step // from the one to the other; nil where it cannot be put together
	found   *catalogue.Measurements
	now     *catalogue.Revision // the model as it stands; nil where it is gone
}

// can reports whether the rod can be built as it was.
func (m *matched) can() bool { return len(m.rebuilt.Gone) == 0 && m.rebuilt.Fault() == nil }

func (p *program) match(ctx context.Context, r *catalogue.Range, serial string) error {
	b, of, err := built(r, serial)
	if err != nil {
		return err
	}
	m := &matched{build: b, subject: of}
	if m.rebuilt, err = r.Rebuild(of.Revision); err != nil {
		return err
	}
	if m.rebuilt.Fault() == nil {
		if m.step, err = r.Compare(ctx, of.Revision, m.rebuilt.Revision); err != nil {
			return err
		}
	}
	if m.found, err = r.MeasuredOnRod(b); err != nil {
		return err
	}
	if now, err := r.Draft(of.Model); err == nil && now.ID != of.ID {
		m.now = now
	}
	err = p.show(func() object { return matchOf(m) }, func() { p.showMatch(m) })
	if err == nil && !m.can() {
		return errNo
	}
	return err
}

// matchOf is what built match prints.
func matchOf(m *matched) object {
	var shifts []diffing.Shift // from the rod as it was built to one with today's parts
	if m.step != nil {
		shifts = m.step.Shifts
	}
	return object{
		{"rod", rodOf(m.build, nil)}, {"revision", revisionOf(m.Revision)}, {"can", m.can()},
		{"gone", m.rebuilt.Gone},                  // parts and materials
		{"fault", m.rebuilt.Fault()},              // why today's do not go together
		{"changes", changesOf(m.rebuilt.Changes)}, // of the parts and materials that it takes
		{"figures", shiftsOf(shifts)},
		{"now", revisionOf(m.now)}, // the model as it stands; null where it is that revision, or gone
	}
}

func (p *printer) showMatch(m *matched) {
	p.println(p.paint(bold, say.English().RodName(m.build.Serial.Text)+": "+title(m.Revision)))
	p.println("built on " + m.build.Date.Text)
	for _, repair := range m.build.Repairs {
		p.wrapped("", "mended on "+repairWords(m.display(), repair))
	}
	p.paragraph("%s", verdictOf(m))
	if m.rebuilt.Fault() != nil {
		p.wrapped(indent, firstFault(m.rebuilt.Fault()))
	}
	p.differences(m.teller(), m.rebuilt.Changes, 0)
	if m.step != nil {
		p.showMatchFigures(m)
		p.showNotes(comparisonNotes(m.teller(), m.step))
	}
	if m.now != nil {
		p.paragraph("The model has gone on since, to its %s. What changed:", standing(m.now))
		p.printf("  rodlore compare %s %s\n", visible.Arg(m.Model+"@"+m.build.As()), visible.Arg(rodArg(m.Model, m.build.Top.Text)))
	}
}

// rodArg names a model or a revision with one of its tops; "" is the main one.
func rodArg(name, top string) string {
	if top == "" {
		return name
	}
	return name + "+" + top
}

// verdictOf says whether a match can be built.
func verdictOf(m *matched) string {
	switch {
	case m.rebuilt.Fault() != nil:
		return "No: the parts of today do not go together to this rod."
	case len(m.rebuilt.Gone) > 0:
		return fmt.Sprintf("No, not with the parts of today: %s is not among them any more, and is worked out below as it was. Look for some that are left, or for another that is like it.",
			strings.Join(m.rebuilt.Gone, ", "))
	case len(diffing.Edits(m.rebuilt.Changes)) > 0:
		return "Yes, but some of its parts and materials are not what they were:"
	}
	return "Yes: every part and material that it takes is as it was."
}

// showMatchFigures shows the main figures of the rod sold and of its match, and
// what else really changed.
func (p *printer) showMatchFigures(m *matched) {
	d := m.display()
	t := newTable(filling("figure"), numbers("as built"), numbers("measured"), numbers("a match today"), numbers("change"), numbers(""))
	var left leftOut
	for _, f := range m.step.Shifts {
		found := m.found.Of(f.Key)
		if left.out(f, d) && len(found) == 0 {
			continue
		}
		row := shiftRow(f, d)
		measured := ""
		for _, one := range found {
			measured = d.Single(f.Key).Value(f.Key, f.Unit, one.Value)
		}
		t.add(append([]string{row[0], row[1], measured}, row[2:]...)...)
	}
	p.println()
	p.print("", t)
	if left != (leftOut{}) {
		p.wrapped("", left.String())
	}
}
