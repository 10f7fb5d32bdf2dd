package say

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"rodlore/catalogue"
	"rodlore/catalogue/plan"
	"rodlore/diffing"
	"rodlore/evaluate"
)

func TestNotes(t *testing.T) {
	teller := Teller{Words: English()}
	for want, n := range map[string]catalogue.Note{
		"rod 0202 is left out: gone":          {Key: "notes.left out", Args: evaluate.Args{"rod": "0202", "why": errors.New("gone")}},
		"2 faults in what was measured":       {Key: "notes.measured faults", Args: evaluate.Args{"n": 2}},
		"1 fault in what was measured":        {Key: "notes.measured faults", Args: evaluate.Args{"n": 1}},
		"not ticked by hand: joints, inserts": {Key: "reasons.by hand", Args: evaluate.Args{"checks": []string{"joints", "inserts"}}},
		"since 2023 was released after it, the record in the tag was replaced by another": {
			Key: "altered.since", Args: evaluate.Args{"later": "2023", "what": catalogue.Note{Key: "altered.replaced"}}},
		"weight: wanted at most 150 g, but 160 g ± 2 was measured on rod 0147": {Key: "reasons.measured want", Args: evaluate.Args{
			"figure": catalogue.FigureName("weight"), "wanted": "at most 150 g", "rod": catalogue.RodNumber("0147"),
			"measured": evaluate.Quantity{Key: "weight", Unit: "kg", Value: 0.160, Deviation: 0.002}}},
		"ring count −2 beside 2020: your limit for one release is 1 ring": {Key: "reasons.step over own", Args: evaluate.Args{
			"sight": twoFewer, "label": "2020", "limit": catalogue.StepLimit(twoFewer)}},
	} {
		if got := teller.Note(n); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}

var twoFewer = diffing.Sight{
	Aspect: diffing.RingCount, Old: []diffing.Look{diffing.Number{Of: diffing.ThingRing, N: 6}},
	New: []diffing.Look{diffing.Number{Of: diffing.ThingRing, N: 4}}, Size: -2, Unit: "1", Limit: 1, Own: true,
}

// Every note that is made below has a sentence, which is filled in with what
// the note has and nothing else.
func TestEveryNoteHasASentence(t *testing.T) {
	w, n := English(), 0
	for _, pattern := range []string{"../*.go", "../../evaluate/*.go"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, path := range files {
			n += checkNotes(t, w, path)
		}
	}
	if n < 100 {
		t.Errorf("only %d notes were found", n)
	}
}

// checkNotes checks the notes that one file makes, and counts them.
func checkNotes(t *testing.T, w *Words, path string) (n int) {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	if strings.HasSuffix(path, "_test.go") {
		return 0
	}
	ast.Inspect(file, func(node ast.Node) bool {
		key, names := noteOf(node)
		if key == "" {
			return true
		}
		n++
		if !w.Has(key) {
			key += ".other"
		}
		text, ok := w.texts[key]
		if !ok {
			t.Errorf("%s: nothing is said at %s", path, key)
		}
		for _, p := range placeholder.FindAllString(text, -1) {
			if p != "{breaks: …}" && !slices.Contains(names, strings.Trim(p, "{}")) {
				t.Errorf("%s: %s is not filled in at %s", path, p, key)
			}
		}
		return true
	})
	return n
}

// noteOf is the key of a note that is made in the source, and the names of what it
// is filled in with; "" where none is, or where its key is no literal.
func noteOf(node ast.Node) (key string, names []string) {
	call, ok := node.(*ast.CallExpr)
	if !ok || len(call.Args) == 0 {
		return "", nil
	}
	first := 0
	switch f := call.Fun.(type) {
	case *ast.Ident:
		switch f.Name {
		case "note", "NewNote":
		case "onJoint": // onJoint(joint, key, …)
			first, names = 1, []string{"lower", "upper"}
		default:
			return "", nil
		}
	case *ast.SelectorExpr: // h.say(label, tag, key, …)
		if f.Sel.Name != "say" {
			return "", nil
		}
		first = 2
	default:
		return "", nil
	}
	if key = literal(call.Args[first]); key == "" {
		return "", nil
	}
	for i := first + 1; i < len(call.Args); i += 2 {
		names = append(names, literal(call.Args[i]))
	}
	return key, names
}

func literal(e ast.Expr) string {
	lit, ok := e.(*ast.BasicLit)
	if !ok {
		return ""
	}
	text, _ := strconv.Unquote(lit.Value)
	return text
}

func TestUnreachable(t *testing.T) {
	teller := Teller{Words: English()}
	colour := diffing.Sight{Aspect: diffing.WhippingColour, Old: []diffing.Look{diffing.Name("rust")}, New: []diffing.Look{diffing.Name("slate")}, Size: 1, Own: true}
	for want, u := range map[string]*plan.Unreachable{
		"the goal is out of reach in 1 release within the limits\n" +
			"ring count: 6 rings → 4 rings, −2; a release allows 1 ring, so this takes 2 releases\nit takes 2 releases": {
			Releases: 1, Least: 2, Stops: []plan.Stop{{Sight: twoFewer, Releases: 2}}},
		"the goal is out of reach in 2 releases within the limits\n" +
			"some of its edits only go together, and so it is within reach in 1 release": {Releases: 2, Least: 1},
		"the goal is out of reach within the limits, in however many releases\n" +
			"whipping colour: rust → slate; steps in range.yaml say that it stays, so it stays as it is, however many releases there are": {
			Releases: 3, Stops: []plan.Stop{{Sight: colour, Never: plan.Fixed}}},
	} {
		if got := teller.Unreachable(u); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}
