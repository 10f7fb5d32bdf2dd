package yearbook

import (
	"slices"
	"strconv"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/telling"
	"rodlore/catalogue/say"
	"rodlore/models"
)

// Options say how the book is made.
type Options struct {
	Now   time.Time      // the day of the book
	Print bool           // for sheets of paper and no screen
	Paper document.Paper // the zero Paper is A4
	Short bool           // the numbers, and what stands out, without what each model and part became
	Words *say.Words     // nil for the range's own
}

// Of lays out the book of a year, in the range's words and units of today.
func Of(r *catalogue.Range, y *catalogue.Year, o Options) (*document.Document, error) {
	b := &book{Options: o, year: y}
	var err error
	if b.set, err = r.Settings(); err != nil {
		return nil, err
	}
	if o.Words != nil {
		b.Teller = telling.Teller{Teller: o.Words.Teller(b.set)}
	} else if b.Teller, err = telling.New(r); err != nil {
		return nil, err
	}
	b.pen = pages.Screen(b.Teller.Words, b.set)
	if o.Print {
		b.pen = pages.Print(b.Teller.Words, b.set)
	}
	return b.document()
}

// book is what a year book is made from.
type book struct {
	telling.Teller
	Options
	year *catalogue.Year
	set  *models.Settings
	pen  pages.Pen
}

// document puts the parts of the book together.
func (b *book) document() (*document.Document, error) {
	d := &document.Document{
		Title:    b.say("title"),
		Subtitle: b.say("subtitle", "maker", b.set.Maker.Text),
		Author:   b.set.Maker.Text, Language: b.Language(), Date: b.day(), Paper: b.Paper,
		Footer: b.say("footer", "maker", b.set.Maker.Text),
	}
	if b.Short {
		d.Blocks = slices.Concat(b.numbers(), b.quiet(), b.drift(), b.notes())
		return d, nil
	}
	var parts []document.Block
	for _, m := range b.year.Models {
		blocks, err := b.model(m)
		if err != nil {
			return nil, err
		}
		parts = append(parts, blocks...)
	}
	parts = slices.Concat(parts, b.quiet(), b.drift(), b.stock(), b.notes())
	if len(parts) > 0 {
		d.Blocks = append(d.Blocks, document.Contents{Title: b.say("contents")})
	}
	d.Blocks = append(append(d.Blocks, b.numbers()...), parts...)
	return d, nil
}

// day is the day of the book: today, or the last of a year that is over.
func (b *book) day() time.Time {
	if end := time.Date(b.year.Number, 12, 31, 0, 0, 0, 0, time.UTC); end.Before(b.Now) {
		return end
	}
	return b.Now
}

// say is a text of the year book. Every one of them may name the year.
func (b *book) say(path string, pairs ...string) string {
	return b.Say("yearbook."+path, append(pairs, "year", strconv.Itoa(b.year.Number))...)
}

func (b *book) count(path string, n int, pairs ...string) string {
	return b.Count("yearbook."+path, n, pairs...)
}

func (b *book) heading(level int, path string, pairs ...string) document.Block {
	return document.Heading{Level: level, Text: b.say(path, pairs...)}
}

func (b *book) paragraph(path string, pairs ...string) document.Block {
	return document.Paragraph(telling.Plain(b.say(path, pairs...)))
}
