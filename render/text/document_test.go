package text

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"platebook/rules"
)

// Outputs stand as they are called, and one that failed makes the document fail.
func TestOutputs(t *testing.T) {
	a := &rules.Assessment{Inspection: &rules.Inspection{}}
	for indent, want := range map[bool]string{
		false: `"outputs":[{"kind":"pdf","file":"A & B.pdf","pages":2},{"kind":"xlsx","file":"A.xlsx"}]`,
		true: ` "outputs": [
  {
   "kind": "pdf",
   "file": "A & B.pdf",
   "pages": 2
  },
  {
   "kind": "xlsx",
   "file": "A.xlsx"
  }
 ]
}
`,
	} {
		var b bytes.Buffer
		made := Made(Output{Kind: "pdf", File: "A & B.pdf", Pages: 2}, Output{Kind: "xlsx", File: "A.xlsx"})
		if err := JSON(&b, a, Program{}, made, true, indent); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(b.String(), want) {
			t.Errorf("%s\ndoes not hold\n%s", b.String(), want)
		}
		b.Reset()
		if err := JSON(&b, a, Program{}, Made(), true, indent); err != nil || !strings.Contains(strings.ReplaceAll(b.String(), " ", ""), `"outputs":[]`) {
			t.Errorf("without outputs: %v, %s", err, b.String())
		}
	}
	failed := errors.New("no room for the report")
	err := JSON(&bytes.Buffer{}, a, Program{}, func() ([]Output, error) { return nil, failed }, true, true)
	if !errors.Is(err, failed) {
		t.Errorf("a report that failed gives %v", err)
	}
}
