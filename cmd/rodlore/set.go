package main

import (
	"bytes"
	"context"
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/say"
	"rodlore/models"
)

func newSet(p *program) *cobra.Command {
	var more, less []string
	cmd := &cobra.Command{
		Use:   "set MODEL [PATH=VALUE...]",
		Short: "put values into a draft",
		Long: `Changes values in a model's file, by the paths that faults and comparisons name
them by. Nothing else in the file changes: order, layout and comments stay. A
key that the file lacks is put in. A value that is a fault, or does not go with
the rest, is refused, and nothing is written. Without a path what can be set is
listed.

--more puts in one more ring, halfway from the one named to the next, or one
more ply like the one named; --less takes a ring or a ply out.`,
		Example: `  rodlore set skerry-10
  rodlore set skerry-10 "rings[at 381 mm].at=391 mm" "length=10 ft 1 in"
  rodlore set skerry-10 "joints[butt+tip].kind=spigot"
  rodlore set skerry-10 --less "rings[at 381 mm]"`,
		Args:              wants(1, -1, "a model, and what to set"),
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			texts := map[string]string{}
			for _, arg := range args[1:] {
				path, text, ok := strings.Cut(arg, "=")
				if !ok {
					return misuse("%q: write what is set as PATH=VALUE, such as \"length=9 ft 6 in\"", arg)
				}
				if _, twice := texts[path]; twice {
					return misuse("%s is set twice; leave out one of the two", path)
				}
				texts[path] = text
			}
			return p.set(cmd.Context(), args[0], texts, more, less)
		},
	}
	cmd.Flags().StringArrayVar(&more, "more", nil, "`path` of a ring or ply to add another beside")
	cmd.Flags().StringArrayVar(&less, "less", nil, "`path` of a ring or ply to take out")
	return cmd
}

func (p *program) set(ctx context.Context, model string, texts map[string]string, more, less []string) error {
	var rev *catalogue.Revision
	var src, text []byte
	err := p.look(ctx, func(r *catalogue.Range) (err error) {
		if rev, err = r.Find(model, "draft"); err != nil {
			return err
		}
		if src, err = p.files().Read(rev.File); err != nil {
			return err
		}
		if text, err = models.SetValues(rev.File, src, texts); err != nil {
			return err
		}
		for _, path := range more {
			if text, err = models.AddEntry(rev.File, text, path); err != nil {
				return err
			}
		}
		for _, path := range less {
			if text, err = models.RemoveEntry(rev.File, text, path); err != nil {
				return err
			}
		}
		return p.putDraft(r, model, src, text)
	})
	if err != nil {
		return err
	}
	values, err := models.Values(rev.File, text)
	if err != nil {
		return err
	}
	written := !bytes.Equal(src, text)
	switch {
	case p.json:
		settable := say.Each(values, func(v models.Value) object {
			return object{{"path", v.Path.String()}, {"text", v.Text}, {"line", v.Pos.Line}}
		})
		return p.writeJSON(object{{"model", model}, {"file", rev.File}, {"written", written}, {"values", settable}})
	case len(texts)+len(more)+len(less) == 0:
		t := newTable(words("what can be set"), filling("is"))
		for _, v := range values {
			t.add(v.Path.String(), v.Text)
		}
		p.print("", t)
	case !written:
		p.println(rev.File + " says so already; nothing written")
	default:
		p.println("wrote " + rev.File + "; look at it and save it:")
		p.lookAndSave("compare", model)
	}
	return nil
}

// putDraft writes the file of a model that was read as was: a sound spec, or nothing.
func (p *program) putDraft(r *catalogue.Range, model string, was, text []byte) error {
	if bytes.Equal(was, text) {
		return nil
	}
	trial, err := sound(r.Trial(model, text))
	if err != nil {
		return err
	}
	release, err := p.files().Hold("models")
	if err != nil {
		return err
	}
	defer release()
	now, err := p.files().Read(trial.File)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return errors.New("the file was edited elsewhere meanwhile; look at both and try again")
	}
	return p.files().Put(trial.File, text)
}
