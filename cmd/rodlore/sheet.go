package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/sheet"
)

func newSheet(p *program) *cobra.Command {
	var opts sheet.Options
	var out, paper string
	cmd := &cobra.Command{
		Use:   "sheet MODEL[@REV] --out FILE",
		Short: "a build sheet to print, with a ring strip at its true length",
		Long: `Writes what a rod is built by: the rod to scale, every ring with its place and
whipping, handle, joints and blank, what it should measure and by how much rods
differ, parts and materials, and a list to tick off. Last comes the ring strip:
the places of the rings at their true distances, to cut out and to lay beside
the blank. Print it at 100 % and measure its bars first.

The name of the file says its form: .pdf to print or .html to look at. With the
serial number of a rod that was built, what was measured of it is filled in.`,
		Example: `  rodlore sheet skerry-10@2026 --out sheet.pdf
  rodlore sheet skerry-10@2026 --serial 0148 --paper letter --out 0148.pdf
  rodlore sheet skerry-10 --strip --out strip.pdf`,
		Args:              wants(1, 1, "one model"),
		ValidArgsFunction: p.completeRods,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch form := formOf(out); {
			case out == "":
				return misuse("say where to with --out, such as --out sheet.pdf")
			case form != ".pdf" && form != ".html":
				return misuseOf("out", "%q ends neither in .pdf nor in .html", out)
			}
			var err error
			if opts.Paper, err = paperOf(paper); err != nil {
				return err
			}
			if isPath(args[0]) {
				return misuse("a sheet is of a model in a range, such as skerry-10, not of a file")
			}
			opts.Print, opts.Now = formOf(out) == ".pdf", p.now()
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.sheet(cmd.Context(), r, args[0], opts, out) })
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "the `file` to write: .pdf or .html")
	cmd.Flags().StringVar(&opts.Serial, "serial", "", "the serial `number` of the rod")
	cmd.Flags().BoolVar(&opts.Strip, "strip", false, "write the ring strip alone")
	paperFlag(cmd, &paper)
	return cmd
}

func (p *program) sheet(ctx context.Context, r *catalogue.Range, arg string, opts sheet.Options, out string) error {
	rev, err := sound(r.FindRod(arg))
	if err != nil {
		return err
	}
	if rev.Spec().Bare {
		return fmt.Errorf("%s: a bare blank, on which nothing is built yet; give it rings and a handle in place of bare: true", rev.Model)
	}
	d, err := sheet.Of(ctx, r, rev, opts)
	if err != nil {
		return err
	}
	written, err := p.writeForm(d, out, formOf(out))
	if err != nil {
		return err
	}
	return p.show(func() object {
		return object{{"model", rev.Model}, {"revision", revisionOf(rev)}, {"serial", orNull(opts.Serial)}, {"files", []object{written}}}
	}, func() {
		p.println("wrote " + out + ": " + title(rev))
		if rev.Status != catalogue.Released {
			p.println("it is not released, and the sheet says so")
		}
	})
}
