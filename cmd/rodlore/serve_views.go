package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/review"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/pages/sheet"
	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/pages/yearbook"
	"rodlore/catalogue/say"
)

// view lays out what one address shows of a range.
type view func(ctx context.Context, a asked) (*document.Document, error)

// asked is what a view is asked for.
type asked struct {
	*program // for this request alone
	of       *catalogue.Range
	views    *screen.Views
	query    url.Values
	fault    error // of the form that query is; nil where it is an address
}

func (a asked) get(key string) string { return a.query.Get(key) }

// viewsByName are the views that have an address, beside those that have fields for the
// options of commands.
var viewsByName = map[string]view{
	screen.RangeView: func(ctx context.Context, a asked) (*document.Document, error) {
		a.views.Verdicts = a.get(screen.VerdictsKey) != ""
		return a.views.Range(ctx)
	},
	screen.RodView: func(ctx context.Context, a asked) (*document.Document, error) {
		return a.views.Rod(ctx, a.get(screen.RodKey))
	},
	screen.CompareView: func(ctx context.Context, a asked) (*document.Document, error) {
		return a.views.Compare(ctx, a.get(screen.RodKey), a.get(screen.WithKey))
	},
	screen.StoryView: func(ctx context.Context, a asked) (*document.Document, error) {
		doc, err := story.Of(ctx, a.of, a.get(screen.RodKey), story.Options{Reader: story.Customer})
		return a.withBack(doc, err)
	},
	screen.SheetView: func(ctx context.Context, a asked) (*document.Document, error) {
		rev, err := sound(a.of.FindArg(a.get(screen.RodKey)))
		if err != nil {
			return nil, err
		}
		doc, err := sheet.Of(ctx, a.of, rev, sheet.Options{Now: a.now()})
		return a.withBack(doc, err)
	},
	screen.ReviewView: func(ctx context.Context, a asked) (*document.Document, error) {
		rev, err := a.of.FindArg(a.get(screen.RodKey))
		if err != nil {
			return nil, err
		}
		v, err := a.of.Review(ctx, rev)
		if err != nil {
			return nil, err
		}
		t := a.views.Teller.Teller
		doc := review.Page(t, v, review.Options{Day: a.now(), Word: reasonWords(t, rev.Model)})
		return a.views.Review(doc, a.get(screen.RodKey), v)
	},
	screen.YearbookView: func(ctx context.Context, a asked) (*document.Document, error) {
		number, err := yearOf(a.get(screen.YearKey))
		if err != nil {
			return nil, err
		}
		y, err := a.of.Year(ctx, number, a.now())
		if err != nil {
			return nil, err
		}
		doc, err := yearbook.Of(a.of, y, yearbook.Options{Now: a.now()})
		return a.withBack(doc, err)
	},
}

// withBack is a page of another command, with a way back.
func (a asked) withBack(doc *document.Document, err error) (*document.Document, error) {
	if err != nil {
		return nil, err
	}
	return a.views.Back(doc, a.get(screen.RodKey)), nil
}

// workshopOnly are the views that customers are not shown.
var workshopOnly = slices.AppendSeq([]string{screen.ReviewView, screen.SheetView, screen.YearbookView, screen.TraceView}, maps.Keys(askedViews))

// mostViews is how many views are laid out at a time.
const mostViews = 4

// screenServer answers a browser.
type screenServer struct {
	*program
	words     *say.Words
	shared    *shared // nil where it is not
	files     *folderState
	token     string        // by which forms of our own pages are known
	working   chan struct{} // a place for each view that is being laid out
	followers chan struct{} // and for each that follows the files

	doing sync.Mutex                  // what is done is done one after the other
	done  int                         // how many things
	said  map[string][]document.Block // by the latest of them, by number

	trials sync.Mutex
	kept   *kept // nil until something is tried
}

// screen gives what answers a browser about the range.
func (p *program) screen(ctx context.Context) (*screenServer, error) {
	s := &screenServer{
		program: p, files: newFolderState(), token: rand.Text(), said: map[string][]document.Block{},
		working: make(chan struct{}, mostViews), followers: make(chan struct{}, mostFollowers),
	}
	err := p.look(ctx, func(r *catalogue.Range) (err error) {
		s.words, err = say.Of(r)
		return err
	})
	return s, err
}

