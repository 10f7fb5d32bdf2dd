package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/models"
)

func newAdd(p *program) *cobra.Command {
	var like string
	var blank blankOptions
	cmd := &cobra.Command{
		Use:   "add MODEL [--like MODEL[@REV] | --blank]",
		Short: "put a new model into the range",
		Long: `Writes the file of a new model: an example with comments to make your own, the
spec of another model under a new name, or a blank that you bought, by what you
know of it. Nothing is saved yet.`,
		Example: `  rodlore add gull-9
  rodlore add skerry-11 --like skerry-10@2025
  rodlore add gull-9 --blank --length 9ft --mass 71g`,
		Args:              wants(1, 1, "the name of the new model"),
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE: func(cmd *cobra.Command, args []string) error {
			if !catalogue.ModelRule.MatchString(args[0]) {
				return about(modelArgument, misuse("model %q: use small letters, digits and dashes, such as skerry-10", args[0]))
			}
			if like != "" && blank.is {
				return misuse("--like and --blank: a model starts from one or the other")
			}
			if err := blank.check(); err != nil {
				return err
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error { return p.add(cmd.Context(), r, args[0], like, &blank) })
		},
	}
	cmd.Flags().StringVar(&like, "like", "", "the `model` to start from")
	blank.flags(cmd)
	cobra.CheckErr(cmd.RegisterFlagCompletionFunc("like", p.completeRevisions))
	return cmd
}

func (p *program) add(ctx context.Context, r *catalogue.Range, model, like string, blank *blankOptions) (err error) {
	if err := r.MayAdd(model); err != nil {
		return about(modelArgument, err)
	}
	spec := models.StarterModel(displayName(model))
	switch {
	case like != "":
		spec, err = specLike(r, like, displayName(model))
	case blank.is:
		spec, err = p.blankSpec(ctx, r, displayName(model), blank)
	}
	if err != nil {
		return err
	}
	file := "models/" + model + ".yaml"
	if err := p.files().Create(file, spec); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return about(modelArgument, fmt.Errorf("model %s is there already, in %s; take another name", model, file))
		}
		return err
	}
	return p.show(func() object { return object{{"model", model}, {"file", file}} }, func() {
		p.println("wrote " + file + "; edit it, then look at it and save it:")
		p.lookAndSave("figures", model)
	})
}

// displayName makes a name for people of a file's: "skerry-10", "Skerry 10".
func displayName(model string) string {
	name := strings.ReplaceAll(model, "-", " ")
	return strings.ToUpper(name[:1]) + name[1:]
}

var (
	nameLine = regexp.MustCompile(`(?m)^name:.*$`)
	wasLine  = regexp.MustCompile(`(?m)^was:.*\n`)
)

// specLike is the text of another revision under a new name. The old name's
// "was" stays behind with the old model.
func specLike(r *catalogue.Range, arg, name string) ([]byte, error) {
	rev, err := sound(r.FindArg(arg))
	if err != nil {
		return nil, about("like", err)
	}
	src, err := r.Source(rev)
	if err != nil {
		return nil, err
	}
	src = nameLine.ReplaceAllLiteralString(src, "name: "+name)
	return []byte(wasLine.ReplaceAllLiteralString(src, "")), nil
}
