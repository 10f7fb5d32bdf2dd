package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/netip"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/spf13/cobra"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/review"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/pages/sheet"
	"rodlore/catalogue/pages/story"
	"rodlore/catalogue/pages/yearbook"
	"rodlore/catalogue/say"
)

func newServe(p *program) *cobra.Command {
	var port int
	var open bool
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "look at the range in a browser on this computer",
		Long: `Shows the range in the browser: all rods to one scale, each model with its
figures and history, two revisions side by side, the review, the build sheet,
the year book, and the story as customers read it. A view shows the files as
they are, and follows them: what you save in your editor shows at once.

Nothing is written, and only this computer is answered. Ctrl-C ends it.`,
		Example: `  rodlore serve --open
  rodlore serve --port 8080`,
		Args: wants(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if port < 0 || port > 65535 {
				return misuse("--port wants a number from 0, which takes any that is free, to 65535, not %d", port)
			}
			return p.serve(cmd.Context(), port, open)
		},
	}
	cmd.Flags().IntVar(&port, "port", 8467, "answer at this `number`; 0 takes any that is free")
	cmd.Flags().BoolVar(&open, "open", false, "open the browser")
	return cmd
}

// serve answers until the context ends.
func (p *program) serve(ctx context.Context, port int, open bool) error {
	s, err := p.screen(ctx)
	if err != nil {
		return err // before anything is offered
	}
	listener, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("%w; take another port with --port", err)
	}
	address := "http://" + listener.Addr().String() + "/"
	fmt.Fprintln(p.err, address+" shows the range, to this computer alone; Ctrl-C ends it")
	if open {
		openBrowser(address)
	}
	if err := s.files.follow(ctx, p.root); err != nil {
		fmt.Fprintln(p.err, err)
	}
	server := &http.Server{
		Handler:           s.views(),
		BaseContext:       func(net.Listener) context.Context { return ctx },
		ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second,
		WriteTimeout: time.Minute, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10,
	}
	defer context.AfterFunc(ctx, func() { server.Close() })()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return ctx.Err()
}

// openBrowser shows an address, where the system has a way to.
func openBrowser(address string) {
	program := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if program == nil {
		program = []string{"xdg-open"}
	}
	_ = exec.Command(program[0], append(program[1:], address)...).Start() // the address is printed all the same
}

// view lays out what one address shows of a range.
type view func(ctx context.Context, p *program, r *catalogue.Range, get func(key string) string) (*document.Document, error)

// viewsByName are the views that have an address.
var viewsByName = map[string]view{
	screen.RangeView: func(ctx context.Context, p *program, r *catalogue.Range, _ func(string) string) (*document.Document, error) {
		return onScreen(p, r, func(v *screen.Views) (*document.Document, error) { return v.Range(ctx) })
	},
	screen.RodView: func(ctx context.Context, p *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		return onScreen(p, r, func(v *screen.Views) (*document.Document, error) { return v.Rod(ctx, get(screen.RodKey)) })
	},
	screen.CompareView: func(ctx context.Context, p *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		return onScreen(p, r, func(v *screen.Views) (*document.Document, error) {
			return v.Compare(ctx, get(screen.RodKey), get(screen.WithKey))
		})
	},
	screen.StoryView: func(ctx context.Context, _ *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		return story.Of(ctx, r, get(screen.RodKey), story.Options{Reader: story.Customer})
	},
	screen.SheetView: func(ctx context.Context, p *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		rev, err := r.FindArg(get(screen.RodKey))
		if err == nil {
			err = rev.Fault()
		}
		if err != nil {
			return nil, err
		}
		return sheet.Of(ctx, r, rev, sheet.Options{Now: p.now()})
	},
	screen.ReviewView: func(ctx context.Context, p *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		rev, err := r.FindArg(get(screen.RodKey))
		if err != nil {
			return nil, err
		}
		v, err := r.Review(ctx, rev)
		if err != nil {
			return nil, err
		}
		t := english(r)
		if t.Words, err = say.Of(r); err != nil {
			return nil, err
		}
		return review.Page(t, v, review.Options{Day: p.now(), Word: reasonWords(t, rev.Model)}), nil
	},
	screen.YearbookView: func(ctx context.Context, p *program, r *catalogue.Range, get func(string) string) (*document.Document, error) {
		number, err := yearOf(get(screen.YearKey))
		if err != nil {
			return nil, err
		}
		y, err := r.Year(ctx, number, p.now())
		if err != nil {
			return nil, err
		}
		return yearbook.Of(r, y, yearbook.Options{Now: p.now()})
	},
}

