package xlsx

import (
	"bytes"
	"fmt"
	"io"
	"testing"
)

// rows5000 is a sheet of 5,000 rows by 15 columns, as a large inspection has.
func rows5000() *Draft {
	d := NewDraft("bench")
	s := d.Sheet("Indications")
	for r := range 5000 {
		row := make([]Entry, 15)
		for c := range row {
			if c%3 == 0 {
				row[c] = Text(fmt.Sprintf("3-%d remark", r%40), Normal)
			} else {
				row[c] = Number(float64(r*c)/7, Normal)
			}
		}
		s.Row(row...)
	}
	return d
}

func BenchmarkRead5000(b *testing.B) {
	var out bytes.Buffer
	if err := rows5000().Write(&out); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		book, err := OpenBytes("x.xlsx", out.Bytes())
		if err != nil {
			b.Fatal(err)
		}
		if g, err := book.Sheets[0].Read(); err != nil || len(g.Rows) != 5000 {
			b.Fatal(err)
		}
	}
}

func BenchmarkWrite5000(b *testing.B) {
	d := rows5000()
	b.ReportAllocs()
	for b.Loop() {
		if err := d.Write(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
