package wording

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// english tells English from names, formats and notation: two words, or a word
// beside a space at an end, which is put together with others.
var english = regexp.MustCompile(`[a-z]{2,}[,;:]? [a-z]{2,}|^[,;:.]? \(?[a-z]{2,}|[a-z]{2,}[,;:)]? $`)

// excepted are files and literals that hold English and why they may.
var excepted = map[string]string{
	"notation/notknown.go":          "words that are typed: read, not written",
	"engine/complaint":              "the driver's words: English that is read, not written",
	"engine/basis.go":               "kinds of basis, as a rule file writes them",
	"engine/quantity":               "what is wrong with a quantity is an error of its parser",
	"engine/covered.go":             "what a train cannot be, as the rules say it too",
	"engine/geartrain/declared.go":  "what a row without drive is called in a declared table",
	"engine/model/model.go":         "the layers of the network by name",
	"engine/advise/cost.go":         "names of jobs, for errors of the ordering",
	"engine/advise/scope.go":        "names of nodes, for errors of the network",
	"engine/interview/interview.go": "the note of a report about a range that was never tried, as cases hold it",
	"engine/teardown/plan.go":       "the error of a step that the unit does not have",
}

// keys are literals that begin the name of something, as rule files have it or
// for the program alone, and are shown to nobody.
var keys = map[string]bool{"cause ": true, "mode ": true, "finding ": true, "code ": true, "check ": true, "component ": true, "stated ": true, " when ": true, "edit: ": true}

// Sentences stand here alone: neither the engine nor the use cases nor what reads
// files and words for them hold any.
// Left out are errors of Go (their text is for whoever calls), what the log
// says, and the exceptions.
func TestSentencesStandHere(t *testing.T) {
	used := map[string]bool{}
	for _, root := range []string{"../desk", "../load", "../notation", "../../../engine"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			name := strings.TrimLeft(filepath.ToSlash(path), "./")
			for part := range excepted {
				if strings.HasPrefix(name, part) {
					used[part] = true
					return nil
				}
			}
			found, err := sentences(path)
			for _, s := range found {
				t.Errorf("%s:%s", name, s)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for part, why := range excepted {
		if !used[part] {
			t.Errorf("%s is excepted (%s) and is not there", part, why)
		}
	}
}

// sentences lists the literals of a file that hold English.
func sentences(path string) ([]string, error) {
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, path, nil, 0)
	if err != nil {
		return nil, err
	}
	var out []string
	ast.Inspect(file, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec, *ast.FuncDecl:
			f, ok := x.(*ast.FuncDecl)
			return ok && f.Name.Name != "Error"
		case *ast.Field:
			return x.Tag == nil
		case *ast.CallExpr:
			return !forCallers(x)
		case *ast.BasicLit:
			if text, _ := strconv.Unquote(x.Value); x.Kind == token.STRING && !keys[text] && english.MatchString(text) {
				out = append(out, fmt.Sprintf("%d: %q", set.Position(x.Pos()).Line, text))
			}
		}
		return true
	})
	return out, nil
}

// forCallers tells calls that make an error of Go, panic or write to the log.
func forCallers(c *ast.CallExpr) bool {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name == "panic"
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok && (x.Name+"."+f.Sel.Name == "errors.New" || x.Name+"."+f.Sel.Name == "fmt.Errorf") {
			return true
		}
		x, ok := f.X.(*ast.SelectorExpr)
		return ok && (x.Sel.Name == "log" || x.Sel.Name == "Log")
	}
	return false
}
