package method

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"platebook/rules/step"
	"platebook/rules/unit"
)

// Each step that the evaluation makes is in the registry, and each entry of
// the registry is a step that the evaluation makes.
func TestRegistryIsTheSteps(t *testing.T) {
	made := map[string]bool{}
	for i, list := range judged() {
		for n := range list {
			s := &list[n]
			if s.ID == "" {
				continue
			}
			f := Of(s)
			if f == nil {
				t.Errorf("%s: step %s (%s) is not in the registry", scenes[i].name, s.ID, s.Symbol)
				continue
			}
			made[f.Name()] = true
		}
	}
	names := map[string]bool{}
	for _, f := range All() {
		if names[f.Name()] {
			t.Errorf("%s twice", f.Name())
		}
		names[f.Name()] = true
		if !made[f.Name()] {
			t.Errorf("%s: no evaluation makes this step", f.Name())
		}
		for _, s := range f.See {
			if FindFunction(s) == nil {
				t.Errorf("%s: no function %s", f.Name(), s)
			}
		}
		for what, text := range map[string]string{"means": f.Means, "why": f.Why, "outside": f.Outside, "mark": string(f.Mark)} {
			if text == "" || strings.HasSuffix(text, ".") {
				t.Errorf("%s: %s %q", f.Name(), what, text)
			}
		}
	}
	for _, fn := range Functions() {
		if names[fn.ID] {
			t.Errorf("%s is a step and a function", fn.ID)
		}
	}
}

// Each example really changes what it says, both values known.
func TestExamplesChangeTheValue(t *testing.T) {
	for _, f := range All() {
		before, after := f.Work()
		switch {
		case before == nil || after == nil:
			t.Errorf("%s: no step in the example", f.Name())
		case !before.Known || !after.Known:
			t.Errorf("%s: before %s, after %s", f.Name(), before.Result(unit.SI), after.Result(unit.SI))
		case instance(before) == instance(after):
			t.Errorf("%s: the change changes nothing: %s", f.Name(), before.Result(unit.SI))
		}
	}
}

// What is printed for a formula is the formula of the step, evaluated: its
// value comes out again from the inputs.
func TestShownFormulaIsTheStep(t *testing.T) {
	shown := map[string]*Shown{}
	for _, s := range Show() {
		shown[s.Name()] = &s
	}
	checked := 0
	for i, list := range judged() {
		for n := range list {
			s := &list[n]
			f := Of(s)
			if f == nil || s.Formula.IsZero() {
				continue
			}
			found := false
			for _, form := range shown[f.Name()].Forms {
				found = found || form.SI == s.Symbols(unit.SI)
			}
			if !found {
				t.Errorf("%s: %s prints %q, which is not shown", scenes[i].name, s.ID, s.Symbols(unit.SI))
			}
			if !s.Known {
				continue
			}
			again := *s
			again.Why = ""
			again = step.New(again)
			if d := again.Value - s.Value; !again.Known || d > 1e-9 || d < -1e-9 {
				t.Errorf("%s: %s is %v, its formula gives %v (%s)", scenes[i].name, s.ID, s.Value, again.Value, again.Why)
			}
			checked++
		}
	}
	if checked < 1000 {
		t.Errorf("only %d steps checked", checked)
	}
}

// Each formula that the program has as a literal is reached by a scene, so that
// none is left out of the page.
func TestEveryLiteralIsShown(t *testing.T) {
	shown := map[string]bool{}
	for _, s := range Show() {
		for _, f := range s.Forms {
			shown[f.SI], shown[f.US] = true, true
		}
	}
	found := 0
	for _, dir := range []string{"assess", "repair", "settle", "compare"} {
		files, err := filepath.Glob(filepath.Join("..", dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %v", dir, err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok || len(call.Args) != 1 {
					return true
				}
				sel, ok := call.Fun.(*ast.SelectorExpr)
				lit, isLit := call.Args[0].(*ast.BasicLit)
				if !ok || !isLit || lit.Kind != token.STRING || sel.Sel.Name != "Parse" && sel.Sel.Name != "formula" {
					return true
				}
				src, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				found++
				if !shown[step.Parse(src).Text(nil)] {
					t.Errorf("%s: no scene shows %s", name, src)
				}
				return true
			})
		}
	}
	if found < 40 {
		t.Errorf("only %d literals found", found)
	}
}

func TestManualIsTheRegistry(t *testing.T) {
	const page = "../../docs/methods.md"
	fs := parsed(t)
	functions = func() []Function { return fs }
	if *update {
		if err := os.WriteFile(page, []byte(Manual()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	if !utf8.Valid(got) {
		t.Error("docs/methods.md is no text")
	}
	if string(got) != Manual() {
		t.Error("docs/methods.md differs from the program; run the test with -update")
	}
}

// Each formula explains itself, and a misspelt name finds it.
func TestExplainEach(t *testing.T) {
	for _, n := range Names() {
		text := Explain(n)
		for _, part := range []string{"Means: ", "Formula:", "Source: "} {
			if !strings.Contains(text, part) {
				t.Errorf("%s: no %q", n, part)
			}
		}
	}
	for word, want := range map[string]string{"mtr": "mrt", "corrosion": "interval.corrosion", "shell": "shell.tmin", "anular.stress": "annular.stress", "settlment.tilt": "settlement.tilt"} {
		found := false
		for _, n := range Near(word, Names()) {
			found = found || n == want
		}
		if !found {
			t.Errorf("%s: near are %v, without %s", word, Near(word, Names()), want)
		}
	}
	if near := Near("zzzzzz", Names()); near != nil {
		t.Errorf("near to nothing: %v", near)
	}
	if Explain("zzzzzz") != "" || Entry("zzzzzz") != nil {
		t.Error("explains what is not there")
	}
}

// The rules for repairs are those that the program has, and each is seen kept
// and broken.
func TestChecksAreTheProgram(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("..", "repair", "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	has := map[string]bool{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`"((?:patch|critical|buildup)\.[a-z_]+)"`).FindAllStringSubmatch(string(src), -1) {
			has[m[1]] = true
			if FindCheck(m[1]) == nil {
				t.Errorf("%s is not in the list", m[1])
			}
		}
	}
	for _, c := range ShowChecks() {
		if !has[c.ID] {
			t.Errorf("%s: the program has no such rule", c.ID)
		}
		if c.Kept == "" || c.Broken == "" || c.Source == "" || c.Means == "" || c.Why == "" {
			t.Errorf("%s: %+v", c.ID, c)
		}
	}
	if len(has) < 15 {
		t.Errorf("only %d rules found", len(has))
	}
}
