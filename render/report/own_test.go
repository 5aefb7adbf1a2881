package report

import (
	"reflect"
	"testing"
)

// The firm's own text keeps its paragraphs and lists.
func TestOwnTextKeepsItsShape(t *testing.T) {
	got := paragraphs("First.\n\n  • one\n- two\n* three\n-5 mm is a number\n•no blank\n–\n")
	want := []Block{
		Paragraph{Text: "First."},
		List{[]string{"one", "two", "three"}},
		Paragraph{Text: "-5 mm is a number"},
		Paragraph{Text: "•no blank"},
		Paragraph{Text: "–"},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%#v", got)
	}
}
