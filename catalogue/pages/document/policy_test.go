package document

import (
	"crypto/sha256"
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
)

// A page runs its own script and none that came in with a name.
func TestPolicy(t *testing.T) {
	const head = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; base-uri 'none'; form-action 'none'; img-src data:; style-src 'unsafe-inline'`
	rows := map[string]struct {
		d    Document
		want string
	}{
		"plain":       {Document{Title: "Rod"}, head + `">`},
		"style sheet": {Document{Title: "Rod", Style: "style.css"}, head + ` 'self' file:">`},
		"script":      {Document{Title: "Rod", Script: "let a = '</script>'"}, head + `; script-src 'sha256-`},
		"served": {Document{Title: "Rod", Served: "./own.js"},
			strings.Replace(head, "form-action 'none'; img-src data:", "form-action 'self'; connect-src 'self'; img-src 'self' blob: data:", 1) + `; script-src 'self'">`},
	}
	for name, row := range rows {
		page := string(written(t, row.d.HTML))
		if !strings.Contains(page, row.want) {
			t.Errorf("%s: %s is missing in\n%s", name, row.want, page)
		}
		if row.d.Script == "" {
			continue
		}
		script := regexp.MustCompile(`(?s)<script>(.*)</script>`).FindStringSubmatch(page)[1]
		sum := sha256.Sum256([]byte(script))
		if hash := base64.StdEncoding.EncodeToString(sum[:]); !strings.Contains(page, "'sha256-"+hash+"'") {
			t.Errorf("the script has another hash than %s", hash)
		}
	}
}

// A link to a page is one to a file, whatever its name.
func TestLinksAreFiles(t *testing.T) {
	d := &Document{Title: "Rod", Blocks: []Block{
		Heading{Level: 2, Text: "Part", ID: "part"},
		Paragraph{{Text: "x", Link: "javascript:alert(1).html"}, {Text: "y", Link: "#part"}},
	}}
	page, text := string(written(t, d.HTML)), string(written(t, d.Markdown))
	if !strings.Contains(page, `href="./javascript:alert%281%29.html"`) || !strings.Contains(page, `href="#part"`) {
		t.Errorf("links in\n%s", page)
	}
	if !strings.Contains(text, "(<./javascript:alert(1).html>)") {
		t.Errorf("links in\n%s", text)
	}
}

// What steers a terminal or turns letters around is seen in every form.
func TestNothingSteers(t *testing.T) {
	const bad = "a\x1b]0;t\x07\u202eb\x00\u009bc"
	const shown = `a\x1b]0;t\x07\u202eb\x00\x9bc`
	d := &Document{Title: bad, Author: bad, Subtitle: bad, Footer: bad, Blocks: []Block{
		Heading{Level: 2, Text: bad}, Paragraph(Plain(bad)), Quote(Plain(bad)), List{Items: []Text{Plain(bad)}},
	}}
	page := string(written(t, d.HTML))
	inHTML := strings.Replace(shown, `\x00`, "\ufffd", 1) // the HTML Living Standard, 13.2.5, has it so too
	if strings.ContainsAny(page, "\x1b\x07\u202e\x00\u009b") || strings.Count(page, inHTML) < 6 {
		t.Errorf("in HTML:\n%s", page)
	}
	text := string(written(t, d.Markdown))
	if strings.ContainsAny(text, "\x1b\x07\u202e\x00\u009b") {
		t.Errorf("in Markdown:\n%q", text)
	}
	if got := printable(bad); got != shown {
		t.Errorf("in PDF: %q", got)
	}
}
