package main

import (
	"bytes"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/netip"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"rodlore/catalogue/pages/pagetest"
)

// asCustomer gives the answer to whoever the maker shows the screen to.
func asCustomer(h http.Handler, address string) (status int, page string) {
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8467/"+address, nil)
	r.AddCookie(&http.Cookie{Name: "show", Value: "1"})
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

// TestCustomersSeeWhatIsOnSale follows every link as a customer: no draft, prototype,
// reason, cost, fault or form is among what is seen, and all that is on sale is.
func TestCustomersSeeWhatIsOnSale(t *testing.T) {
	screen, _ := showing(t)
	seen, next := map[string]bool{"": true}, []string{""}
	var all strings.Builder
	for len(next) > 0 {
		status, page := asCustomer(screen, next[0])
		if status != http.StatusOK {
			t.Fatalf("%s: %d", next[0], status)
		}
		for _, own := range []string{"draft", "prototype", "EUR", "parts cost", `method="post"`, "Fitted to", "(2026-01-18", "limits and habits", "at most"} {
			if !strings.HasPrefix(next[0], "story") && strings.Contains(page, own) {
				t.Errorf("%s: shows %q", next[0], own)
			}
		}
		all.WriteString(next[0] + "\n")
		next = next[1:]
		for _, m := range hrefs.FindAllStringSubmatch(page, -1) {
			to := strings.ReplaceAll(m[1], "&amp;", "&")
			if !seen[to] && !strings.HasPrefix(to, "show?") && !strings.HasPrefix(to, "story") && (strings.Contains(to, "skerry") || to == "") {
				seen[to], next = true, append(next, to)
			}
		}
	}
	for _, want := range []string{"rod?of=skerry-10\n", "rod?of=skerry-10%402021\n", "compare?of=skerry-10%402025&with=skerry-10%402026\n"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("nothing leads to %q in\n%s", want, all.String())
		}
	}
	for _, address := range []string{"review?of=skerry-10", "sheet?of=skerry-10", "yearbook?year=2026", "rod?of=overfall-11", "compare?of=skerry-10@2026&with=skerry-10"} {
		_, page := asCustomer(screen, address)
		if status, _ := asCustomer(screen, address); status == http.StatusOK && strings.Contains(page, "not saved") {
			t.Errorf("%s is shown", address)
		}
	}
	for _, address := range []string{"review?of=skerry-10", "sheet?of=skerry-10", "yearbook?year=2026"} {
		if status, _ := asCustomer(screen, address); status != http.StatusNotFound {
			t.Errorf("%s: %d", address, status)
		}
	}
}

// TestShowingIsTurnedOnAndOff by the link, and leads back, or to the range where that
// is the workshop's own.
func TestShowingIsTurnedOnAndOff(t *testing.T) {
	screen, _ := showing(t)
	for _, row := range []struct {
		back, to string
		on       bool
	}{
		{"rod?of=skerry-10", "/rod?of=skerry-10", true}, {"review?of=skerry-10", "/", true}, {"review?of=skerry-10", "/review?of=skerry-10", false},
		{"//tarrowmouth.example/", "/", true}, {"http://tarrowmouth.example/", "/", true}, {"../x", "/", true}, {"", "/", false},
	} {
		r := httptest.NewRequest(http.MethodGet, "http://localhost/show?"+url.Values{"back": {row.back}}.Encode(), nil)
		if !row.on {
			r.AddCookie(&http.Cookie{Name: "show", Value: "1"})
		}
		w := httptest.NewRecorder()
		screen.ServeHTTP(w, r)
		set := w.Result().Cookies()
		if w.Code != http.StatusSeeOther || w.Header().Get("Location") != row.to || len(set) != 1 || (set[0].MaxAge < 0) == row.on {
			t.Errorf("%+v: %d, %q, %v", row, w.Code, w.Header().Get("Location"), set)
		}
	}
}

