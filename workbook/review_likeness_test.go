package workbook

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"platebook/rules/finding"
	"platebook/workbook/xlsx"
)

// printedRows are rows as an inspection has them: an ID of their own, then
// values that many rows share.
func printedRows(n int) []xlsx.Printed {
	rng := rand.New(rand.NewPCG(3, uint64(n)))
	shared := func(of int) string { return letters3(rng.IntN(of)) }
	rows := make([]xlsx.Printed, n)
	for i := range rows {
		rows[i] = xlsx.Printed{Row: i + 4, Cells: []string{
			letters3(i), shared(1 + n/100), shared(200), shared(200), "", shared(2), shared(3), shared(60), "day",
		}}
	}
	return rows
}

func letters3(i int) string {
	return string([]byte{byte('A' + i%26), byte('A' + i/26%26), byte('A' + i/676%26)})
}

// with is a copy of rows with a column changed in each.
func with(rows []xlsx.Printed, col int) (out []xlsx.Printed, changed []finding.Ref) {
	for i, r := range rows {
		r.Cells = slices.Clone(r.Cells)
		r.Cells[col] = fmt.Sprintf("%c%c_", 'a'+i%26, 'a'+i/26%26)
		out = append(out, r)
		changed = append(changed, finding.Ref{Row: r.Row, Col: col + 1})
	}
	return out, changed
}

// A column that changed in every row is one changed cell a row, found without
// holding each row against all others: twice the rows, twice the work.
func TestAColumnThatChangedInEveryRow(t *testing.T) {
	held := func(was, now []xlsx.Printed) int {
		l := likeness{was: was, now: now}
		for i := range was {
			l.gone, l.came = append(l.gone, i), append(l.came, i)
		}
		l.pairs()
		return l.held
	}
	for _, n := range []int{1000, 4000} {
		was := printedRows(n)
		now, want := with(was, 7)
		if d := comparePrints(was, now); !slices.Equal(d.places, want) || d.gone != 0 || d.elsewhere {
			t.Errorf("%d rows: %d places, %d gone, elsewhere %v", n, len(d.places), d.gone, d.elsewhere)
		}
		twice := printedRows(2 * n)
		changed, _ := with(twice, 7)
		if one, two := held(was, now), held(twice, changed); one < n || two > 5*one/2 {
			t.Errorf("%d rows: %d pairs held against each other, %d with twice the rows", n, one, two)
		}
	}
}

// Also when the rows were sorted meanwhile.
func TestAColumnThatChangedInSortedRows(t *testing.T) {
	was := printedRows(3000)
	sorted := make([]xlsx.Printed, len(was))
	for i, from := range rand.New(rand.NewPCG(1, 1)).Perm(len(was)) {
		sorted[i] = xlsx.Printed{Row: i + 4, Cells: was[from].Cells}
	}
	now, want := with(sorted, 7)
	if d := comparePrints(was, now); !slices.Equal(d.places, want) || d.gone != 0 {
		t.Errorf("%d places, %d gone", len(d.places), d.gone)
	}
}

// A row that came in takes no other row's partner, and a row all of whose
// cells changed is told once, at its place.
func TestARowThatCameAmongChangedRows(t *testing.T) {
	row := func(n int, cells ...string) xlsx.Printed { return xlsx.Printed{Row: n, Cells: cells} }
	was := []xlsx.Printed{row(4, "AAA", "soi", "mfl", "one"), row(5, "BBB", "soi", "mfl", "two")}
	now := []xlsx.Printed{row(4, "NEW", "soi", "mfl", "new"), row(5, "AAA", "soi", "mfl", "1st"), row(6, "BBB", "soi", "mfl", "2nd")}
	want := []finding.Ref{{Row: 4, Col: 1}, {Row: 4, Col: 2}, {Row: 4, Col: 3}, {Row: 4, Col: 4}, {Row: 5, Col: 4}, {Row: 6, Col: 4}}
	if d := comparePrints(was, now); !slices.Equal(d.places, want) || d.gone != 0 {
		t.Errorf("%+v", d)
	}
	was, now = []xlsx.Printed{row(4, "a", "b"), row(5, "c", "d")}, []xlsx.Printed{row(4, "e", "f"), row(5, "g", "h")}
	if d := comparePrints(was, now); len(d.places) != 4 || d.gone != 0 {
		t.Errorf("%+v", d)
	}
}

// BenchmarkReviewOfChangedRows holds 50,000 rows against themselves with a
// column changed in each.
func BenchmarkReviewOfChangedRows(b *testing.B) {
	was := printedRows(50_000)
	now, _ := with(was, 7)
	for b.Loop() {
		comparePrints(was, now)
	}
}
