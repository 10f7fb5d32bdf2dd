package words

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

// literals are the texts that stand in the Go files of the pages.
func literals(t *testing.T) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
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

// Every text is said somewhere: its path, that of what it is a form of, or the
// beginning of one that ends in a point, stands in the program. Pictures are
// said by what follows "pictures.".
func TestEveryTextIsSaid(t *testing.T) {
	said := literals(t)
	for path := range English().texts {
		whole := strings.TrimPrefix(path, "pictures.")
		if other := counted(whole); other != "" {
			whole = strings.TrimSuffix(other, ".other")
		}
		found := slices.ContainsFunc(said, func(s string) bool {
			return s == whole || strings.HasSuffix(s, ".") && len(s) > 1 && strings.HasPrefix(whole, s)
		})
		if !found {
			t.Errorf("nothing says %s", path)
		}
	}
}