// TestSharing lets in who has the link, in time, by the number of this computer, to see
// what customers see; and lets nobody write.
func TestSharing(t *testing.T) {
	s, _ := ofDemo(t)
	now := scriptClock()
	s.program.now = func() time.Time { return now }
	s.shared = &shared{key: "RIGHT", link: "http://192.168.4.2:8467/?key=RIGHT", until: now.Add(sharedFor)}
	views := s.views()
	request := func(method, address, from, cookie string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(method, address, nil)
		r.RemoteAddr = from + ":40000"
		if cookie != "" {
			r.AddCookie(&http.Cookie{Name: "key", Value: cookie})
		}
		w := httptest.NewRecorder()
		views.ServeHTTP(w, r)
		return w
	}
	for _, row := range []struct {
		method, address, from, cookie string
		want                          int
	}{
		{"GET", "http://192.168.4.2:8467/?key=RIGHT", "192.168.4.7", "", 200},
		{"GET", "http://192.168.4.2:8467/rod?of=wrack-9", "192.168.4.7", "RIGHT", 200},
		{"GET", "http://192.168.4.2:8467/review?of=wrack-9", "192.168.4.7", "RIGHT", 404},
		{"GET", "http://192.168.4.2:8467/share", "192.168.4.7", "RIGHT", 404},
		{"GET", "http://192.168.4.2:8467/", "192.168.4.7", "", 403},
		{"GET", "http://192.168.4.2:8467/?key=WRONG", "192.168.4.7", "RIGHT", 403},
		{"GET", "http://tarrowmouth.example:8467/?key=RIGHT", "192.168.4.7", "", 403},
		{"GET", "http://localhost:8467/", "192.168.4.7", "", 403}, // whoever says so
		{"GET", "http://127.0.0.1:8467/review?of=wrack-9", "127.0.0.1", "", 200},
		{"GET", "http://127.0.0.1:8467/share", "127.0.0.1", "", 200},
		{"POST", "http://192.168.4.2:8467/do", "192.168.4.7", "RIGHT", 403},
		{"POST", "http://127.0.0.1:8467/do", "127.0.0.1", "", 403},
	} {
		if w := request(row.method, row.address, row.from, row.cookie); w.Code != row.want {
			t.Errorf("%+v: %d\n%.300s", row, w.Code, w.Body)
		}
	}
	w := request("GET", "http://192.168.4.2:8467/?key=RIGHT", "192.168.4.7", "")
	if strings.Contains(w.Body.String(), "draft") || !slices.ContainsFunc(w.Result().Cookies(), func(c *http.Cookie) bool { return c.Name == "key" && c.HttpOnly }) {
		t.Errorf("what is let in: %v\n%.500s", w.Result().Cookies(), w.Body)
	}
	now = now.Add(sharedFor)
	if w := request("GET", "http://192.168.4.2:8467/?key=RIGHT", "192.168.4.7", "RIGHT"); w.Code != http.StatusForbidden {
		t.Errorf("after the hour: %d", w.Code)
	}
	if w := request("GET", "http://127.0.0.1:8467/", "127.0.0.1", ""); w.Code != http.StatusOK {
		t.Errorf("here after the hour: %d", w.Code)
	}
}

// TestLinkIsReadByACamera reads the code off the screen with a reader of others, by day
// and by night.
func TestLinkIsReadByACamera(t *testing.T) {
	s, _ := ofDemo(t)
	s.shared = &shared{key: "RIGHT", link: "http://192.168.104.252:8467/?key=" + strings.Repeat("Q7", 13), until: scriptClock().Add(sharedFor)}
	b := pagetest.Visit(t, s.views())
	for _, view := range []pagetest.View{{Width: 360}, {Width: 1280, Dark: true}} {
		b.Show(t, "share", view)
		seen, err := png.Decode(bytes.NewReader(b.Seen(t)))
		if err != nil {
			t.Fatal(err)
		}
		light := gozxing.NewLuminanceSourceFromImage(seen)
		if view.Dark {
			light = gozxing.NewInvertedLuminanceSource(light)
		}
		bits, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(light))
		if err != nil {
			t.Fatal(err)
		}
		read, err := qrcode.NewQRCodeReader().DecodeWithoutHints(bits)
		if err != nil || read.GetText() != s.shared.link {
			t.Errorf("%+v: %v, %v", view, read, err)
		}
	}
	b.Accessible(t, "share")
}

// TestShareNeedsANetwork makes a link that others can follow, or says that there is
// nobody to share with.
func TestShareNeedsANetwork(t *testing.T) {
	if _, err := share(8467, "", nil, time.Now()); err == nil || !strings.Contains(err.Error(), "private network") {
		t.Error(err)
	}
	virtual, lan := netip.MustParseAddr("172.17.0.1"), netip.MustParseAddr("192.168.4.2")
	own := first([]netip.Addr{virtual, lan}, lan)
	s, err := share(8467, "", own, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	to, err := url.Parse(s.link)
	if err != nil || to.Host != "192.168.4.2:8467" || len(to.Query().Get("key")) < 26 || !strings.Contains(s.says(), s.link+"\n") || !strings.Contains(s.says(), "▄") ||
		!strings.Contains(s.says(), "--address: 172.17.0.1\n") {
		t.Errorf("%v: %s", err, s.says())
	}
	if s, err := share(8467, "172.17.0.1", own, time.Now()); err != nil || !strings.Contains(s.link, "//172.17.0.1:8467/") || !slices.Equal(s.others, []netip.Addr{lan}) {
		t.Errorf("as asked for: %v, %+v", err, s)
	}
	for _, address := range []string{"192.168.4.3", "127.0.0.1", "tarrowmouth.example"} {
		if _, err := share(8467, address, own, time.Now()); err == nil || !strings.Contains(err.Error(), "it has 192.168.4.2, 172.17.0.1") {
			t.Errorf("%s: %v", address, err)
		}
	}
	found, err := ownAddresses() // whatever there are
	if err != nil || slices.ContainsFunc(found, func(ip netip.Addr) bool { return !ip.IsPrivate() }) {
		t.Errorf("%v: %v", found, err)
	}
}
