package main

import (
	"crypto/subtle"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"runtime/debug"
	"time"

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
)

// guarded lets in only who asks this computer by its own name, and who it is shared
// with. A page elsewhere whose name was made to lead here asks by that name. What writes
// is let in from our own pages alone, which a browser tells by Sec-Fetch-Site or Origin
// (W3C, Fetch Metadata Request Headers).
func (s *screenServer) guarded(next http.Handler) http.Handler {
	origins := http.NewCrossOriginProtection()
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Type", "text/html; charset=utf-8")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Content-Security-Policy", "frame-ancestors 'none'") // the rest stands in the page
		h.Set("Cache-Control", "no-store")
		switch here := s.here(r) && ownName(r.Host); {
		case !here && !s.shared.lets(r, s.now()):
			http.Error(w, "only this computer is answered, by the address that rodlore serve printed", http.StatusForbidden)
			return
		case !here:
			s.shared.remember(w)
		}
		if s.shared != nil && r.Method == http.MethodPost {
			http.Error(w, "nothing can be written while the range is shared", http.StatusForbidden)
			return
		}
		if err := origins.Check(r); err != nil {
			http.Error(w, "only pages of this server may write", http.StatusForbidden)
			return
		}
		// Nothing more is read, and what takes long to lay out is not given up for that.
		answer := http.NewResponseController(w)
		if r.Method != http.MethodPost {
			_ = answer.SetReadDeadline(time.Time{})
		}
		_ = answer.SetWriteDeadline(time.Time{})
		defer func() { // one request's fault is no other's
			if why := recover(); why != nil {
				s.complain(fmt.Sprintf("a request failed: %v\n%s", why, debug.Stack()))
				http.Error(w, "this request failed, by a fault of rodlore; the range is as it was", http.StatusInternalServerError)
			}
		}()
		next.ServeHTTP(w, r)
	})
}

// addressed is a Host without its port, and as an address; ip is not valid where the name
// is no number.
func addressed(host string) (name string, ip netip.Addr) {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	ip, _ = netip.ParseAddr(name)
	return name, ip
}

// ownName reports whether a Host is this computer's own loopback.
func ownName(host string) bool {
	name, ip := addressed(host)
	return name == "localhost" || ip.IsLoopback()
}

// mostSent is how much a form may hold: a spec as large as one may be, written for an
// address, and its fields.
const mostSent = 4 << 20

// posting takes forms of our own pages alone, of bounded size.
func (s *screenServer) posting(next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, mostSent)
		if err := r.ParseForm(); err != nil {
			status, why := http.StatusBadRequest, "this form cannot be read"
			if errors.As(err, new(*http.MaxBytesError)) {
				status, why = http.StatusRequestEntityTooLarge, "this form holds more than a spec may"
			}
			http.Error(w, why, status)
			return
		}
		if subtle.ConstantTimeCompare([]byte(r.PostForm.Get(document.TokenKey)), []byte(s.token)) != 1 {
			http.Error(w, "this page is of another run of rodlore serve; load it again", http.StatusForbidden)
			return
		}
		if s.reader(r) == screen.Customer {
			http.Error(w, "a customer is being shown the range", http.StatusForbidden)
			return
		}
		_ = http.NewResponseController(w).SetReadDeadline(time.Time{}) // all is read
		next(w, r)
	}
}
