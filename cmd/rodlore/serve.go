package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"os/exec"
	"runtime"
	"runtime/debug"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"rodlore/catalogue/pages/screen"
)

func newServe(p *program) *cobra.Command {
	var port int
	var open, toShare bool
	var address string
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "look at the range in a browser on this computer",
		Long: `Shows the range in the browser: all rods to one scale, each model with its
figures and history, two revisions side by side, the review, the build sheet,
the year book, and the story as customers read it. A view shows the files as
they are, and follows them: what you save in your editor shows at once.

Whatever a view writes it writes by a command, and shows which. It answers this
computer only, and lets only its own pages write. Ctrl-C ends it.

F2 leaves only what customers may see: what is on sale, in larger letters,
without costs, reasons, drafts or faults. With --share phones and tablets in the
same network are shown that for an hour, by a link that comes as letters and as
a code for their camera. Nothing can be written then. The link is not encrypted.
It has the address that this computer goes out by; --address takes another.`,
		Example: `  rodlore serve --open
  rodlore serve --port 8080
  rodlore serve --share --open`,
		Args: wants(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if port < 0 || port > 65535 {
				return misuse("--port wants a number from 0, which takes any that is free, to 65535, not %d", port)
			}
			if address != "" && !toShare {
				return misuse("--address says where others find this computer, so it wants --share")
			}
			return p.serve(cmd.Context(), port, open, toShare, address)
		},
	}
	cmd.Flags().IntVar(&port, "port", 8467, "answer at this `port`; 0 takes any that is free")
	cmd.Flags().BoolVar(&open, "open", false, "open the browser")
	cmd.Flags().BoolVar(&toShare, "share", false, "let phones and tablets in the same network look, by a link")
	cmd.Flags().StringVar(&address, "address", "", "share by this `address` of the computer")
	return cmd
}

// serve answers until the context ends.
func (p *program) serve(ctx context.Context, port int, open, toShare bool, shareBy string) error {
	s, err := p.screen(ctx)
	if err != nil {
		return err // before anything is offered
	}
	// What a request opens is done with when it is answered.
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(128 << 20)
	host := "127.0.0.1"
	if toShare {
		host = "0.0.0.0"
	}
	listener, err := net.Listen("tcp4", net.JoinHostPort(host, strconv.Itoa(port)))
	if err != nil {
		return fmt.Errorf("%w; take another port with --port", err)
	}
	defer listener.Close()
	port = listener.Addr().(*net.TCPAddr).Port
	address := fmt.Sprintf("http://127.0.0.1:%d/", port)
	if toShare {
		own, err := ownAddresses()
		if err != nil {
			return err
		}
		if s.shared, err = share(port, shareBy, own, p.now()); err != nil {
			return err
		}
		fmt.Fprint(p.err, s.shared.says())
		address += screen.LinkView
	}
	fmt.Fprintln(p.err, address+" shows the range, to this computer alone; Ctrl-C ends it")
	if open {
		openBrowser(address)
	}
	if err := s.files.follow(ctx, p.root); err != nil {
		fmt.Fprintln(p.err, err)
	}
	server := bounded(s.views(), 10*time.Second)
	server.BaseContext = func(net.Listener) context.Context { return ctx }
	defer context.AfterFunc(ctx, func() { server.Close() })()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return ctx.Err()
}

// bounded is a server that waits so long for all of a request, and half as long for
// its head.
func bounded(views http.Handler, patience time.Duration) *http.Server {
	return &http.Server{
		Handler: views, ErrorLog: log.New(io.Discard, "", 0),
		ReadHeaderTimeout: patience / 2, ReadTimeout: patience, IdleTimeout: time.Minute,
		MaxHeaderBytes: 16 << 10,
	}
}

// openBrowser shows an address, where the system has a way to.
func openBrowser(address string) {
	program := map[string][]string{"darwin": {"open"}, "windows": {"rundll32", "url.dll,FileProtocolHandler"}}[runtime.GOOS]
	if program == nil {
		program = []string{"xdg-open"}
	}
	_ = exec.Command(program[0], append(program[1:], address)...).Start() // the address is printed all the same
}
