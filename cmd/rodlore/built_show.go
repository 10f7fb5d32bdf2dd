package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

func newBuiltShow(p *program) *cobra.Command {
	return &cobra.Command{
		Use:   "show NUMBER",
		Short: "a rod that was built, against its spec and its siblings",
		Long: `Shows a rod by its serial number: the exact revision it was built to, what was
measured of it against what that works out to, the others of its model, what was
mended, and whether the workshop drifted when it was built. Measurements of the
rod in files of bench/ belong to it and are shown too.`,
		Example:           "  rodlore built show 0147",
		Args:              wants(1, 1, "the number of a rod"),
		ValidArgsFunction: p.completeSerials,
		RunE: p.inRange(func(ctx context.Context, r *catalogue.Range, args []string) error {
			rod, err := findRod(ctx, r, args[0])
			if err != nil {
				return err
			}
			return p.show(func() object { return shownOf(rod) }, func() { p.showRod(rod) })
		}),
	}
}

// shownRod is a rod with all that is known of it.
type shownRod struct {
	subject // the revision that it was built to
	build   *catalogue.Build
	figures *evaluate.Figures
	found   *catalogue.Measurements
	chart   *catalogue.WeightChart // of its model
	all     *catalogue.WeightChart // of the workshop
}

func findRod(ctx context.Context, r *catalogue.Range, serial string) (*shownRod, error) {
	b, of, err := built(r, serial)
	if err != nil {
		return nil, err
	}
	rod := &shownRod{build: b, subject: of}
	if rod.chart, err = r.ChartWeights(ctx, of.Model); err != nil {
		return nil, err
	}
	if rod.all, err = r.ChartWeights(ctx, ""); err != nil {
		return nil, err
	}
	if rod.figures, err = r.FiguresWithTolerances(ctx, of.Revision); err != nil {
		return nil, err
	}
	rod.found, err = r.MeasuredOnRod(b)
	return rod, err
}

// shownOf is what built show prints.
func shownOf(rod *shownRod) object {
	var measured []object // each figure as it was measured of the rod and as it was worked out
	for _, f := range rod.figures.List {
		for _, m := range rod.found.Of(f.Key) {
			measured = append(measured, append(object{{"key", f.Key}, {"unit", f.Unit}, {"worked", f.Value}, {"tolerance", f.Tolerance}}, measuredOf(f, m)...))
		}
	}
	return object{
		{"rod", rodOf(rod.build, rod.chart.Weighings)}, {"revision", revisionOf(rod.Revision)}, {"measured", measured},
		{"siblings", say.Each(rod.siblings(), func(w catalogue.Weighing) object { return rodOf(w.Build, rod.chart.Weighings) })},
		{"signals", signalsJSON(rod.all, signalsOf(rod.all, rod.build))}, // of the workshop's chart that it is part of
		{"notes", rod.notes()},
	}
}

// siblings are the other rods of its model that were weighed.
func (rod *shownRod) siblings() []catalogue.Weighing {
	return slices.DeleteFunc(slices.Clone(rod.chart.Weighings), func(w catalogue.Weighing) bool {
		return w.Pos == rod.build.Pos
	})
}

func (rod *shownRod) notes() []string {
	return told(rod.teller(), slices.Concat(rod.chart.Notes, rod.found.Unread))
}

func (p *printer) showRod(rod *shownRod) {
	b := rod.build
	p.println(p.paint(bold, say.English().RodName(b.Serial.Text)+": "+title(rod.Revision)))
	t := newTable(words(""), filling(""))
	t.add("built on", b.Date.Text)
	if b.Blank.Text != "" {
		t.add("blank", b.Blank.Text)
	}
	if b.Notes.Text != "" {
		t.add("notes", b.Notes.Text)
	}
	for _, repair := range b.Repairs {
		t.add("mended on", repairWords(rod.display(), repair))
	}
	p.print("", t)
	p.showMeasured(rod.subject, rod.figures, rod.found)
	p.showSiblings(rod)
	p.showDrift(rod)
	p.println()
	p.println("Its build sheet, to be made anew:")
	file := strings.NewReplacer("/", "-", `\`, "-").Replace(b.Serial.Text) + ".pdf"
	p.printf("  rodlore sheet %s --serial %s --out %s\n", visible.Arg(rod.Model+"@"+b.As()), visible.Arg(b.Serial.Text), visible.Arg(file))
	p.showNotes(notesOf(rod.notes()))
}

// repairWords say when a repair was done, and what.
func repairWords(d figures.Display, repair models.Repair) string {
	words := repair.Date.Text + ": " + repair.Done.Text
	if repair.Section.Text != "" {
		words += ", on the " + repair.Section.Text
	}
	if repair.Weight.Set() {
		words += ", " + d.Single("weight").Value("weight", "kg", float64(repair.Weight.Value)) + " since"
	}
	return words
}

// mostSiblings is how many of the others are listed, those built nearest to it.
const mostSiblings = 10

func (p *printer) showSiblings(rod *shownRod) {
	siblings := rod.siblings()
	if len(siblings) == 0 {
		return
	}
	d := rod.display().Single("weight")
	before := 0
	for _, w := range siblings {
		if w.Date.Text <= rod.build.Date.Text {
			before++
		}
	}
	from := max(0, min(before-mostSiblings/2, len(siblings)-mostSiblings))
	t := newTable(words("others of it"), words("built"), words("release"), numbers("weight"), numbers("off"))
	for _, w := range siblings[from:min(from+mostSiblings, len(siblings))] {
		t.add(w.Serial.Text, w.Date.Text, w.As(), d.Value("weight", "kg", float64(w.Weight.Value)), figures.Deviations(w.Off()))
	}
	p.println()
	p.print("", t)
	p.wrapped("", siblingWords(rod, siblings))
}

// siblingWords hold a rod against the mean of the others.
func siblingWords(rod *shownRod, siblings []catalogue.Weighing) string {
	sum := 0.0
	for _, w := range siblings {
		sum += w.Off()
	}
	words := fmt.Sprintf("off: in standard deviations of rods of that release; %s off by %s on average",
		others(len(siblings)), figures.Deviations(sum/float64(len(siblings))))
	if w := weighingOf(rod.build, rod.chart.Weighings); w != nil {
		words += ", this one by " + figures.Deviations(w.Off())
	}
	return words
}

func others(n int) string {
	if n == 1 {
		return "the other is"
	}
	return "the " + count(n, "other") + " are"
}

// showDrift says whether the workshop drifted when the rod was built.
func (p *printer) showDrift(rod *shownRod) {
	if rod.all.Control == nil || weighingOf(rod.build, rod.all.Weighings) == nil {
		return
	}
	signals := signalsOf(rod.all, rod.build)
	if len(signals) == 0 {
		p.paragraph("The workshop's rods tell of no drift when this one was built.")
		return
	}
	for _, s := range signals {
		p.paragraph("%s", signalWords(rod.all, s))
	}
	p.println("\"rodlore built chart\" shows all rods.")
}
