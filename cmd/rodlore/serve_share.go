package main

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/skip2/go-qrcode"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
)

// sharedFor is how long the views are shared once they are.
const sharedFor = time.Hour

// shared lets whoever has its link look for a while.
type shared struct {
	link, key string
	until     time.Time
}

// share makes a link to a port of this computer for others in its network.
func share(port int, now time.Time) (*shared, error) {
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	s := &shared{key: rand.Text(), until: now.Add(sharedFor)}
	for _, a := range addresses {
		prefix, err := netip.ParsePrefix(a.String())
		if ip := prefix.Addr(); err == nil && ip.Is4() && ip.IsPrivate() { // RFC 1918: of a network of one's own
			host := netip.AddrPortFrom(ip, uint16(port)).String()
			s.link = "http://" + host + "/?" + url.Values{screen.KeyKey: {s.key}}.Encode()
			return s, nil
		}
	}
	return nil, errors.New("this computer is in no private network, so there is nobody to share with; without --share it is shown to this computer alone")
}

// lets reports whether a request from elsewhere may look: it was sent to a number, for
// a name could be made to lead here, and has the key, in time.
func (s *shared) lets(r *http.Request, now time.Time) bool {
	if s == nil || !now.Before(s.until) || !isNumber(r.Host) {
		return false
	}
	key := r.URL.Query().Get(screen.KeyKey)
	if c, err := r.Cookie(screen.KeyKey); key == "" && err == nil {
		key = c.Value
	}
	return subtle.ConstantTimeCompare([]byte(key), []byte(s.key)) == 1
}

// remember keeps the key with whoever was let in, so that links need not name it.
func (s *shared) remember(w http.ResponseWriter) {
	http.SetCookie(w, &http.Cookie{Name: screen.KeyKey, Value: s.key, Path: "/", Expires: s.until, HttpOnly: true, SameSite: http.SameSiteLaxMode})
}

// isNumber reports whether a Host is an address of the Internet Protocol.
func isNumber(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	_, err := netip.ParseAddr(host)
	return err == nil
}

// fromHere reports whether a request came from this computer.
func fromHere(r *http.Request) bool {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	return err == nil && from.Addr().Unmap().IsLoopback()
}

// says tells what sharing means, with the link as letters and for a camera.
func (s *shared) says() string {
	text := fmt.Sprintf("Until %s whoever has this link and is in this network sees what customers may see;\nnothing can be written, and others in the network could read along:\n  %s\n",
		s.until.Format("15:04"), s.link)
	if code, err := qrcode.New(s.link, qrcode.Medium); err == nil {
		text += code.ToSmallString(false)
	}
	return text
}

// showLink shows the link, for a phone to be held before it.
func (s *screenServer) showLink(w http.ResponseWriter, r *http.Request) {
	if !s.here(r) {
		http.NotFound(w, r)
		return
	}
	s.showView(w, r, func(_ context.Context, a asked, of *catalogue.Range) (*document.Document, error) {
		return onScreen(a, of, func(v *screen.Views) (*document.Document, error) { return v.Share(s.shared.link, s.shared.until) })
	})
}

// reader is who a request is for: others are customers, and so is whoever the maker
// said to show it to.
func (s *screenServer) reader(r *http.Request) screen.Reader {
	if _, err := r.Cookie(screen.ShowView); err == nil || !s.here(r) {
		return screen.Customer
	}
	return screen.Workshop
}

// here reports whether a request is this computer's own. Without sharing none other
// is let in.
func (s *screenServer) here(r *http.Request) bool { return s.shared == nil || fromHere(r) }

// showing is the link that turns showing to a customer on or off.
func (s *screenServer) showing(r *http.Request, reader screen.Reader) document.Block {
	path := "screen.show"
	if reader == screen.Customer {
		path = "screen.shown"
	}
	return document.Paragraph{{Text: s.words.Say(path), Link: screen.Show(r.URL)}}
}

// show turns showing to a customer on or off, and leads back where that is shown then.
func (s *screenServer) show(w http.ResponseWriter, r *http.Request) {
	c := &http.Cookie{Name: screen.ShowView, Value: "1", Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode}
	customer := s.reader(r) == screen.Workshop
	if !customer {
		c.MaxAge = -1
	}
	http.SetCookie(w, c)
	view, query, _ := strings.Cut(r.URL.Query().Get(screen.BackKey), "?")
	if _, ok := viewsByName[view]; !ok || customer && slices.Contains(workshopOnly, view) {
		view, query = screen.RangeView, ""
	}
	http.Redirect(w, r, (&url.URL{Path: "/" + view, RawQuery: query}).String(), http.StatusSeeOther)
}