// views answers requests for views. Each opens the range anew, so that none sees half
// of what another has read.
func (s *screenServer) views() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /"+screen.ChangesName, s.tellChanges)
	mux.HandleFunc("GET /"+screen.ScriptName, func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/javascript; charset=utf-8")
		_, _ = w.Write(screen.Script)
	})
	mux.HandleFunc("GET /favicon.ico", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	views := maps.Clone(viewsByName)
	views[screen.TraceView] = trace
	for name, is := range askedViews {
		views[name] = s.ask(name, is)
	}
	for name, is := range views {
		pattern := "GET /" + name
		if name == screen.RangeView {
			pattern += "{$}"
		}
		show := func(w http.ResponseWriter, r *http.Request) {
			r.Body = http.MaxBytesReader(w, r.Body, 0)
			s.showView(w, r, is)
		}
		if slices.Contains(workshopOnly, name) {
			show = s.inWorkshop(show)
		}
		mux.HandleFunc(pattern, s.oneOfFew(show))
	}
	mux.HandleFunc("GET /"+screen.ShowView, s.show)
	if s.shared != nil {
		mux.HandleFunc("GET /"+screen.LinkView, s.oneOfFew(s.showLink))
	}
	mux.HandleFunc("POST /"+screen.DoView, s.oneOfFew(s.posting(s.do)))
	mux.HandleFunc("GET /"+screen.VerdictName, s.oneOfFew(s.inWorkshop(s.verdict)))
	mux.HandleFunc("GET /"+screen.TryView, s.oneOfFew(s.inWorkshop(s.try)))
	mux.HandleFunc("POST /"+screen.TryView, s.oneOfFew(s.posting(s.try)))
	return s.guarded(mux)
}

// inWorkshop keeps customers out.
func (s *screenServer) inWorkshop(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if reader := s.reader(r); reader == screen.Customer {
			doc := s.failure()
			if s.here(r) {
				doc.Blocks = append(doc.Blocks, s.showing(r, reader))
			}
			state, _ := s.files.now()
			w.WriteHeader(http.StatusNotFound)
			s.write(w, doc, state)
			return
		}
		next(w, r)
	}
}

// oneOfFew waits until few others are answered.
func (s *screenServer) oneOfFew(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		select {
		case s.working <- struct{}{}:
			defer func() { <-s.working }()
			next(w, r)
		case <-r.Context().Done():
		}
	}
}

// lay lays out a view of the range as it is now.
func (s *screenServer) lay(ctx context.Context, is view, reader screen.Reader, query url.Values, fault error) (doc *document.Document, err error) {
	for _, key := range []string{screen.RodKey, screen.WithKey} {
		if arg := query.Get(key); namesNothing(arg) {
			return nil, fmt.Errorf("%q: %w", arg, catalogue.ErrNotFound)
		}
	}
	own := *s.program // what a run notes of a range is not another's
	own.out, own.err, own.json = bufio.NewWriter(io.Discard), io.Discard, false
	err = own.look(ctx, func(r *catalogue.Range) error {
		v, err := screen.New(r, s.now(), reader)
		if err != nil {
			return err
		}
		v.Load, v.Pull = query.Get(screen.LoadKey), query.Get(screen.PullKey)
		doc, err = is(ctx, asked{&own, r, v, query, fault})
		return err
	})
	return doc, err
}

// showView writes a view, or why there is none.
func (s *screenServer) showView(w http.ResponseWriter, r *http.Request, is view) {
	reader, query := s.reader(r), r.URL.Query()
	state, _ := s.files.now() // before anything is read, so that no change is missed
	doc, err := s.lay(r.Context(), is, reader, query, nil)
	switch {
	case err == nil:
		doc.Blocks = append(s.told(query.Get(screen.ToldKey)), doc.Blocks...)
	case errors.Is(err, catalogue.ErrNotFound), errors.As(err, new(usageError)):
		w.WriteHeader(http.StatusNotFound)
	default:
		w.WriteHeader(http.StatusInternalServerError)
	}
	if err != nil {
		doc = s.failure(document.Paragraph(document.Plain(withDeed(err))))
	}
	doc.Far = reader == screen.Customer
	if s.here(r) {
		doc.Blocks = append(doc.Blocks, s.showing(r, reader))
	}
	s.write(w, doc, state)
}

// write writes a page, whose forms may write.
func (s *screenServer) write(w http.ResponseWriter, doc *document.Document, state string) {
	doc.Token, doc.Served = s.token, screen.Served(state)
	var page bytes.Buffer
	if err := doc.HTML(&page); err != nil {
		panic(err)
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(time.Minute))
	_, _ = page.WriteTo(w) // whoever asked may be gone
}

// failure says why something cannot be shown or done.
func (s *screenServer) failure(why ...document.Block) *document.Document {
	return &document.Document{Title: s.words.Say("screen.none"), Blocks: append(why,
		document.Paragraph{{Text: s.words.Say("screen.all"), Link: "./"}})}
}

// namesNothing reports whether a text can be no name of a model, revision or rod: it
// leads to a file, or steers.
func namesNothing(text string) bool {
	return isPath(text) || strings.ContainsFunc(text, unicode.IsControl)
}
