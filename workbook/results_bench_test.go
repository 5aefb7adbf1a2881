package workbook

import (
	"context"
	"io"
	"testing"

	"platebook/workbook/demo"
)

// BenchmarkResults reads a large workbook and writes its results: 150 plates,
// 5,000 indications, 1,000 prove-ups.
func BenchmarkResults(b *testing.B) {
	big, err := demo.Big(150, 5000, 1000, 0)
	if err != nil {
		b.Fatal(err)
	}
	path := saved(b, "big.xlsx", big)
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			if _, err := Open(context.Background(), path, Options{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	book, a := judged(b, path)
	b.Run("draft", func(b *testing.B) {
		for b.Loop() {
			if _, err := resultDraft(context.Background(), book, a, Record{}); err != nil {
				b.Fatal(err)
			}
		}
	})
	draft, err := resultDraft(context.Background(), book, a, Record{})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("graft", func(b *testing.B) {
		for b.Loop() {
			if err := book.File.WriteWith(b.Context(), io.Discard, draft, nil); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("write", func(b *testing.B) {
		for b.Loop() {
			if _, err := WriteResults(context.Background(), book, path+".results.xlsx", a, Record{}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
