package pdf

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"platebook/render/draw"
	"platebook/render/report"
	"platebook/rules/step"
)

// printed is the text of all runs in the order they were set, then column by
// column: runs that begin at one x read downwards.
func printed(sheets []*sheet) string {
	var b strings.Builder
	columns := map[int]*strings.Builder{}
	for _, s := range sheets {
		for _, r := range s.runs {
			b.WriteString(r.text)
			x := int(r.x * 100)
			if columns[x] == nil {
				columns[x] = &strings.Builder{}
			}
			columns[x].WriteString(r.text)
		}
	}
	for _, x := range slices.Sorted(maps.Keys(columns)) {
		b.WriteString("\n" + columns[x].String())
	}
	return squeeze(b.String())
}

// Every text of a block is among the runs of the layout, whole: runs of one
// text are set one after the other, so that its lines, put together, give it
// back. Continued parts (cells taller than a page, cautions) are looked for
// word by word.
func TestNothingIsLost(t *testing.T) {
	for name, r := range reports(t) {
		t.Run(name, func(t *testing.T) {
			d, f := layOutForTest(t, r)
			runs := map[string]int{}
			for _, s := range d.sheets {
				for _, run := range s.runs {
					for _, w := range strings.Fields(run.text) {
						runs[w]++
					}
				}
			}
			all := printed(d.sheets)
			lost := 0
			for _, text := range textOf(r, false) {
				clean := f.clean(text)
				if strings.Contains(all, squeeze(clean)) {
					continue
				}
				for _, w := range strings.Fields(clean) {
					if runs[w] == 0 && !strings.Contains(all, squeeze(w)) {
						lost++
						if lost < 5 {
							t.Errorf("%.60q of %.60q is not printed", w, text)
						}
					}
				}
			}
		})
	}
}

// Each of many thousand numbered words is printed once, whatever block it
// stands in and however often that goes on over a page. Only a row's label is
// repeated where the row goes on, and a caption stands in the list of drawings
// too.
func TestEachWordIsPrintedOnce(t *testing.T) {
	next := 0
	words := func(n int) string {
		var b strings.Builder
		for range n {
			fmt.Fprintf(&b, "w%05d ", next)
			next++
		}
		return b.String()
	}
	captions := map[string]bool{}
	caption := func() string {
		text := words(200)
		for _, w := range strings.Fields(text) {
			captions[w] = true
		}
		return text
	}
	scene := sampleScene("map", 60, 60, 1)
	r := &report.Report{
		Running: report.Running{Tank: "T", Status: "DRAFT"},
		Cover: report.Cover{
			Firm: words(40), FirmAddress: words(90), Heading: words(30), Status: words(60), Note: words(400),
			Lines:      [][2]string{{words(40), words(3000)}, {words(20), words(1)}},
			Signatures: []report.Signature{{Role: words(20), Name: words(30), Number: words(5), Date: words(3)}, {Role: words(60)}},
		},
		Sections: []report.Section{{Number: 1, Blocks: []report.Block{
			report.Heading{Level: 3, Text: words(70)},
			report.Paragraph{Text: words(3000)},
			report.Paragraph{Text: words(3000), Small: true},
			report.List{Items: []string{words(2000), words(1)}},
			report.Caution{Title: words(50), Text: words(2500)},
			report.Pairs{Rows: [][2]string{{words(100), words(2500)}}},
			report.Table{
				Caption: "c", Columns: []report.Column{{Head: "a"}, {Head: "b", Align: report.Right}, {Head: "c", Align: report.Middle}},
				Rows: []report.Row{
					{Cells: []string{"row 1", words(1500), words(10)}},
					{Group: true, Cells: []string{words(40)}},
					{Cells: []string{words(700), words(2), words(2100)}, Bold: true},
					{Cells: []string{"row 3", words(2), words(3), words(900)}},
					{Group: true, Cells: []string{words(30), words(30)}},
				}, Note: words(1200),
			},
			report.Table{Dense: true, Columns: []report.Column{{Head: "a"}, {Head: "b"}}, Rows: []report.Row{{Cells: []string{"row", words(5000)}}}},
			report.Heading{Level: 2, Text: "h"},
			report.Figure{Scene: scene, Caption: caption()},
			report.Heading{Level: 3, Text: words(5)},
			report.Figure{Scene: sampleScene("map", 200, 100, 1), Caption: caption(), Sheet: true},
			report.Photos{Photos: []report.Photo{
				{Number: 1, Caption: words(1500), Place: words(50), File: words(2), Missing: words(800)}, {Number: 2, Caption: words(10), Map: scene, Missing: words(30)}, {Number: 3, Caption: words(3)},
			}},
			report.Steps{Steps: []step.Step{{Title: "T " + words(60), Symbol: "x", Why: words(100), Branch: words(900), Clause: words(40), Verify: []string{words(50)}, Inputs: []step.Input{{Symbol: words(8), Title: words(300), From: step.Source{Text: words(200)}}}}}},
			report.Signatures{Lines: []report.Signature{{Role: words(20), Name: words(40)}}},
		}}},
	}
	d, _ := layOutForTest(t, r)
	seen := map[string]int{}
	for _, s := range d.sheets {
		for _, run := range s.runs {
			for _, w := range strings.Fields(run.text) {
				seen[strings.TrimRight(w, ",;")]++
			}
		}
	}
	bad := 0
	for i := range next {
		w := fmt.Sprintf("w%05d", i)
		want := 1
		if captions[w] {
			want = 2 // in the list of drawings too
		}
		if n := seen[w]; n != want {
			if bad++; bad < 10 {
				t.Errorf("%s is printed %d times", w, n)
			}
		}
	}
	if bad > 0 {
		t.Errorf("%d of %d words", bad, next)
	}
}

