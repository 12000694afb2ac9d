package pattern

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Every expression of the program is one. None shows at start any more.
func TestEveryPatternOfTheProgram(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("../..", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			made, is := n.(*ast.CompositeLit)
			if !is {
				return true
			}
			if of, is := made.Type.(*ast.SelectorExpr); !is || of.Sel.Name != "Lazy" {
				return true
			}
			text, is := made.Elts[0].(*ast.KeyValueExpr).Value.(*ast.BasicLit)
			if !is {
				t.Errorf("%s: a pattern is no plain text", path)
				return true
			}
			plain, err := strconv.Unquote(text.Value)
			if err != nil {
				t.Fatal(err)
			}
			seen++
			lazy := Lazy{Text: plain}
			lazy.Made()
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen < 30 {
		t.Errorf("%d patterns were found, there are more", seen)
	}
}
