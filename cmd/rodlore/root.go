package main

import (
	"github.com/spf13/cobra"

	"rodlore/models"
)

const rootLong = `rodlore keeps the design history of a rod maker's range. Each model is a text
file in a git repository. rodlore works out how the rod made by that file
weighs, bends and recovers, at every revision it ever had, and says what
changed from one to the next.

A revision is written MODEL@REV, where REV is the label of a release (2025),
"draft" (the file as it stands; the same as no @ at all), "saved", a date
(2024, 2024-05, 2024-05-31) or the first characters of its identity.

Exit codes: 0 fine; 1 the answer is no, as with faults in a spec, a revision
that is not there or nothing to save; 2 a command line that makes no sense.`

// Groups of commands in the help.
const (
	groupLook  = "look"
	groupWork  = "work"
	groupStart = "start"
)

// newRoot builds the command line.
func newRoot(p *program) *cobra.Command {
	root := &cobra.Command{
		Use:           "rodlore",
		Short:         "the design history of a rod maker's range",
		Long:          rootLong,
		Example:       "  rodlore demo my-range\n  rodlore -C my-range history skerry-10",
		Args:          cobra.ArbitraryArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return misuse("%w; see \"%s --help\"", err, cmd.CommandPath())
	})
	root.PersistentFlags().StringVarP(&p.dir, "range", "C", "", "start in this `folder` instead of the current one")
	root.PersistentFlags().BoolVar(&p.json, "json", false, "print data instead of text")
	root.AddGroup(
		&cobra.Group{ID: groupStart, Title: "Begin:"},
		&cobra.Group{ID: groupLook, Title: "Look:"},
		&cobra.Group{ID: groupWork, Title: "Work:"},
	)
	addCommands(root, p)
	addCobrasOwn(root)
	return root
}

// addCobrasOwn adds the commands that come with the library, in our words.
func addCobrasOwn(root *cobra.Command) {
	root.SetHelpCommandGroupID(groupStart)
	root.SetCompletionCommandGroupID(groupStart)
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		switch c.Name() {
		case "help":
			c.Short = "what a command does and how it is used"
			c.Example = "  rodlore help history"
		case "completion":
			c.Short = "let the shell complete models and revisions"
			c.Example = "  source <(rodlore completion bash)"
		}
	}
}

func addCommands(root *cobra.Command, p *program) {
	groups := []struct {
		id       string
		commands []*cobra.Command
	}{
		{groupStart, []*cobra.Command{newDemo(p), newNew(p), newAdd(p)}},
		{groupLook, []*cobra.Command{newModels(p), newFigures(p), newBend(p), newLimits(p), newHistory(p), newCompare(p)}},
		{groupWork, []*cobra.Command{newCheck(p), newSave(p), newRelease(p)}},
	}
	for _, g := range groups {
		for _, c := range g.commands {
			c.GroupID = g.id
			root.AddCommand(c)
		}
	}
}

// unknownCommand says so and offers the nearest one.
func unknownCommand(root *cobra.Command, name string) error {
	var known []string
	for _, c := range root.Commands() {
		known = append(known, c.Name())
	}
	hint := models.DidYouMean(name, known)
	if hint == "" {
		hint = "; \"rodlore --help\" lists them all"
	}
	return misuse("there is no command %q%s", name, hint)
}

// wants checks the number of arguments and says what they should be.
func wants(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < least || most >= 0 && len(args) > most {
			return misuse("%s wants %s, not %s; see \"%s --help\"", cmd.Name(), what, count(len(args), "argument"), cmd.CommandPath())
		}
		return nil
	}
}
