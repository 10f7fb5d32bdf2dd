package main

import (
	"errors"
	"fmt"
	"regexp"
	"runtime/debug"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"rodlore/catalogue/say"
	"rodlore/evaluate"
	"rodlore/models/spelling"
)

const rootLong = `rodlore keeps the design history of a rod maker's range. Each model is a text
file in a git repository. rodlore works out what the rod in that file weighs and
how it bends and recovers, at every revision it ever had, and says what changed
from one to the next.

A revision is written MODEL@REV, where REV is the label of a release (2025),
"draft" (the file as it stands; the same as no @ at all), "saved", a date
(2024, 2024-05, 2024-05-31) or the first characters of its identity.

Exit codes: 0 fine; 1 the answer is no, as with faults in a spec, a revision
that is not there or nothing to save; 2 a command line that makes no sense;
130 interrupted by Ctrl-C.`

// groupStart is the first group of commands in the help.
const groupStart = "Begin:"

// version is what this build was made of, and the method of its figures.
func version() string {
	v := "of no known version"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		v = info.Main.Version
	}
	return v + ", figures by " + evaluate.Method
}

// knowPlainly lets the templates of help use plainly. Cobra keeps what they may use
// in one map for all commands, which several runs in one process must not write.
var knowPlainly = sync.OnceFunc(func() { cobra.AddTemplateFunc("plainly", plainly) })

// newRoot builds the command line.
func newRoot(p *program) *cobra.Command {
	root := &cobra.Command{
		Use:           "rodlore",
		Short:         "the design history of a rod maker's range",
		Long:          rootLong,
		Example:       "  rodlore demo my-range\n  rodlore -C my-range history skerry-10",
		Args:          cobra.ArbitraryArgs,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	knowPlainly()
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "FlagUsages |", "FlagUsages | plainly |"))
	root.SetVersionTemplate("rodlore {{.Version}}\n")
	root.SetOut(p.out)
	root.SetErr(p.err)
	root.SetFlagErrorFunc(wrongOption)
	root.PersistentFlags().StringVarP(&p.dir, "range", "C", "", "start in this `folder` instead of the current one")
	root.PersistentFlags().BoolVar(&p.json, "json", false, "print data instead of text")
	addCommands(root, p)
	root.SetHelpCommand(newHelp(root))
	addCompletion(root)
	return root
}

func addCommands(root *cobra.Command, p *program) {
	groups := []struct {
		title    string
		commands []*cobra.Command
	}{
		{groupStart, []*cobra.Command{newDemo(p), newNew(p), newAdd(p), newImport(p)}},
		{"Look:", []*cobra.Command{newModels(p), newFigures(p), newBend(p), newPatterns(p), newLimits(p), newCast(p), newHistory(p), newCompare(p), newSteps(p), newHeard(p), newBuilt(p), newStory(p), newYearbook(p), newServe(p)}},
		{"Work:", []*cobra.Command{newCheck(p), newMeasure(p), newTrace(p), newFit(p), newSet(p), newSave(p), newPutBack(p), newReword(p), newWithdraw(p), newReview(p), newRelease(p), newSheet(p)}},
	}
	for _, g := range groups {
		root.AddGroup(&cobra.Group{ID: g.title, Title: g.title})
		for _, c := range g.commands {
			c.GroupID = g.title
			root.AddCommand(c)
		}
	}
}

// unknownCommand says so and offers the nearest one.
func unknownCommand(root *cobra.Command, name string) error {
	hint := spelling.DidYouMean(name, say.Each(root.Commands(), (*cobra.Command).Name))
	if hint == "" {
		hint = "; \"rodlore --help\" lists them all"
	}
	return misuse("there is no command %q%s", name, hint)
}

// wrongOption puts an error of the library into our words.
func wrongOption(cmd *cobra.Command, err error) error {
	var value *pflag.InvalidValueError
	if errors.As(err, &value) {
		return misuseOf(value.GetFlag().Name, "%q is no %s; see \"%s --help\"",
			value.GetValue(), kinds[value.GetFlag().Value.Type()], cmd.CommandPath())
	}
	return misuse("%w; see \"%s --help\"", err, cmd.CommandPath())
}

// optionLine is a line of the library's list of options.
var optionLine = regexp.MustCompile(`(?m)^( +-.*?\S) {3,}(.*)$`)

// plainly is the library's list of options without what nobody types,
// --json=true, in columns that are no wider for it, and no line beyond 80 columns.
func plainly(options string) string {
	options = strings.ReplaceAll(options, "[=true|false]", "")
	widest := 0
	for _, line := range optionLine.FindAllStringSubmatch(options, -1) {
		widest = max(widest, len(line[1]))
	}
	return optionLine.ReplaceAllStringFunc(options, func(text string) string {
		line := optionLine.FindStringSubmatch(text)
		said := wrap(line[2], max(30, 80-widest-3))
		return fmt.Sprintf("%-*s   %s", widest, line[1], strings.Join(said, "\n"+strings.Repeat(" ", widest+3)))
	})
}

// kinds names what an option takes, by the library's name for it.
var kinds = map[string]string{"int": "whole number", "float64": "number", "bool": "true or false"}

// newHelp is the command that explains another one.
func newHelp(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "what a command does and how it is used",
		Long:    "What a command does, how it is used and which options it has.",
		Example: "  rodlore help history",
		GroupID: groupStart,
		RunE: func(_ *cobra.Command, args []string) error {
			cmd, _, err := root.Find(args)
			if err != nil {
				return misuse("%w", err)
			}
			if cmd == root && len(args) > 0 {
				return unknownCommand(root, args[0])
			}
			return cmd.Help()
		},
	}
}

// addCompletion adds the library's command for shells, in our words.
func addCompletion(root *cobra.Command) {
	root.SetCompletionCommandGroupID(groupStart)
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			c.Short = "let the shell complete models and revisions"
			c.Long = "Prints a script that lets your shell complete models, revisions and options.\n\"rodlore completion bash --help\" says how to load it, and so for each shell."
			c.Example = "  source <(rodlore completion bash)"
			c.Args = wants(0, 0, "bash, fish, powershell or zsh")
			c.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
		}
	}
}

// wants checks the number of arguments and says what they should be.
func wants(least, most int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < least || most >= 0 && len(args) > most {
			path := cmd.CommandPath()
			return misuse("%s wants %s, not %s; see \"%s --help\"", strings.TrimPrefix(path, cmd.Root().Name()+" "), what, count(len(args), "argument"), path)
		}
		return nil
	}
}
