package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/visible"
)

// deed is a command that a form gives, with the options that the form has fields for.
type deed struct {
	command []string
	options []string
	next    string // the view that is shown then
	by      string // the option that says what it is of; "" where an argument does
}

// formDeeds are what can be done from the screen, by the name that forms have it by.
var formDeeds = map[string]deed{
	screen.SaveDeed:    {[]string{"save"}, []string{"why", "tell"}, screen.RodView, ""},
	screen.PutBackDeed: {[]string{"put-back"}, nil, screen.RodView, ""},
	screen.ReleaseDeed: {[]string{"release"}, []string{"despite"}, screen.RodView, ""},
	screen.TickDeed:    {[]string{"review"}, []string{"tick", "by", "why"}, screen.ReviewView, ""},
	screen.PatternDeed: {[]string{"patterns", "--write"}, []string{"count", "butt-ring-at", "like"}, screen.RodView, ""},
	screen.FitDeed:     {[]string{"fit", "--write"}, []string{"bench", "free"}, screen.FitView, ""},
	screen.BuiltDeed:   {[]string{"built", "add"}, []string{"serial", "date", "weight", "test-curve", "blank", "note", "why"}, screen.BuiltView, ""},
	screen.RepairDeed:  {[]string{"built", "repair"}, []string{"done", "date", "section", "weight", "why"}, screen.SerialView, ""},
	screen.BlankDeed:   {[]string{"add", "--blank"}, []string{"material", "length", "tip", "butt", "mass", "hung"}, screen.RodView, ""},
	screen.LikeDeed:    {[]string{"add"}, []string{"like"}, screen.RodView, ""},
	screen.MeasureDeed: {[]string{"measure"}, []string{"rod", "what", "reading", "section", "at", "load", "pivot", "swings", "in", "date"}, screen.FitView, ""},
	screen.TraceDeed:   {[]string{"trace"}, []string{"rod", "load", "apart", "from", "size", "marks", "points", "date"}, screen.FitView, "of"},
	screen.ExampleDeed: {[]string{"add"}, nil, screen.RodView, ""},
}

// do carries a command out, by its own words, and shows what it said.
func (s *screenServer) do(w http.ResponseWriter, r *http.Request) {
	form := r.PostForm
	is, ok := formDeeds[form.Get(screen.DeedKey)]
	of := strings.TrimSpace(form.Get(screen.RodKey))
	args, err := options(form, is.options)
	if !ok || err != nil || namesNothing(of) {
		http.Error(w, "there is no such form", http.StatusNotFound)
		return
	}
	state, _ := s.files.now()
	args = append(slices.Clone(is.command), args...)
	switch {
	case is.by != "":
		args = append(args, "--"+is.by+"="+of)
	case of != "":
		args = append(args, "--", of)
	}
	if label := strings.TrimSpace(form.Get(screen.LabelKey)); label != "" {
		args = append(args, label)
	}
	said, err := s.carryOut(r.Context(), args)
	if err != nil {
		w.WriteHeader(http.StatusUnprocessableEntity)
		s.write(w, s.undone(r, is, said, err), state)
		return
	}
	if is.next != screen.ReviewView && is.next != screen.SerialView {
		of, _, _ = strings.Cut(of, "@")
	}
	http.Redirect(w, r, screen.After(is.next, of, s.remember(said)), http.StatusSeeOther)
}

// undone shows why something was not done: above the form, as it was filled in, where
// that begins a model, and beside the fields that it is about.
func (s *screenServer) undone(r *http.Request, is deed, said []document.Block, why error) *document.Document {
	if is.command[0] != "add" {
		return s.failure(said...)
	}
	doc, err := s.lay(r.Context(), s.ask(screen.NewView, askedViews[screen.NewView]), screen.Workshop, r.PostForm, why)
	if err != nil {
		return s.failure(said...)
	}
	doc.Blocks = append([]document.Block{document.Region{ID: "done", Live: true, Blocks: said}}, doc.Blocks...)
	return doc
}

// unixLines are lines as files have them: a form ends its own with CR LF.
func unixLines(text string) string { return strings.ReplaceAll(text, "\r\n", "\n") }

// carryOut runs a command line on the range, one at a time, and gives what it said.
func (s *screenServer) carryOut(ctx context.Context, args []string) ([]document.Block, error) {
	s.doing.Lock()
	defer s.doing.Unlock()
	page := &saidPage{}
	out := visible.NewWriter(&page.text)
	own := &program{printer: printer{env: s.env, out: bufio.NewWriter(out), page: page}, err: out, now: s.now, alone: true}
	root := newRoot(own)
	root.SetArgs(append([]string{"--range=" + s.at(".")}, args...))
	err := root.ExecuteContext(ctx)
	_ = own.out.Flush()
	own.answer(err)
	_ = out.Flush()
	page.lines(&own.printer, false)
	return append([]document.Block{document.Printed{Title: commandLine(args)}}, page.blocks...), err
}

// saidPage is what a command prints, as blocks of a page: its tables, and lines of text
// between them.
type saidPage struct {
	text   bytes.Buffer
	blocks []document.Block
}

// pageWidth is so wide that lines are broken where the page is narrow, and nowhere else.
const pageWidth = 4000

// lines closes the text so far.
func (l *saidPage) lines(p *printer, drawn bool) {
	_ = p.out.Flush()
	if text := strings.Trim(l.text.String(), "\n"); text != "" {
		l.blocks = append(l.blocks, document.Printed{Text: text, Columns: drawn})
	}
	l.text.Reset()
}

