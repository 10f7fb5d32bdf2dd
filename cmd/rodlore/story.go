package main

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/say"
)

// storyOptions are the options of story as typed.
type storyOptions struct {
	reader, from, out, paper string
	all, words, card         bool
}

func newStory(p *program) *cobra.Command {
	var o storyOptions
	cmd := &cobra.Command{
		Use:   "story MODEL [--card] --out FILE | --all --out DIR",
		Short: "pages that tell customers how a model evolved",
		Long: `Writes one file that tells how a model became what it is: the rod of then and
the rod of now, what that did in pictures, why it has as many rings as it has
and what it would do with others, and release by release your words to
customers and what changed. All its figures and their meaning are folded away.
The name of the file says its form: .html to mail or show, .pdf to print, .md as
plain text. The file needs no other and no address on the internet.

Customers read nothing of costs, faults, reasons and prototypes; --for workshop
tells all of it.

With --card it is one small page for the counter or the parcel: then and now,
five figures, the maker. With --all a folder of pages is written, for every
model that was released, to be read from the disk or put on any web host.

The sentences come from one file. "story --words" prints it; what you put into
words.yaml beside range.yaml stands for its own, in any language.`,
		Example: `  rodlore story skerry-10 --out skerry-10.html
  rodlore story skerry-10 --for workshop --from 2024 --out skerry-10.pdf
  rodlore story skerry-10 --card --out card.pdf
  rodlore story --all --out pages
  rodlore story --words`,
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: p.completeModels,
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.card && !cmd.Flags().Changed("paper") {
				o.paper = "a6"
			}
			opts, err := o.options(args)
			if err != nil {
				return err
			}
			if o.words {
				_, err = p.out.Write(say.File())
				return err
			}
			return p.look(cmd.Context(), func(r *catalogue.Range) error {
				if o.all {
					return p.storySite(cmd.Context(), r, o, opts)
				}
				return p.story(cmd.Context(), r, args[0], o, opts)
			})
		},
	}
	cmd.Flags().StringVar(&o.out, "out", "", "the `file` to write, or the folder")
	cmd.Flags().StringVar(&o.reader, "for", string(story.Customer), "the `reader`: customer or workshop")
	cmd.Flags().StringVar(&o.from, "from", "", "tell of releases as new as this `date` only: 2019, 2019-05 or 2019-05-31")
	cmd.Flags().BoolVar(&o.all, "all", false, "write pages of all models that were released")
	cmd.Flags().BoolVar(&o.card, "card", false, "write one small page, on a6 or, with --paper a5, on that")
	cmd.Flags().BoolVar(&o.words, "words", false, "print the file of all sentences")
	completeWords(cmd, "for", []string{string(story.Customer), string(story.Workshop)})
	paperFlag(cmd, &o.paper)
	return cmd
}

func (o storyOptions) example(args []string) string {
	if o.all {
		return "pages"
	}
	return args[0] + ".html"
}

// cardPapers are what a card is printed on, by what is typed.
var cardPapers = map[string]document.Paper{"a5": document.A5, "a6": document.A6}

// options are the options as the story takes them, or what makes no sense of them.
func (o storyOptions) options(args []string) (opts story.Options, err error) {
	switch {
	case o.words && (len(args) > 0 || o.all || o.out != ""):
		return opts, misuse("--words prints the sentences and nothing else; leave the rest out")
	case o.words:
		return opts, nil
	case o.card && (o.all || o.reader != string(story.Customer)):
		return opts, misuse("--card makes the card of one model, for customers; leave out --all and --for")
	case o.all && len(args) > 0:
		return opts, misuse("--all tells of all models; leave out %s", args[0])
	case !o.all && len(args) != 1:
		return opts, misuse("story wants one model, or --all, not %s; see \"rodlore story --help\"", count(len(args), "argument"))
	case o.out == "":
		return opts, misuse("say where to with --out, such as --out %s", o.example(args))
	case o.reader != string(story.Customer) && o.reader != string(story.Workshop):
		return opts, misuseOf("for", "%q is neither customer nor workshop", o.reader)
	case o.from != "" && !catalogue.IsDate(o.from):
		return opts, misuseOf("from", "%q is no date; write 2019, 2019-05 or 2019-05-31", o.from)
	}
	paper, ok := cardPapers[strings.ToLower(o.paper)]
	switch {
	case !o.card:
		paper, err = paperOf(o.paper)
	case !ok:
		err = misuseOf("paper", "%q is no paper for a card; write a6 or a5", o.paper)
	}
	return story.Options{Reader: story.Reader(o.reader), From: o.from, Paper: paper}, err
}

func (p *program) story(ctx context.Context, r *catalogue.Range, model string, o storyOptions, opts story.Options) error {
	name, _, _ := strings.Cut(model, "@")
	file, err := p.outFile(o.out, name)
	if err != nil {
		return err
	}
	opts.Print = formOf(file) == ".pdf"
	tell := story.Of
	if o.card {
		tell = story.Card
	}
	d, err := tell(ctx, r, model, opts)
	if err != nil {
		return err
	}
	written, err := p.writeForm(d, file, formOf(file))
	if err != nil {
		return err
	}
	return p.show(
		func() object { return object{{"model", model}, {"for", o.reader}, {"files", []object{written}}} },
		func() { p.println("wrote " + file) },
	)
}

// storySite writes pages of the whole range into a folder.
func (p *program) storySite(ctx context.Context, r *catalogue.Range, o storyOptions, opts story.Options) error {
	pages, err := story.Site(ctx, r, opts)
	if err != nil {
		return err
	}
	if err := writePages(p.at(o.out), pages); err != nil {
		return err
	}
	if p.json {
		files := say.Each(slices.Sorted(maps.Keys(pages)), func(name string) object { return fileOf(filepath.Join(o.out, name), pages[name]) })
		return p.writeJSON(object{{"model", nil}, {"for", o.reader}, {"files", files}}) // of all models
	}
	p.println("wrote " + count(len(pages), "page") + " into " + o.out + "; begin with " + filepath.Join(o.out, "index.html"))
	return nil
}
