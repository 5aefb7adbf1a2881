package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"platebook/workbook/textbook"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"platebook": main, // with its signals and exit codes
	})
}

// Each file of testdata/scripts is one behaviour of the command, run against
// the real program.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "..", "testdata", "scripts"),
		RequireExplicitExec: true,
		Setup: func(e *testscript.Env) error {
			data, err := filepath.Abs(filepath.Join("..", "..", "testdata"))
			e.Setenv("TESTDATA", data)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"book":  scriptBook,
			"value": scriptValue,
			"alike": scriptAlike,
			"valid": scriptValid,
			"keep":  scriptKeep,
			"kept":  scriptKept,
		},
	})
}

// book FILE.xlsx BASE.txt [EDITS.txt]: builds a workbook from readable text.
func scriptBook(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: book FILE.xlsx BASE.txt [EDITS.txt…]")
	}
	var text strings.Builder
	for _, name := range args[1:] {
		text.WriteString(ts.ReadFile(name) + "\n")
	}
	b, err := textbook.Build(text.String())
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), b, 0o666))
}

// value FILE.json PATH WANT: a member of a JSON document, path with dots and
// list positions; numbers compare to a relative 1e-6.
func scriptValue(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: value FILE.json PATH WANT")
	}
	v := member(ts, args[0], args[1])
	if same(v, args[2]) == neg {
		ts.Fatalf("%s = %v, want %s%s", args[1], v, map[bool]string{true: "other than "}[neg], args[2])
	}
}

// member is a member of a JSON document by its path.
func member(ts *testscript.TestScript, file, path string) any {
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(file)), &v))
	for _, key := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			member, ok := x[key]
			if !ok {
				ts.Fatalf("%s: no member %q", path, key)
			}
			v = member
		case []any:
			if key == "#" {
				v = float64(len(x))
				continue
			}
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(x) {
				ts.Fatalf("%s: no element %q of %d", path, key, len(x))
			}
			v = x[i]
		default:
			ts.Fatalf("%s: %q is inside %v", path, key, x)
		}
	}
	return v
}

// alike A.json B.json PATH…: members that two documents share.
func scriptAlike(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 3 {
		ts.Fatalf("usage: alike A.json B.json PATH…")
	}
	for _, path := range args[2:] {
		a, b := member(ts, args[0], path), member(ts, args[1], path)
		if cmp.Equal(a, b) == neg {
			ts.Fatalf("%s: %v and %v", path, a, b)
		}
	}
}

func same(v any, want string) bool {
	if f, ok := v.(float64); ok {
		w, err := strconv.ParseFloat(want, 64)
		return err == nil && f-w <= 1e-6*max(1, w, -w) && w-f <= 1e-6*max(1, w, -w)
	}
	if v == nil {
		return want == "null"
	}
	return fmt.Sprint(v) == want
}

// valid FILE.json: the document, or each line of it, keeps the schema.
func scriptValid(ts *testscript.TestScript, neg bool, args []string) {
	schema, err := jsonschema.NewCompiler().Compile(filepath.Join(ts.Getenv("TESTDATA"), "schema", "result-1.json"))
	ts.Check(err)
	text := strings.TrimSpace(ts.ReadFile(args[0]))
	docs := []string{text}
	if !strings.HasPrefix(text, "{\n") {
		docs = strings.Split(text, "\n")
	}
	for _, d := range docs {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader([]byte(d)))
		ts.Check(err)
		if err := schema.Validate(v); (err != nil) != neg {
			ts.Fatalf("%v", err)
		}
	}
}

// keep FILE… remembers files; kept FILE… fails when one has changed since.
func scriptKeep(ts *testscript.TestScript, _ bool, args []string) {
	for _, f := range args {
		ts.Setenv("kept_"+f, digest(ts, f))
	}
}

func scriptKept(ts *testscript.TestScript, neg bool, args []string) {
	for _, f := range args {
		if (digest(ts, f) == ts.Getenv("kept_"+f)) == neg {
			ts.Fatalf("%s: changed is %v", f, !neg)
		}
	}
}

func digest(ts *testscript.TestScript, file string) string {
	return fmt.Sprintf("%x", sha256.Sum256([]byte(ts.ReadFile(file))))
}
