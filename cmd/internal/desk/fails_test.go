package desk

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// Every exported function of the use cases, and of what reads files and words for
// them, that can fail says in its comment how.
func TestFailuresAreNamed(t *testing.T) {
	looked := 0
	for _, root := range []string{".", "../load", "../notation", "../draft"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, nil, parser.ParseComments)
			if err != nil {
				return err
			}
			for _, x := range file.Decls {
				f, ok := x.(*ast.FuncDecl)
				if !ok || !f.Name.IsExported() || !fails(f) || !exported(f.Recv) {
					continue
				}
				if looked++; !strings.Contains(strings.ToLower(f.Doc.Text()), "fail") {
					t.Errorf("%s: %s does not say how it fails", set.Position(f.Pos()), f.Name.Name)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if looked < 80 {
		t.Errorf("only %d functions were looked at", looked)
	}
}

// fails tells whether the last result is an error.
func fails(f *ast.FuncDecl) bool {
	if f.Type.Results == nil {
		return false
	}
	list := f.Type.Results.List
	last, ok := list[len(list)-1].Type.(*ast.Ident)
	return ok && last.Name == "error"
}

// exported tells whether a method is of an exported type; a function is.
func exported(recv *ast.FieldList) bool {
	if recv == nil {
		return true
	}
	t := recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	if index, ok := t.(*ast.IndexExpr); ok {
		t = index.X
	}
	id, ok := t.(*ast.Ident)
	return ok && id.IsExported()
}
