package main

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"platebook/workbook/demo"
)

// bigWorkbook writes a load-test workbook with its photos into dir.
func bigWorkbook(tb testing.TB, dir string, plates, indications, proveUps, photos int) string {
	tb.Helper()
	book, err := demo.Big(plates, indications, proveUps, photos)
	if err != nil {
		tb.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, demo.PhotoFolder), 0o777); err != nil {
		tb.Fatal(err)
	}
	for _, p := range book.Photos {
		if err := os.WriteFile(filepath.Join(dir, demo.PhotoFolder, p.Name), p.JPEG(), 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		tb.Fatal(err)
	}
	path := filepath.Join(dir, "big.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		tb.Fatal(err)
	}
	return path
}

// bigSizes are the numbers of indications that speed is told for.
var bigSizes = []int{500, 5000, 50000}

// BenchmarkRun is the whole job: read, check, calculate, all outputs.
func BenchmarkRun(b *testing.B) {
	for _, n := range bigSizes {
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			dir := b.TempDir()
			path := bigWorkbook(b, dir, 150, n, n/5, 20)
			b.ReportAllocs()
			b.ResetTimer()
			for range b.N {
				code := run(context.Background(), []string{"run", "--quiet", "--limit", "1", path}, nil, io.Discard, io.Discard)
				if code > exitFindings {
					b.Fatalf("exit code %d", code)
				}
			}
		})
	}
}
