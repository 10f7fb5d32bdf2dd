package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// inCode are the texts that stand in the Go files that may say one, and those of them
// below which a table has its heads.
func inCode(t *testing.T) (texts, tables map[string]bool) {
	t.Helper()
	texts, tables = map[string]bool{}, map[string]bool{}
	text := func(n ast.Node) string {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			text, _ := strconv.Unquote(lit.Value)
			return text
		}
		return ""
	}
	for _, root := range []string{"..", "../../cmd", "../../evaluate"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				texts[text(n)] = true
				if call, ok := n.(*ast.CallExpr); ok && len(call.Args) > 0 {
					if f, ok := call.Fun.(*ast.SelectorExpr); ok && (f.Sel.Name == "Columns" || f.Sel.Name == "table") {
						tables[text(call.Args[0])] = true
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return texts, tables
}

// pages have words of their own under one word, which their code leaves out.
var pages = []string{"pictures.", "yearbook.", "review.", "screen."}

// Every text is said somewhere: its path, that of what it is a form of, the beginning of
// one that ends in a point or the end of one that begins with it stand in the program, or
// it is the head of a table's column; with its first word or, as in what a package says
// under one word of its own, without it.
func TestEveryTextIsSaid(t *testing.T) {
	texts, tables := inCode(t)
	said := func(path string) bool {
		_, rest, _ := strings.Cut(path, ".")
		at := max(strings.LastIndexByte(path, '.'), 0)
		head := texts[path[at:]] || texts[strings.TrimPrefix(path[at:], ".")] || texts[">"+strings.TrimPrefix(path[at:], ".")]
		for text := range texts {
			if !slices.Contains(pages, text) && (prefixes(text, path) || prefixes(text, rest)) {
				return true
			}
		}
		return texts[path] || texts[rest] || at > 0 && texts[path[at:]] ||
			head && (tables[path[:at]] || tables[strings.TrimPrefix(path[:at], "review.")])
	}
	for path := range English().texts {
		form := strings.TrimSuffix(counted(path), ".other")
		if !said(path) && !(form != "" && said(form)) {
			t.Errorf("nothing says %s", path)
		}
	}
}

// prefixes reports whether a literal is the beginning of a path.
func prefixes(s, path string) bool {
	return len(s) > 1 && strings.HasSuffix(s, ".") && strings.HasPrefix(path, s)
}