// A number is never broken over two lines: read by halves it is another
// number.
func TestNumbersAreNeverBroken(t *testing.T) {
	for name, r := range reports(t) {
		d, _ := layOutForTest(t, r)
		whole := map[string]bool{}
		for _, s := range d.sheets {
			for _, run := range s.runs {
				for _, w := range strings.Fields(run.text) {
					whole[w] = true
				}
			}
		}
		bad := 0
		for _, sec := range r.Sections {
			for _, b := range sec.Blocks {
				table, ok := b.(report.Table)
				if !ok {
					continue
				}
				for _, row := range table.Rows {
					for _, w := range strings.Fields(strings.Join(row.Cells, " ")) {
						if strings.ContainsAny(w, "0123456789") && !whole[w] {
							if bad++; bad < 5 {
								t.Errorf("%s: %s is broken", name, w)
							}
						}
					}
				}
			}
		}
	}
}

type box struct{ x1, y1, x2, y2 float64 }

// No run leaves the page's frame and none lies on another.
func TestNothingOverlaps(t *testing.T) {
	for name, r := range reports(t) {
		t.Run(name, func(t *testing.T) {
			d, f := layOutForTest(t, r)
			bad := 0
			for n, s := range d.sheets {
				var boxes []box
				for _, run := range s.runs {
					w := f.of(run.bold).width(run.text, run.size)
					b := box{run.x, run.y - run.size*pt*capHeight, run.x + w, run.y + run.size*pt*0.05}
					left, right := d.paper.left, d.paper.right
					if s.drawing {
						left, right = draw.MarginSide, draw.MarginSide
					}
					if b.x1 < left-0.01 || b.x2 > s.w-right+0.2 || b.y1 < 4 || b.y2 > s.h-5 {
						if bad++; bad < 6 {
							t.Errorf("page %d: %.50q leaves the frame: %.1f", n+1, run.text, b)
						}
					}
					boxes = append(boxes, b)
				}
				order := make([]int, len(boxes))
				for i := range order {
					order[i] = i
				}
				slices.SortFunc(order, func(a, b int) int {
					if boxes[a].y1 < boxes[b].y1 {
						return -1
					}
					return 1
				})
				for k, i := range order {
					for _, j := range order[k+1:] {
						if boxes[j].y1 >= boxes[i].y2 {
							break
						}
						if boxes[i].x1 < boxes[j].x2-0.05 && boxes[j].x1 < boxes[i].x2-0.05 {
							if bad++; bad < 6 {
								t.Errorf("page %d: %.40q lies on %.40q", n+1, s.runs[i].text, s.runs[j].text)
							}
						}
					}
				}
			}
		})
	}
}

// A sheet drawn for the page's room prints at its true size, below a heading
// and beside a status; one that must shrink says so; a large one gets A3.
func TestSheetsKeepTheirScale(t *testing.T) {
	for _, c := range []struct {
		room   draw.Sheet
		letter bool
		w, h   float64
	}{
		{draw.A4.Landscape(), false, 297, 210},
		{draw.A4.Portrait(), false, 210, 297},
		{draw.Letter.Landscape(), true, 279.4, 215.9},
		{draw.Letter.Portrait(), true, 215.9, 279.4},
		{draw.A3.Landscape(), false, 420, 297},
		{draw.A3.Portrait(), true, 297, 420},
	} {
		r := sampleReport()
		r.Letter = c.letter
		r.Sections = []report.Section{{Number: 8, Name: "Floor", Blocks: []report.Block{
			report.Heading{Level: 2, Text: "Indication plan"},
			report.Figure{Sheet: true, Scene: sampleScene("plan", c.room.Width, c.room.Height, 3), Caption: "Plan"},
		}}}
		d, _ := layOutForTest(t, r)
		s := d.sheets[len(d.sheets)-1]
		if s.w != c.w || s.h != c.h {
			t.Errorf("%+v: page of %v × %v", c.room, s.w, s.h)
		}
		for _, run := range s.runs {
			if strings.Contains(run.text, "% of its size") {
				t.Errorf("%+v: %s", c.room, run.text)
			}
		}
	}
	r := sampleReport()
	r.Sections = []report.Section{{Blocks: []report.Block{report.Figure{Sheet: true, Scene: sampleScene("plan", 600, 300, 3), Caption: "Plan"}}}}
	d, _ := layOutForTest(t, r)
	if last := d.sheets[len(d.sheets)-1]; !slices.ContainsFunc(last.runs, func(r run) bool { return strings.Contains(r.text, "% of its size") }) {
		t.Error("a drawing that was shrunk does not say so")
	}
}

// A name as long as a cell may hold leaves every page room for its text.
func TestLongNamesLeaveRoom(t *testing.T) {
	r := sampleReport()
	r.Running.Tank = strings.Repeat("tank\n", 400)
	r.Running.Report = strings.Repeat("x", 32_000)
	d, _ := layOutForTest(t, r)
	if n := len(d.sheets); n > 40 {
		t.Errorf("%d pages", n)
	}
}
