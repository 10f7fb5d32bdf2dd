package main

import (
	"context"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/catalogue/visible"
	"rodlore/models"
)

// measureOptions are what is said of a reading, as it was typed.
type measureOptions struct {
	benchOptions
	what, reading, section, at, pivot, in string
	swings                                int
}

func newMeasure(p *program) *cobra.Command {
	var o measureOptions
	cmd := &cobra.Command{
		Use:   "measure MODEL[@REV] --rod NUMBER --what KIND --reading VALUE",
		Short: "write down what was measured of a rod",
		Long: `Writes one reading into the file of bench/ of a rod, which is begun where there
is none. The revision is the one that the rod was built to. "fit" says what the
readings tell of the blank, and which to take next.

What can be measured, each with what it needs:
` + measureHelp(),
		Example: `  rodlore measure skerry-10@2026 --rod 0148 --what weight --reading 166.2g
  rodlore measure skerry-10 --rod 0148 --what drop --reading 472mm --load 100g`,
		Args:              wants(1, 1, "the revision that it was built to"),
		ValidArgsFunction: p.completeRevisions,
		RunE: p.onDay(&o.date, func(_ context.Context, r *catalogue.Range, args []string, d models.Date) error {
			o.of = args[0]
			return p.measure(r, o, d)
		}),
	}
	f := cmd.Flags()
	o.flags(f)
	f.StringVar(&o.what, "what", "", "the `kind` of reading")
	f.StringVar(&o.reading, "reading", "", "the `reading`, such as \"165.8 g ± 0.5 g\"; without ± the usual one is taken")
	f.StringVar(&o.section, "section", "", "the `section`, where it was one by itself")
	f.StringVar(&o.at, "at", "", "the `place`, from the tip; the tip if not given")
	f.StringVar(&o.pivot, "pivot", "", "the `place` that it swung about, from the butt")
	f.IntVar(&o.swings, "swings", 0, "the `number` of swings to and fro")
	f.StringVar(&o.in, "in", "", "the `time` in which they were counted")
	return cmd
}

// measureHelp lists the kinds of readings.
func measureHelp() (text string) {
	for _, k := range models.ReadingKinds {
		if k.What != models.TraceMeasure { // which trace writes
			text += fmt.Sprintf("\n  %-13s %s", k.What, k.Example)
		}
	}
	return text
}

func (p *program) measure(r *catalogue.Range, o measureOptions, d models.Date) error {
	switch {
	case o.rod == "":
		return misuse("say which rod it was with --rod, by its number or a name")
	case o.what == "" || o.what == string(models.TraceMeasure):
		return misuse("say what was measured with --what, such as weight; a bend is written down by trace")
	case !slices.ContainsFunc(models.ReadingKinds, func(k models.ReadingKind) bool { return string(k.What) == o.what }):
		return misuseOf("what", "there is no reading %q; \"rodlore measure --help\" lists the kinds", o.what)
	case o.reading == "":
		return misuse("say what was read with --reading, such as --reading \"165.8 g\"")
	}
	swings := ""
	if o.swings != 0 {
		swings = fmt.Sprint(o.swings)
	}
	entry := entryOf(o.what, o.reading, "section", o.section, "at", o.at, "load", o.load, "pivot", o.pivot, "in", o.in, "swings", swings)
	of, file, err := p.putReading(r, o.benchOptions, d, entry)
	if err != nil {
		return err
	}
	return p.show(func() object { return object{{"file", file}} }, func() {
		p.paragraph("%s", say.English().Say("cautions.weights.text"))
		p.println("wrote " + file + "; look at what it tells:")
		p.println("  rodlore fit " + visible.Arg(of.Model))
	})
}