func onScreen(p *program, r *catalogue.Range, lay func(*screen.Views) (*document.Document, error)) (*document.Document, error) {
	v, err := screen.New(r, p.now())
	if err != nil {
		return nil, err
	}
	return lay(v)
}

// mostViews is how many views are laid out at a time.
const mostViews = 4

// screenServer answers a browser.
type screenServer struct {
	*program
	words     *say.Words
	files     *folderState
	working   chan struct{} // a place for each view that is being laid out
	followers chan struct{} // and for each that follows the files
}

// screen gives what answers a browser about the range.
func (p *program) screen(ctx context.Context) (*screenServer, error) {
	s := &screenServer{
		program: p, files: newFolderState(),
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
	for name, lay := range viewsByName {
		pattern := "GET /" + name
		if name == screen.RangeView {
			pattern += "{$}"
		}
		mux.HandleFunc(pattern, func(w http.ResponseWriter, r *http.Request) {
			select {
			case s.working <- struct{}{}:
				defer func() { <-s.working }()
			case <-r.Context().Done():
				return
			}
			s.showView(w, r, lay)
		})
	}
	return guarded(mux)
}

// showView writes a view, or why there is none.
func (s *screenServer) showView(w http.ResponseWriter, r *http.Request, lay view) {
	own := *s.program // what a run notes of a range is not another's
	own.out, own.err, own.json = bufio.NewWriter(io.Discard), io.Discard, false
	var page bytes.Buffer
	state, _ := s.files.now() // before anything is read, so that no change is missed
	script := screen.Served(state)
	err := own.look(r.Context(), func(of *catalogue.Range) error {
		for _, key := range []string{screen.RodKey, screen.WithKey} {
			if arg := r.URL.Query().Get(key); strings.ContainsFunc(arg, unnamed) {
				return fmt.Errorf("%q: %w", arg, catalogue.ErrNotFound)
			}
		}
		d, err := lay(r.Context(), &own, of, r.URL.Query().Get)
		if err != nil {
			return err
		}
		d.Served = script
		return d.HTML(&page)
	})
	switch {
	case err == nil:
	case errors.Is(err, catalogue.ErrNotFound), errors.As(err, new(usageError)):
		w.WriteHeader(http.StatusNotFound)
	default:
		w.WriteHeader(http.StatusInternalServerError)
	}
	if err != nil {
		page.Reset()
		failed := &document.Document{Title: s.words.Say("screen.none"), Served: script, Blocks: []document.Block{
			document.Paragraph(document.Plain(withDeed(err))),
			document.Paragraph{{Text: s.words.Say("screen.all"), Link: "./"}},
		}}
		if failed.HTML(&page) != nil {
			return
		}
	}
	_, _ = page.WriteTo(w) // whoever asked may be gone
}

// unnamed reports whether a character is in no name of a model or revision.
func unnamed(c rune) bool { return c == '/' || c == '\\' || unicode.IsControl(c) }

// guarded lets in only who asks this computer by its own name. A page elsewhere whose
// name was made to lead here asks by that name.
func guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Type", "text/html; charset=utf-8")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Content-Security-Policy", "frame-ancestors 'none'") // the rest stands in the page
		h.Set("Cache-Control", "no-store")
		if !ownName(r.Host) {
			http.Error(w, "only this computer is answered, by the address that rodlore serve printed", http.StatusForbidden)
			return
		}
		// Nothing more is read, and what takes long to lay out is not given up for that.
		_ = http.NewResponseController(w).SetReadDeadline(time.Time{})
		http.MaxBytesHandler(next, 0).ServeHTTP(w, r)
	})
}

// ownName reports whether a Host is this computer's own loopback.
func ownName(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	if name == "localhost" {
		return true
	}
	ip, err := netip.ParseAddr(name)
	return err == nil && ip.IsLoopback()
}
