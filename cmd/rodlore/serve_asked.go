package main

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/visible"
)

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
	return func(ctx context.Context, a asked, r *catalogue.Range) (*document.Document, error) {
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
		return onScreen(a, r, func(v *screen.Views) (*document.Document, error) { return v.Asked(show) })
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
func trace(_ context.Context, a asked, r *catalogue.Range) (*document.Document, error) {
	of := a.get(screen.RodKey)
	is := formDeeds[screen.TraceDeed]
	fields := fieldsOf(is.command, is.options, a.query)
	return onScreen(a, r, func(v *screen.Views) (*document.Document, error) { return v.Trace(of, a.get("load"), fields) })
}

// registerAsked adds the views of commands.
func (s *screenServer) registerAsked(mux *http.ServeMux) {
	views := map[string]view{screen.TraceView: trace}
	for name, is := range askedViews {
		views[name] = s.ask(name, is)
	}
	for name, lay := range views {
		mux.HandleFunc("GET /"+name, s.oneOfFew(s.inWorkshop(func(w http.ResponseWriter, r *http.Request) {
			r.Body = http.MaxBytesReader(w, r.Body, 0)
			s.showView(w, r, lay)
		})))
	}
}
