package workbook

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// hubbed is a draft of n results that rest on cells which read a long
// range over results that rest on cells of the sheet Data, and a link on
// another row.
func hubbed(n int) *dependence {
	d := xlsx.NewDraft("")
	steps := d.Sheet("Calculation")
	var hubs []xlsx.Entry
	for range 40 { // each with the same behind it
		hubs = append(hubs, xlsx.Live(fmt.Sprintf("MAX(Places!B1:B%d)", n), 1, xlsx.Fixed2))
	}
	steps.Row(hubs...)
	steps.Row(xlsx.Live("SUM(A1:AN1)*Tank!B2", 1, xlsx.Fixed2), xlsx.Number(1, xlsx.Fixed2))
	steps.Row(xlsx.Live(fmt.Sprintf(`IF("Data!A1"="",SUM(Places!A1:B%d),A2)`, n), 1, xlsx.Fixed2))
	steps.LinkTo(2, 2, "Tank!B9")
	places := d.Sheet("Places")
	places.Rows(n, 3, func(i int, cells []xlsx.Entry) {
		cells[0] = xlsx.Live(fmt.Sprintf("B%d-Calculation!A2", i+1), 1, xlsx.Fixed2)
		cells[1] = xlsx.Live(fmt.Sprintf("Data!C%d+'Data'!$D$%d", i+1, i+1), 1, xlsx.Fixed2)
		cells[2] = xlsx.Live(fmt.Sprintf("A%d+Calculation!A3+Calculation!B2", i+1), 1, xlsx.Fixed2)
	})
	return newDependence(d, &xlsx.Book{Sheets: []*xlsx.Sheet{{Name: "Tank"}, {Name: "Data"}}})
}

// plainly follows the formulas cell by cell, as the rules of the review say.
func plainly(p *dependence, from finding.Ref) (inputs []finding.Ref) {
	seen := map[finding.Ref]bool{from: true}
	queue := []finding.Ref{from}
	for ; len(queue) > 0; queue = queue[1:] {
		r := queue[0]
		t := p.sheets[p.sheetNumber(r.Sheet)]
		if t == nil {
			inputs = append(inputs, r)
			continue
		}
		formula := ""
		for _, c := range t.sheet.WrittenRow(r.Row).Cells {
			if c.Col == r.Col {
				formula = c.Formula
			}
		}
		texts := []string{formula}
		if formula == "" {
			texts = t.links(r.Row)
		}
		for _, text := range texts {
			for _, n := range namedIn(text) {
				sheet := n.sheet
				if sheet == "" {
					sheet = r.Sheet
				}
				if formula == "" && p.sheets[p.sheetNumber(sheet)] != nil {
					continue
				}
				lastCol, lastRow := n.lastCol, n.lastRow
				if lastCol == "" {
					lastCol, lastRow = n.col, n.row
				}
				for row := n.row; row <= lastRow; row++ {
					for col := columnNumber(n.col); col <= columnNumber(lastCol); col++ {
						to := finding.Ref{Sheet: sheet, Col: col, Row: row}
						if len(seen) < mostFollowed && !seen[to] {
							seen[to] = true
							queue = append(queue, to)
						}
					}
				}
			}
		}
	}
	slices.SortFunc(inputs, func(a, b finding.Ref) int {
		if a.Sheet != b.Sheet {
			return -strings.Compare(a.Sheet, b.Sheet) // Tank stands before Data
		}
		if a.Row != b.Row {
			return a.Row - b.Row
		}
		return a.Col - b.Col
	})
	return inputs
}

// What lies behind a cell that many results rest on is found once, and is the
// same as when each is followed for itself, up to the bound and beyond it.
func TestInputsBehindAHub(t *testing.T) {
	for _, n := range []int{3, 70, 900, 60_000} {
		p := hubbed(n)
		refs := []finding.Ref{
			{Sheet: "Places", Col: 1, Row: 2},
			{Sheet: "Places", Col: 1, Row: n},
			{Sheet: "Places", Col: 3, Row: n - 1},
			{Sheet: "Places", Col: 2, Row: 1},
			{Sheet: "Places", Col: 9, Row: 1},
			{Sheet: "Places", Col: 1, Row: n + 9},
			{Sheet: "Calculation", Col: 1, Row: 1},
			{Sheet: "Calculation", Col: 1, Row: 3},
			{Sheet: "Calculation", Col: 2, Row: 2},
			{Sheet: "Places", Col: 1, Row: 3},
		}
		if n > 900 {
			refs = refs[2:3] // slow to follow plainly
		}
		for _, ref := range refs {
			want := plainly(p, ref)
			if got := p.of(ref); !slices.Equal(got, want) {
				t.Errorf("%d rows, %s: %d cells, want %d", n, ref, len(got), len(want))
			}
			words, more := p.inWords(ref)
			if len(words)+more != len(want) {
				t.Errorf("%d rows, %s: %d and %d more, want %d", n, ref, len(words), more, len(want))
			}
			for i, w := range words {
				if w != want[i].String() {
					t.Errorf("%d rows, %s: %s, want %s", n, ref, w, want[i])
				}
			}
		}
	}
}

// All results of a floor may differ, and each rest on all places by the same
// few steps: twice the places are twice the work, not four times.
func TestInputsOfManyResultsGrowAlong(t *testing.T) {
	work := func(n int) int {
		p := hubbed(n)
		for row := 1; row <= n; row++ {
			if list, more := p.inWords(finding.Ref{Sheet: "Places", Col: 1, Row: row}); len(list)+more != 2*n+1 {
				t.Fatalf("%d cells behind row %d of %d", len(list)+more, row, n)
			}
		}
		return p.looked
	}
	small, large := work(2000), work(4000)
	if large > 3*small || small > 100*2000 {
		t.Errorf("%d cells looked at for 2,000 results, %d for 4,000", small, large)
	}
}
