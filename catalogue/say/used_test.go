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

// literals are the texts that stand in the Go files that may say one.
func literals(t *testing.T) []string {
	t.Helper()
	var list []string
	for _, root := range []string{"..", "../../cmd", "../../evaluate"} {
		list = append(list, literalsIn(t, root)...)
	}
	return list
}

func literalsIn(t *testing.T, root string) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				text, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				list = append(list, text)
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Every text is said somewhere: its path, that of what it is a form of, the
// beginning of one that ends in a point, or its two halves stand in the program,
// with its first word or, as in what a package says under one word of its own,
// without it.
func TestEveryTextIsSaid(t *testing.T) {
	said := literals(t)
	for path := range English().texts {
		if other := counted(path); other != "" {
			path = strings.TrimSuffix(other, ".other")
		}
		_, rest, _ := strings.Cut(path, ".")
		last := strings.LastIndexByte(path, '.')
		halves := last > 0 && slices.Contains(said, path[:last]) && slices.Contains(said, path[last+1:])
		if !halves && !slices.ContainsFunc(said, func(s string) bool {
			return s == path || s == rest || prefixes(s, path) || prefixes(s, rest)
		}) {
			t.Errorf("nothing says %s", path)
		}
	}
}

// prefixes reports whether a literal is the beginning of a path.
func prefixes(s, path string) bool {
	return len(s) > 1 && strings.HasSuffix(s, ".") && strings.HasPrefix(path, s)
}
