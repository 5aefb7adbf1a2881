package xlsx

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// passed are the rows that Each gives, and how often it began.
func passed(t *testing.T, s *Sheet) (rows []Row, begun int) {
	t.Helper()
	err := s.Each(func() { rows, begun = nil, begun+1 }, func(r *Row) error {
		row := *r
		row.Cells = slices.Clone(r.Cells)
		rows = append(rows, row)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows, begun
}

func tableOf(n int) *Draft {
	d := NewDraft("")
	s := d.Sheet("Table")
	s.Row(Text("one", Header), Text("two", Header))
	s.Skip(2)
	s.Rows(n, 3, func(i int, cells []Entry) {
		cells[0] = Number(float64(i)/8, Fixed3)
		if i%3 > 0 {
			cells[2] = LiveText("A1&B1", strings.Repeat("x", i%7), Normal)
		}
	})
	return d
}

func bytesOf(t *testing.T, d *Draft) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := d.Write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestEachGivesTheRowsOfTheSheet(t *testing.T) {
	b, err := OpenBytes("a.xlsx", bytesOf(t, tableOf(3000)))
	if err != nil {
		t.Fatal(err)
	}
	s := b.Sheet("Table")
	for range 2 {
		cells, text, unpacked := b.pkg.cells.Load(), b.pkg.text.Load(), int64(0)
		rows, begun := passed(t, s)
		if len(rows) != 3001 || begun != 1 || s.grid != nil {
			t.Errorf("%d rows, begun %d times, kept: %v", len(rows), begun, s.grid != nil)
		}
		if b.pkg.cells.Load() != cells || b.pkg.text.Load() != text {
			t.Error("a pass that keeps nothing counts for what is kept")
		}
		if unpacked = b.pkg.unpacked.Load(); unpacked > 2<<20 {
			t.Errorf("%d bytes counted as unpacked", unpacked)
		}
		other, err := OpenBytes("a.xlsx", bytesOf(t, tableOf(3000)))
		if err != nil {
			t.Fatal(err)
		}
		g, err := other.Sheet("Table").Read()
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(g.Rows, rows); diff != "" {
			t.Error(diff)
		}
	}
	before := b.pkg.unpacked.Load()
	passed(t, s)
	if b.pkg.unpacked.Load() != before {
		t.Error("a part read again counts as unpacked again")
	}
	stop := errors.New("enough")
	n := 0
	if err := s.Each(func() {}, func(*Row) error { n++; return stop }); !errors.Is(err, stop) || n != 1 {
		t.Errorf("%d rows, %v", n, err)
	}
}

// Rows that stand in no order in the file come from the top all the same.
func TestEachOrdersRows(t *testing.T) {
	sheet := `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
		`<row r="1"><c r="A1"><v>1</v></c></row><row r="3"><c r="A3"><v>3</v></c></row><row r="2"><c r="A2"><v>2</v></c></row>` +
		`<row r="4"/></sheetData></worksheet>`
	b, err := OpenBytes("a.xlsx", zipped(t, web(sheet)...))
	if err != nil {
		t.Fatal(err)
	}
	rows, begun := passed(t, b.Sheets[0])
	if len(rows) != 3 || begun != 2 {
		t.Errorf("%d rows, begun %d times", len(rows), begun)
	}
	for i, r := range rows {
		if r.Number != i+1 || r.Cells[0].Number != float64(i+1) {
			t.Errorf("row %d: %+v", i+1, r)
		}
	}
}

func TestARowWrittenByItself(t *testing.T) {
	s := tableOf(40).NewSheet("Table")
	at := map[int]WrittenRow{}
	for row := range s.EachWritten() {
		row.Cells = slices.Clone(row.Cells)
		at[row.Number] = row
	}
	if len(at) != 41 {
		t.Errorf("%d rows", len(at))
	}
	for n := range s.Next() + 3 {
		want := at[n]
		want.Number = n
		if diff := cmp.Diff(want, s.WrittenRow(n)); diff != "" {
			t.Errorf("row %d: %s", n, diff)
		}
	}
}
