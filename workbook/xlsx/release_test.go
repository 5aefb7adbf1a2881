package xlsx

import (
	"bytes"
	"slices"
	"testing"
)

// A sheet whose cells were let go is read again as it was, and its hash is
// the same either way.
func TestReleasedSheetIsReadAgain(t *testing.T) {
	d := NewDraft("t")
	s := d.Sheet("Plates")
	for i := range 3000 {
		s.Row(Text("label", Normal), Number(float64(i), Normal))
	}
	var file bytes.Buffer
	if err := d.Write(&file); err != nil {
		t.Fatal(err)
	}
	b, err := OpenBytes("a.xlsx", file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	before, err := b.Sheets[0].Read()
	if err != nil {
		t.Fatal(err)
	}
	all, err := b.ValuesHash([]string{"Plates"})
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		b.Release()
		if n := b.pkg.cells.Load(); n != 0 {
			t.Errorf("%d cells still counted", n)
		}
		if own, err := b.Sheets[0].ValuesHash(); err != nil || own != all {
			t.Errorf("hash %q, %v; of the whole %q", own, err, all)
		}
		after, err := b.Sheets[0].Read()
		if err != nil || after == before {
			t.Fatalf("not read again: %v", err)
		}
		if !slices.EqualFunc(before.Rows, after.Rows, func(x, y Row) bool { return x.Number == y.Number && slices.Equal(x.Cells, y.Cells) }) {
			t.Error("read otherwise the second time")
		}
	}
}

// A sheet that is kept is not read again, and its cells stay counted.
func TestKeptSheetIsReadOnce(t *testing.T) {
	d := NewDraft("t")
	d.Sheet("Plates").Row(Text("label", Normal), Number(1, Normal))
	d.Sheet("Findings").Row(Text("key", Normal), Text("rule", Normal), Number(2, Normal))
	var file bytes.Buffer
	if err := d.Write(&file); err != nil {
		t.Fatal(err)
	}
	b, err := OpenBytes("a.xlsx", file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	before := map[string]*Grid{}
	for _, s := range b.Sheets {
		if before[s.Name], err = s.Read(); err != nil {
			t.Fatal(err)
		}
	}
	b.Release("Findings", "Record")
	if cells, text := b.pkg.cells.Load(), b.pkg.text.Load(); cells != 3 || text != 8 {
		t.Errorf("%d cells with %d bytes of text counted", cells, text)
	}
	for name, kept := range map[string]bool{"Plates": false, "Findings": true} {
		if g, err := b.Sheet(name).Read(); err != nil || (g == before[name]) != kept {
			t.Errorf("%s: the same cells as before: %v, %v", name, g == before[name], err)
		}
	}
}
