package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
)

func newPutBack(p *program) *cobra.Command {
	var own bool
	cmd := &cobra.Command{
		Use:   "put-back MODEL[@REV]",
		Short: "bring the spec of a saved revision back into the draft",
		Long: `Puts the text of a saved revision, comments and all, into the model's file,
where it is a draft like any other: look at it, then save it with a reason.
Without a revision the edits since the last save are undone. What stood in the
file and was never saved is kept in a copy beside it.

Parts and materials are those of today. Where they were different then you are
told, and --own puts them into parts.yaml and materials.yaml under names of
their own.`,
		Example: `  rodlore put-back skerry-10
  rodlore put-back skerry-10@2024
  rodlore put-back skerry-10@2021 --own`,
		Args:              wants(1, 1, "a model, with the revision to bring back"),
		ValidArgsFunction: p.completeRevisions,
		RunE:              func(cmd *cobra.Command, args []string) error { return p.putBack(cmd.Context(), args[0], own) },
	}
	cmd.Flags().BoolVar(&own, "own", false, "put parts and materials that were others under names of their own")
	return cmd
}

func (p *program) putBack(ctx context.Context, arg string, own bool) error {
	model, rev, named := strings.Cut(arg, "@")
	if !named {
		rev = "saved"
	}
	var back *catalogue.PutBack
	err := p.work(ctx, func(r *catalogue.Range) error {
		found, err := r.Find(model, rev)
		if err != nil {
			return err
		}
		if found.Status == catalogue.Draft {
			return misuse("%s is the draft itself; name a saved revision, such as %s@saved", arg, model)
		}
		back, err = r.PutBack(ctx, found)
		return err
	})
	if err != nil {
		return err
	}
	if back.Missing() && !own {
		return refuseMissing(back, arg)
	}
	files := map[string][]byte{back.File: back.Text}
	if own {
		if files, err = back.OwnEntries(); err != nil {
			return err
		}
	}
	return p.writeBack(back, files, own)
}

// refuseMissing says which entries there are no more.
func refuseMissing(back *catalogue.PutBack, arg string) error {
	var gone []string
	for _, o := range back.Others {
		if o.Gone {
			gone = append(gone, o.Name)
		}
	}
	return fmt.Errorf("%s cannot be put back as it is, since there is no %s any more; \"rodlore put-back %s --own\" brings that back too",
		title(back.Revision), strings.Join(gone, ", "), arg)
}

// writeBack keeps a copy of what would be lost, then writes the files: the shared
// ones first, so that the spec never names what is not there.
func (p *program) writeBack(back *catalogue.PutBack, files map[string][]byte, own bool) error {
	var kept string
	if back.Lost != nil {
		var err error
		if kept, err = p.keepCopy(back.File, back.Lost); err != nil {
			return err
		}
	}
	names := slices.SortedFunc(maps.Keys(files), func(a, b string) int {
		return strings.Count(a, "/") - strings.Count(b, "/")
	})
	for _, name := range names {
		if err := p.files().Put(name, files[name]); err != nil {
			return err
		}
	}
	if p.json {
		return p.writeJSON(object{
			{"model", back.Revision.Model}, {"revision", back.Revision.ID}, {"copy", orNull(kept)}, {"written", names},
			{"others", say.Each(back.Others, func(o catalogue.Other) object { return object{{"name", o.Name}, {"own", o.Own}, {"gone", o.Gone}} })},
		})
	}
	p.println(back.File + " is " + title(back.Revision) + " again")
	if kept != "" {
		p.println("what stood there and was not saved is in " + kept)
	}
	p.tellOthers(back, own)
	if back.Revision.Fault() != nil {
		p.println("it has faults, as it had then: see \"rodlore check\"")
	}
	p.println("look at it and save it:")
	p.lookAndSave("compare", back.Revision.Model)
	return nil
}

// keepCopy writes what would be lost into a file that is none of the range's.
func (p *program) keepCopy(file string, content []byte) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.before-%d", file, n)
		err := p.files().Create(name, content)
		if !errors.Is(err, fs.ErrExist) {
			return name, err
		}
	}
}

// tellOthers says which shared entries are not what they were.
func (p *printer) tellOthers(back *catalogue.PutBack, own bool) {
	for _, o := range back.Others {
		file := "parts.yaml"
		if o.Material != nil {
			file = "materials.yaml"
		}
		if own {
			p.println(o.Name + " as it was then is " + o.Own + " in " + file)
		} else {
			p.println(o.Name + " is not what it was then; --own brings that back too, as " + o.Own)
		}
	}
}
