package std

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every exported formula says what it is, its formula on a line of its own,
// where it comes from, and which test holds it against what was published.
func TestFormulasSayWhereTheyComeFrom(t *testing.T) {
	formulas := 0
	for _, dir := range []string{"api653_5", "../sizing"} {
		fset := token.NewFileSet()
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %d files", dir, err, len(files))
		}
		tests := map[string]bool{}
		var functions []*ast.FuncDecl
		for _, name := range files {
			f, err := parser.ParseFile(fset, name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range f.Decls {
				fn, ok := d.(*ast.FuncDecl)
				switch {
				case !ok:
				case strings.HasSuffix(name, "_test.go"):
					tests[fn.Name.Name] = true
				case fn.Name.IsExported():
					functions = append(functions, fn)
				}
			}
		}
		for _, fn := range functions {
			doc := fn.Doc.Text()
			if doc == "" {
				t.Errorf("%s: %s has no comment", dir, fn.Name.Name)
			}
			if !strings.Contains(doc, "\n\t") {
				continue
			}
			formulas++
			for _, part := range []string{"Source: ", "Check: "} {
				if !strings.Contains(doc, part) {
					t.Errorf("%s: %s: no %q", dir, fn.Name.Name, part)
				}
			}
			_, check, _ := strings.Cut(doc, "Check: ")
			for _, name := range regexp.MustCompile(`Test\w+`).FindAllString(check, -1) {
				if !tests[name] {
					t.Errorf("%s: %s names %s, which is not there", dir, fn.Name.Name, name)
				}
			}
			if !strings.Contains(check, "Test") {
				t.Errorf("%s: %s names no test", dir, fn.Name.Name)
			}
		}
	}
	if formulas < 12 {
		t.Errorf("only %d formulas found", formulas)
	}
}
