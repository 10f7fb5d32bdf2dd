package pagetest

import (
	"strings"
	"testing"
)

const page = `<!DOCTYPE html>
<html lang="en">
<head><meta charset="utf-8"><title>Rod</title><style>%s</style></head>
<body><main><h1>Rod</h1><p>Eight rings.</p></main></body>
</html>
`

func styled(css string) []byte { return []byte(strings.Replace(page, "%s", css, 1)) }

func TestBrowserFindsFaults(t *testing.T) {
	b := Open(t, map[string][]byte{
		"good": styled("body{color:#222}"),
		"pale": styled("p{color:#ccc}"),
		"wide": styled("p{width:2000px}"),
		"dark": styled("@media (prefers-color-scheme: dark){p{color:#333;background:#222}}"),
	})
	tests := []struct {
		page  string
		view  View
		fault string
	}{
		{"good", View{Width: 360}, ""},
		{"good", View{Width: 1280, Dark: true}, ""},
		{"pale", View{Width: 360}, "color-contrast"},
		{"wide", View{Width: 360}, "wider than the screen"},
		{"dark", View{Width: 360}, ""},
		{"dark", View{Width: 360, Dark: true}, "color-contrast"},
	}
	for _, test := range tests {
		b.Show(t, test.page, test.view)
		faults := strings.Join(b.faults(t), "; ")
		if (faults == "") != (test.fault == "") || !strings.Contains(faults, test.fault) {
			t.Errorf("%s at %+v: faults %q, want %q", test.page, test.view, faults, test.fault)
		}
	}
}

func TestValidatorFindsFaults(t *testing.T) {
	if out, err := validate(t, map[string][]byte{"good.html": styled("")}); err != nil {
		t.Errorf("a good page: %v\n%s", err, out)
	}
	out, err := validate(t, map[string][]byte{"bad.html": []byte(strings.Replace(page, "<p>", "<p><div>", 1))})
	if err == nil || !strings.Contains(string(out), "element-permitted-content") && !strings.Contains(string(out), "close-order") {
		t.Errorf("a page with a fault passed: %v\n%s", err, out)
	}
}

func TestBrowserHearsWhatNoPageMayDo(t *testing.T) {
	tests := []struct{ page, script, want string }{
		{"good.html", "", ""},
		{"throws.html", "throw new Error('torn')", "torn"},
		{"tells.html", "console.error('told')", "told"},
		{"asks.html", "fetch('http://elsewhere.example/').catch(() => {})", "elsewhere.example"}, // last: its failure is told later
	}
	files := map[string][]byte{}
	for _, test := range tests {
		files[test.page] = styled("</style><script>" + test.script + "</script><style>")
	}
	b := Open(t, files)
	for _, test := range tests {
		b.Show(t, test.page, Views[0])
		b.Ask(t, `""`)
		b.mu.Lock()
		heard := strings.Join(b.heard, "\n")
		b.heard = nil
		b.mu.Unlock()
		if test.want == "" && heard != "" || !strings.Contains(heard, test.want) {
			t.Errorf("%s: %q", test.page, heard)
		}
	}
}
