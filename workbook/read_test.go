package workbook

import (
	"strings"
	"testing"
)

func TestCleanWorkbookSaysNothing(t *testing.T) {
	r, err := readSketch(t, cleanSketch)
	if err != nil {
		t.Fatal(err)
	}
	if got := told(r.hits); len(got) > 0 {
		t.Errorf("told:\n%s", strings.Join(got, "\n"))
	}
	if n := len(r.ins.Plates); n != 2 {
		t.Errorf("%d plates, want 2", n)
	}
	if k := r.ins.Indications[0].Key; k != "3-4/17" {
		t.Errorf("key %q", k)
	}
}
