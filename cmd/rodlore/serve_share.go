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

	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/screen"
	"rodlore/catalogue/say"
)

// sharedFor is how long the views are shared once they are.
const sharedFor = time.Hour

// shared lets whoever has its link look for a while.
type shared struct {
	link, key string
	until     time.Time
	others    []netip.Addr // that could be in the link instead
}

// share makes a link to a port of this computer for others in its network: by the
// address asked for, else by the first of its own.
func share(port int, address string, own []netip.Addr, now time.Time) (*shared, error) {
	if len(own) == 0 {
		return nil, errors.New("this computer is in no private network, so there is nobody to share with; without --share it is shown to this computer alone")
	}
	taken := own[0]
	if address != "" {
		ip, err := netip.ParseAddr(address)
		if err != nil || !slices.Contains(own, ip) {
			return nil, misuseOf("address", "%q is no address of this computer in a private network; it has %s", address, listed(own))
		}
		taken = ip
	}
	s := &shared{key: rand.Text(), until: now.Add(sharedFor), others: without(own, taken)}
	s.link = "http://" + netip.AddrPortFrom(taken, uint16(port)).String() + "/?" + url.Values{screen.KeyKey: {s.key}}.Encode()
	return s, nil
}

// ownAddresses are those of this computer in private networks (RFC 1918), first the one
// that what goes out has.
func ownAddresses() (own []netip.Addr, err error) {
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	for _, a := range addresses {
		if prefix, err := netip.ParsePrefix(a.String()); err == nil && prefix.Addr().Is4() && prefix.Addr().IsPrivate() {
			own = append(own, prefix.Addr())
		}
	}
	// To a port that speaks without connections nothing is sent by this: the system only
	// says from where it would (192.0.2.0/24 is nobody's, RFC 5737).
	if to, err := net.Dial("udp4", "192.0.2.1:9"); err == nil {
		defer to.Close()
		own = first(own, to.LocalAddr().(*net.UDPAddr).AddrPort().Addr())
	}
	return own, nil
}

// first puts an address before the others, if it is among them: that of the network
// which leads on to all others, for a virtual one leads nowhere.
func first(own []netip.Addr, out netip.Addr) []netip.Addr {
	if slices.Contains(own, out) {
		return append([]netip.Addr{out}, without(own, out)...)
	}
	return own
}

func without(own []netip.Addr, out netip.Addr) []netip.Addr {
	return slices.DeleteFunc(slices.Clone(own), func(ip netip.Addr) bool { return ip == out })
}

func listed(own []netip.Addr) string { return strings.Join(say.Each(own, netip.Addr.String), ", ") }

// lets reports whether a request from elsewhere may look: it was sent to a number, for
// a name could be made to lead here, and has the key, in time.
func (s *shared) lets(r *http.Request, now time.Time) bool {
	if _, ip := addressed(r.Host); s == nil || !now.Before(s.until) || !ip.IsValid() {
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

// fromHere reports whether a request came from this computer.
func fromHere(r *http.Request) bool {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	return err == nil && from.Addr().Unmap().IsLoopback()
}

// says tells what sharing means, with the link as letters and for a camera.
func (s *shared) says() string {
	text := fmt.Sprintf("Until %s anyone on this network who has this link sees what customers may see;\nnothing can be written, and others on the network could read it too:\n  %s\n",
		s.until.Format("15:04"), s.link)
	if len(s.others) > 0 {
		text += "Where that leads nowhere, take another address of this computer with --address: " + listed(s.others) + "\n"
	}
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
	s.showView(w, r, func(_ context.Context, a asked) (*document.Document, error) {
		return a.views.Share(s.shared.link, s.shared.until)
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
	return document.Ways{Links: document.Text{{Text: s.words.Say(path), Link: screen.Show(r.URL)}}}
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