// table lays a table out, without columns that are empty.
func (l *saidPage) table(p *printer, t table) {
	l.lines(p, false)
	var laid document.Table
	t = t.filled()
	for _, c := range t.columns {
		laid.Columns = append(laid.Columns, document.Column{Head: c.head, Right: c.right})
	}
	for _, row := range t.rows {
		if row != nil {
			laid.Add(row...)
		}
	}
	l.blocks = append(l.blocks, laid)
}

// mostRemembered is of how many deeds the words are kept until they are shown.
const mostRemembered = 20

// remember keeps what a deed said for the page that is shown next.
func (s *screenServer) remember(said []document.Block) (number string) {
	s.doing.Lock()
	defer s.doing.Unlock()
	s.done++
	number = fmt.Sprint(s.done)
	s.said[number] = said
	delete(s.said, fmt.Sprint(s.done-mostRemembered))
	return number
}

// told is what a deed said, at the top of the page that is shown after it.
func (s *screenServer) told(number string) []document.Block {
	s.doing.Lock()
	defer s.doing.Unlock()
	said, ok := s.said[number]
	if !ok {
		return nil
	}
	return []document.Block{document.Region{ID: "done", Live: true, Blocks: append([]document.Block{
		document.Paragraph(document.Bold(s.words.Say("screen.done")))}, said...)}}
}

// askedView is a view that shows what a command says, with fields for its options.
type askedView struct {
	command []string
	options []string
	first   string   // what must be said before there is an answer: an option, or screen.RodKey
	deeds   []string // what can be done from there
}

var askedViews = map[string]askedView{
	screen.PatternsView: {[]string{"patterns"}, []string{"count", "butt-ring-at", "like"}, screen.RodKey, []string{screen.PatternDeed}},
	screen.StepsView:    {[]string{"steps"}, []string{"to", "releases", "first"}, "to", nil},
	screen.FitView:      {[]string{"fit"}, []string{"bench", "free", "for"}, screen.RodKey, []string{screen.FitDeed, screen.MeasureDeed}},
	screen.BuiltView:    {[]string{"built", "list"}, []string{"year"}, "", []string{screen.BuiltDeed, screen.RepairDeed}},
	screen.SerialView:   {[]string{"built", "show"}, nil, screen.RodKey, nil},
	screen.ChartView:    {[]string{"built", "chart"}, nil, "", nil},
	screen.NewView:      {deeds: []string{screen.BlankDeed, screen.LikeDeed, screen.ExampleDeed}},
}

// names are options whose value names something of the range, never a file.
var names = map[string]bool{"to": true, "like": true, "bench": true}

// options are the options of a command line that a form has values for.
func options(form url.Values, known []string) (args []string, err error) {
	for _, option := range known {
		for _, value := range form[option] {
			value = strings.TrimSpace(unixLines(value))
			if names[option] && namesNothing(value) {
				return nil, fmt.Errorf("%q: %w", value, catalogue.ErrNotFound)
			}
			if value != "" {
				args = append(args, "--"+option+"="+value)
			}
		}
	}
	return args, nil
}

// fieldsOf are fields for options of a command, said as its help says them.
func fieldsOf(command, options []string, form url.Values) []document.Field {
	cmd, _, err := newRoot(&program{}).Find(command)
	if err != nil {
		panic(err)
	}
	var fields []document.Field
	for _, name := range options {
		flag := cmd.Flags().Lookup(name)
		fields = append(fields, document.Field{Name: name, Label: strings.ReplaceAll(flag.Usage, "`", ""), Value: form.Get(name)})
	}
	return fields
}

// ask answers a view with what its command says.
func (s *screenServer) ask(name string, is askedView) view {
	return func(ctx context.Context, a asked) (*document.Document, error) {
		of := a.get(screen.RodKey)
		show := screen.Asked{View: name, Of: of}
		if is.options != nil {
			show.Fields = fieldsOf(is.command, is.options, a.query)
		}
		for _, deed := range is.deeds {
			show.Deeds = append(show.Deeds, a.deed(deed))
		}
		args, err := options(a.query, is.options)
		if err != nil {
			return nil, err
		}
		if is.command != nil && (is.first == "" || a.get(is.first) != "") {
			args = append(append([]string{}, is.command...), args...)
			if of != "" {
				args = append(args, "--", of)
			}
			show.Said, _ = s.carryOut(ctx, args) // an error is an answer too
		}
		return a.views.Asked(show)
	}
}

// deed is the form of a deed: as it was filled in, with what was wrong with it, where it
// was just sent.
func (a asked) deed(name string) screen.Deed {
	is, filled := formDeeds[name], a.query
	if filled.Has(screen.DeedKey) && filled.Get(screen.DeedKey) != name {
		filled = nil
	}
	d := screen.Deed{Name: name, Fields: fieldsOf(is.command, is.options, filled)}
	if a.fault == nil || filled == nil {
		return d
	}
	d.Of = document.Field{Name: modelArgument, Value: filled.Get(screen.RodKey)}
	var at optionError
	if !errors.As(a.fault, &at) {
		return d
	}
	if at.option == modelArgument {
		d.Of.Fault = at.error.Error()
	}
	for i := range d.Fields {
		if d.Fields[i].Name == at.option {
			d.Fields[i].Fault = at.error.Error()
		}
	}
	return d
}

// commandLine is how a command line is typed.
func commandLine(args []string) string {
	line := "rodlore"
	for _, arg := range args {
		line += " " + visible.Arg(arg)
	}
	return line
}

// trace is the view of a photograph.
func trace(_ context.Context, a asked) (*document.Document, error) {
	is := formDeeds[screen.TraceDeed]
	return a.views.Trace(a.get(screen.RodKey), a.get("load"), fieldsOf(is.command, is.options, a.query))
}
