package engine_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Every bare number of an exported struct of the engine says what it is: in
// its name (minutes, decibans) or beside it. What a trial counts has its own
// documentation.
func TestNumbersSayWhatTheyAre(t *testing.T) {
	seen := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(filepath.ToSlash(path), "trial/") {
			return err
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok {
				return true
			}
			s, ok := spec.Type.(*ast.StructType)
			if !ok || !spec.Name.IsExported() {
				return false
			}
			for _, f := range s.Fields.List {
				if kind, ok := f.Type.(*ast.Ident); !ok || kind.Name != "float64" {
					continue
				}
				seen++
				for _, name := range f.Names {
					said := strings.HasSuffix(name.Name, "Minutes") || strings.HasSuffix(name.Name, "Decibans")
					if name.IsExported() && !said && f.Doc == nil && f.Comment == nil {
						t.Errorf("%s: %s.%s: say what the number is: minutes, a probability, decibans", set.Position(f.Pos()), spec.Name.Name, name.Name)
					}
				}
			}
			return false
		})
		return nil
	})
	if err != nil || seen < 50 {
		t.Fatalf("%d numbers seen: %v", seen, err)
	}
}
