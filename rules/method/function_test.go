package method

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

var update = flag.Bool("update", false, "write docs/methods.md and functions.json anew")

// rooms are the packages whose formulas stand in comments, with the section of
// the method that most of each belongs to.
var rooms = []struct {
	dir     string
	section int
	other   map[string]int
}{
	{"unit", 1, nil},
	{"step", 1, nil},
	{"floor", 2, nil},
	{"std/api653_5", 6, map[string]int{
		"Rate": 4, "MinimumRemaining": 5, "Interval": 5, "InitialInterval": 5, "noLength": 5,
	}},
	{"sizing", 8, nil},
	{"extreme", 9, nil},
	{"repair", 10, map[string]int{"thresholds": 7}},
	{"nest", 11, nil},
	{"settle", 12, nil},
	{"compare", 13, nil},
	{"statistics", 14, nil},
}

// parsed reads the formulas from the comments they stand under.
func parsed(t *testing.T) []Function {
	t.Helper()
	var out []Function
	for _, r := range rooms {
		files, err := filepath.Glob(filepath.Join("..", r.dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v, %d files", r.dir, err, len(files))
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			keep := func(name string, doc *ast.CommentGroup) {
				if doc == nil || !strings.Contains(doc.Text(), "Source: ") {
					return
				}
				section := r.section
				if n, ok := r.other[name]; ok {
					section = n
				}
				fn := read(doc.Text())
				fn.ID, fn.Section = filepath.Base(r.dir)+"/"+snake(name), section
				out = append(out, fn)
			}
			for _, d := range f.Decls {
				switch d := d.(type) {
				case *ast.FuncDecl:
					keep(d.Name.Name, d.Doc)
				case *ast.GenDecl:
					for _, s := range d.Specs {
						switch s := s.(type) {
						case *ast.ValueSpec:
							keep(s.Names[0].Name, first(s.Doc, d.Doc))
						case *ast.TypeSpec:
							keep(s.Name.Name, first(s.Doc, d.Doc))
						}
						if len(d.Specs) > 1 && d.Doc != nil {
							break // one comment over a group
						}
					}
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Function) int {
		if a.Section != b.Section {
			return a.Section - b.Section
		}
		return strings.Compare(a.ID, b.ID)
	})
	return out
}

// testNames are the tests of the rooms.
func testNames(t *testing.T) map[string]bool {
	t.Helper()
	names := map[string]bool{}
	for _, r := range rooms {
		files, err := filepath.Glob(filepath.Join("..", r.dir, "*_test.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range f.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok {
					names[fn.Name.Name] = true
				}
			}
		}
	}
	return names
}

func first(a, b *ast.CommentGroup) *ast.CommentGroup {
	if a != nil {
		return a
	}
	return b
}

// read takes a comment apart: what it is, the formula on its own lines, the
// text about symbols and range, source and check.
func read(doc string) Function {
	var f Function
	part := &f.What
	for _, line := range strings.Split(doc, "\n") {
		switch {
		case strings.HasPrefix(line, "\t"):
			f.Formula = append(f.Formula, strings.TrimPrefix(line, "\t"))
			part = &f.Text
			continue
		case strings.HasPrefix(line, "Source: "):
			part, line = &f.Source, strings.TrimPrefix(line, "Source: ")
		case strings.HasPrefix(line, "Check: "):
			part, line = &f.Check, strings.TrimPrefix(line, "Check: ")
		case line == "":
			if part == &f.What {
				part = &f.Text
			}
			continue
		}
		*part = strings.TrimSpace(*part + " " + line)
	}
	if source, check, both := strings.Cut(f.Source, " Check: "); both {
		f.Source, f.Check = source, check
	}
	return f
}

func snake(name string) string {
	var b strings.Builder
	low := false
	for _, r := range name {
		if unicode.IsUpper(r) && low {
			b.WriteByte('_')
		}
		low = unicode.IsLower(r)
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}

// The formulas that explain knows are those in the comments, to the letter.
func TestFunctionsAreTheComments(t *testing.T) {
	fs := parsed(t)
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(fs); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("functions.json", b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		functions = func() []Function { return fs }
	}
	if got, err := os.ReadFile("functions.json"); err != nil || !bytes.Equal(got, b.Bytes()) {
		t.Errorf("functions.json differs from the comments (%v); run the test with -update", err)
	}
	formulas := 0
	seen := map[string]bool{}
	tests := testNames(t)
	for _, f := range fs {
		for _, name := range regexp.MustCompile(`Test\w+`).FindAllString(f.Check, -1) {
			if !tests[name] {
				t.Errorf("%s names %s, which is not there", f.ID, name)
			}
		}
		if seen[f.ID] {
			t.Errorf("%s twice", f.ID)
		}
		seen[f.ID] = true
		if len(f.Formula) == 0 {
			continue
		}
		formulas++
		if f.Check == "" {
			t.Errorf("%s: a formula and no check", f.ID)
		}
		if f.Text == "" {
			t.Errorf("%s: symbols, units and range are not told", f.ID)
		}
	}
	if formulas < 35 {
		t.Errorf("only %d formulas", formulas)
	}
}
