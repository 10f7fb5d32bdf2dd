package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// imports lists every package with those of ours that it may import. They go
// one way, and the kernels know nothing of rods.
var imports = map[string][]string{
	"models/spelling":    nil,
	"models/units":       {"models/spelling"},
	"evaluate/figures":   {"models/units"},
	"models":             {"models/units", "models/spelling", "evaluate/figures"},
	"evaluate/beam":      nil,
	"evaluate/laminate":  nil,
	"evaluate/control":   nil,
	"evaluate/optim":     nil,
	"evaluate/photo":     nil,
	"evaluate":           {"models", "models/units", "evaluate/beam", "evaluate/laminate", "evaluate/optim", "evaluate/figures"},
	"diffing":            {"models", "models/units", "evaluate", "evaluate/figures"},
	"catalogue/cache":    nil,
	"catalogue/results":  {"evaluate", "catalogue/cache"},
	"catalogue/seen":     nil,
	"catalogue":          {"catalogue/oldnotes", "models/units", "models", "models/spelling", "evaluate", "evaluate/control", "diffing", "catalogue/cache", "catalogue/picture", "catalogue/results", "catalogue/seen", "catalogue/visible", "catalogue/working", "evaluate/figures"},
	"catalogue/plan":     {"models", "models/units", "evaluate", "diffing", "evaluate/figures"},
	"catalogue/gitstore": {"catalogue", "catalogue/cache", "catalogue/visible", "catalogue/working"},
	"catalogue/oldnotes": {"catalogue/visible", "models", "models/units", "models/spelling"},
	"catalogue/picture":  {"evaluate/photo"},
	"catalogue/working":  nil,
	"catalogue/visible":  nil,
	// What is shown and printed; drawing and document know nothing of rods.
	"catalogue/pages":          {"models", "evaluate", "diffing", "catalogue/pages/drawing", "catalogue/say", "evaluate/figures"},
	"catalogue/pages/drawing":  nil,
	"catalogue/pages/document": {"catalogue/pages/drawing", "catalogue/picture", "catalogue/visible"},
	"catalogue/pages/pagetest": nil,
	"catalogue/pages/review":   {"evaluate", "diffing", "catalogue", "catalogue/pages/document", "catalogue/pages/telling", "catalogue/say", "evaluate/figures"},
	"catalogue/pages/screen": {
		"models", "models/units", "evaluate", "diffing", "catalogue", "catalogue/pages", "catalogue/pages/document", "catalogue/pages/drawing", "catalogue/pages/telling", "evaluate/figures",
	},
	"catalogue/pages/sheet": {
		"models", "evaluate", "catalogue", "catalogue/pages", "catalogue/pages/document", "catalogue/pages/drawing", "catalogue/pages/telling", "models/units",
	},
	"catalogue/pages/story": {
		"models", "models/units", "evaluate", "diffing", "catalogue", "catalogue/pages", "catalogue/pages/document", "catalogue/pages/drawing", "catalogue/pages/telling", "catalogue/say", "evaluate/figures",
	},
	"catalogue/pages/telling": {"models", "evaluate", "diffing", "catalogue", "catalogue/pages/document", "catalogue/say", "evaluate/figures"},
	"catalogue/say":           {"models", "models/units", "models/spelling", "evaluate", "diffing", "catalogue", "catalogue/plan", "evaluate/figures"},
	"catalogue/pages/yearbook": {
		"models", "models/units", "evaluate", "evaluate/control", "diffing", "catalogue", "catalogue/pages", "catalogue/pages/document", "catalogue/pages/telling", "catalogue/say", "evaluate/figures",
	},
	"cmd/rodlore/demo": nil,
	"cmd/rodlore": {
		"models", "models/units", "models/spelling", "evaluate", "evaluate/beam", "evaluate/control", "evaluate/photo", "diffing", "catalogue", "catalogue/cache", "catalogue/gitstore", "catalogue/oldnotes", "catalogue/plan",
		"catalogue/pages/document", "catalogue/pages/review", "catalogue/pages/screen", "catalogue/pages/sheet", "catalogue/pages/story", "catalogue/pages/telling", "catalogue/say", "catalogue/visible", "catalogue/working", "catalogue/pages/yearbook", "cmd/rodlore/demo", "evaluate/figures", "catalogue/seen",
	},
}

