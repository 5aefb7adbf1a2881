package pdf

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"slices"
	"testing"

	"platebook/render/draw"
	"platebook/render/report"
)

// laterReport is a report whose sheets are drawn when their turn comes, with a
// letter in each that no font has.
func laterReport(n int) *report.Report {
	r := sampleReport()
	var blocks []report.Block
	for i := range n {
		blocks = append(blocks, report.Figure{
			Sheet: true, Caption: fmt.Sprintf("Plan %d", i+1),
			Later: func() *draw.Scene {
				sc := sampleScene("plan", 258, 165, 40*(n-i))
				sc.Items = append(sc.Items, draw.Label{Text: "\U00012000", X: 10, Y: 10, Size: 3})
				return sc
			},
		})
	}
	r.Sections = append(r.Sections, report.Section{Number: 21, Name: "Plans", Blocks: blocks})
	return r
}

// The drawings stand on their pages whatever the number of processors.
func TestStudioGivesTheSameFile(t *testing.T) {
	var first []byte
	for _, n := range []int{1, 2, 5} {
		was := runtime.GOMAXPROCS(n)
		file, info := writeForTest(t, laterReport(7))
		runtime.GOMAXPROCS(was)
		if !slices.Contains(info.Missing, '\U00012000') {
			t.Errorf("%d processors: letters missing %q", n, info.Missing)
		}
		if first == nil {
			first = file
		}
		if !bytes.Equal(file, first) {
			t.Errorf("%d processors give another file", n)
		}
	}
}

// A panic while drawing comes up where the caller can catch it.
func TestStudioPassesAPanicOn(t *testing.T) {
	r := laterReport(5)
	blocks := r.Sections[len(r.Sections)-1].Blocks
	f := blocks[2].(report.Figure)
	f.Later = func() *draw.Scene { panic("no pencil") }
	blocks[2] = f
	defer func() {
		if p := recover(); p != "no pencil" {
			t.Errorf("the panic came up as %v", p)
		}
	}()
	_, err := Write(io.Discard, r)
	t.Errorf("written with %v", err)
}
