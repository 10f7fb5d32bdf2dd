package screen

import (
	"net/url"
	"strings"
)

// The names of the views, as they stand in addresses.
const (
	RangeView    = ""
	RodView      = "rod"
	CompareView  = "compare"
	StoryView    = "story"
	ReviewView   = "review"
	SheetView    = "sheet"
	YearbookView = "yearbook"
	TryView      = "try"

	// Those that show what a command says.
	PatternsView = "patterns"
	StepsView    = "steps"
	FitView      = "fit"
	BuiltView    = "built"
	SerialView   = "serial"
	ChartView    = "chart"
	NewView      = "new"
	TraceView    = "trace"

	DoView   = "do"    // where forms are sent that do something
	ShowView = "show"  // turns showing to a customer on and off
	LinkView = "share" // the link for others, as a code
)

// The keys of what a view is of.
const (
	RodKey   = "of"   // MODEL or MODEL@REV
	WithKey  = "with" // the newer one of two
	YearKey  = "year"
	ToldKey  = "told"  // the number of what was done just before
	DeedKey  = "deed"  // of a form: what is done
	LabelKey = "label" // of a release
	BackKey  = "back"  // the view to go back to
	KeyKey   = "key"   // lets others in

	VerdictsKey = "verdicts" // set where the range is shown with the verdict of every model
)

// What forms do, each by a command.
const (
	SaveDeed    = "save"
	PutBackDeed = "put-back"
	ReleaseDeed = "release"
	TickDeed    = "tick"
	PatternDeed = "pattern"
	FitDeed     = "fit"
	BuiltDeed   = "built"
	RepairDeed  = "repair"
	BlankDeed   = "blank"
	LikeDeed    = "like"
	ExampleDeed = "example"
	MeasureDeed = "measure"
	TraceDeed   = "trace"
)

// After is the address of the view that is shown after something was done.
func After(view, of, told string) string { return address(view, RodKey, of, ToldKey, told) }

// Show is the address that turns showing to a customer on or off and leads back to a
// view.
func Show(view *url.URL) string {
	return address(ShowView, BackKey, strings.TrimPrefix(view.RequestURI(), "/"))
}

// address is that of a view, as seen from any other.
func address(view string, pairs ...string) string {
	query := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		query.Set(pairs[i], pairs[i+1])
	}
	if len(query) == 0 {
		return "./" + view
	}
	return "./" + view + "?" + query.Encode()
}