// libraries lists what is not ours, with the packages that may import it
// outside of tests.
var libraries = map[string][]string{
	"codeberg.org/go-pdf/fpdf":        {"catalogue/pages/document"},
	"github.com/chromedp/cdproto":     {"catalogue/pages/pagetest"},
	"github.com/chromedp/chromedp":    {"catalogue/pages/pagetest"},
	"github.com/fsnotify/fsnotify":    {"cmd/rodlore"},
	"github.com/fyne-io/oksvg":        {"catalogue/picture"},
	"github.com/srwiley/rasterx":      {"catalogue/picture"},
	"github.com/go-git/go-git/v5":     {"catalogue/gitstore"},
	"github.com/google/go-cmp":        nil,
	"github.com/makiuchi-d/gozxing":   nil,
	"github.com/mattn/go-runewidth":   {"cmd/rodlore"},
	"github.com/rogpeppe/go-internal": {"catalogue/seen", "catalogue/gitstore", "catalogue/working"},
	"github.com/sergi/go-diff":        {"diffing"},
	"github.com/skip2/go-qrcode":      {"catalogue/pages/screen", "cmd/rodlore"},
	"github.com/spf13/pflag":          {"cmd/rodlore"},
	"github.com/spf13/cobra":          {"cmd/rodlore"},
	"golang.org/x/image":              {"catalogue/pages/document", "catalogue/pages/drawing", "catalogue/picture"},
	"golang.org/x/sys":                {"catalogue/working"},
	"golang.org/x/term":               {"cmd/rodlore"},
	"golang.org/x/text":               {"catalogue", "catalogue/gitstore", "catalogue/pages/document", "catalogue/say"},
	"golang.org/x/tools/txtar":        {"cmd/rodlore/demo"},
	"gonum.org/v1/gonum":              {"evaluate/beam", "evaluate/control", "evaluate/optim", "evaluate/figures", "evaluate", "diffing"},
	"gopkg.in/yaml.v3":                {"models"},
	"pgregory.net/rapid":              nil,
}

func TestImports(t *testing.T) {
	const root = "../.."
	seen := map[string]bool{}
	// The files are parsed here and not asked of the go command: its answer
	// would be cached until a file that this test opened changes.
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if filepath.Ext(path) != ".go" {
			return nil
		}
		dir, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(dir)
		seen[pkg] = true
		checkImports(t, path, pkg)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range seen {
		if _, ok := imports[pkg]; !ok {
			t.Errorf("package %s is not listed in imports_test.go", pkg)
		}
	}
	for pkg := range imports {
		if !seen[pkg] {
			t.Errorf("package %s is listed in imports_test.go and not there", pkg)
		}
	}
}

// checkImports checks one file. Tests may import any library, and of ours what
// the compiler lets them.
func checkImports(t *testing.T, path, pkg string) {
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
	if err != nil {
		t.Error(err)
		return
	}
	isTest := strings.HasSuffix(path, "_test.go")
	for _, spec := range file.Imports {
		name := strings.Trim(spec.Path.Value, `"`)
		ours, isOurs := strings.CutPrefix(name, "rodlore/")
		switch {
		case isOurs:
			if !isTest && !slices.Contains(imports[pkg], ours) {
				t.Errorf("%s imports %s, which is not below %s", path, ours, pkg)
			}
		case strings.Contains(name, "."):
			users, listed := usersOf(name)
			if !listed {
				t.Errorf("%s imports %s, which is not listed", path, name)
			}
			if !isTest && !slices.Contains(users, pkg) {
				t.Errorf("%s imports %s, which is not for %s", path, name, pkg)
			}
		}
	}
}

// usersOf gives the packages that may import a library.
func usersOf(name string) (users []string, listed bool) {
	for library, users := range libraries {
		if strings.HasPrefix(name+"/", strings.TrimSuffix(library, "/")+"/") {
			return users, true
		}
	}
	return nil, false
}

// silent are the packages that make no sentence for a person but an error.
var silent = []string{"evaluate", "evaluate/beam", "diffing", "catalogue", "catalogue/plan"}

// faulty are functions that make errors, or put their words together, and those that
// write settings as releases keep them and texts as git compares them.
var faulty = []string{"Errorf", "New", "Error", "at", "Understand", "matchSaved", "Unfit", "nameFaults", "releases", "tellCramped", "faultAt", "Advise", "noRelease", "panic", "Conditions", "write"}

// TestNoProseBelowSay holds that they put no words together: a text of several words
// is that of an error, or the key of one that say has.
func TestNoProseBelowSay(t *testing.T) {
	for _, pkg := range silent {
		files, err := filepath.Glob(filepath.Join("../..", pkg, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", pkg, len(files), err)
		}
		for _, path := range files {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				lit, ok := n.(*ast.BasicLit)
				if ok && lit.Kind == token.STRING && severalWords.MatchString(lit.Value) && !spoken.MatchString(lit.Value) {
					t.Errorf("%s makes the words %s; return a value, and say it in catalogue/say", path, lit.Value)
				}
				decl, ok := n.(*ast.GenDecl) // of imports, patterns, and what errors have in common
				return !(ok && decl.Tok != token.TYPE) && !slices.Contains(faulty, functionOf(n))
			})
		}
	}
}

// functionOf is the name of the function that is declared or called; "" of anything
// else.
func functionOf(n ast.Node) string {
	switch n := n.(type) {
	case *ast.FuncDecl:
		return n.Name.Name
	case *ast.CallExpr:
		switch f := n.Fun.(type) {
		case *ast.Ident:
			return f.Name
		case *ast.SelectorExpr:
			return f.Sel.Name
		}
	}
	return ""
}

// severalWords finds five words, or two and something filled in. The words of data,
// "whipping and finish", are fewer.
var severalWords = regexp.MustCompile(`[[:alpha:]]{2,}(\W+[[:alpha:]]+){4}|[[:alpha:]]{2,}[^%]* [[:alpha:]]{2,}[^%]*%[a-z]|%[a-z][^%]* [[:alpha:]]{2,}[^%]* [[:alpha:]]{2,}`)

// spoken finds the key of a sentence, "reasons.want".
var spoken = regexp.MustCompile(`^"[a-z]+\.[a-z]`)
