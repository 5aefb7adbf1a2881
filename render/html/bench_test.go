package html

import (
	"fmt"
	"io"
	"testing"

	"platebook/rules"
	"platebook/workbook/demo"
)

// BenchmarkWrite is making the page of a whole assessment, repairs too.
func BenchmarkWrite(b *testing.B) {
	for _, n := range []int{500, 5000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			book, err := demo.Big(150, n, n/5, 0)
			if err != nil {
				b.Fatal(err)
			}
			read := readBook(b, book)
			a := rules.Assess(read.Inspection, read.Hits, nil)
			b.ResetTimer()
			for range b.N {
				if err := Write(io.Discard, a, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
