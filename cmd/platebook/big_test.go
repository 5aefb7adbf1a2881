package main

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// TestMakeBig leaves load-test workbooks behind when asked to, for timing the
// program as a whole process: PLATEBOOK_BIG=DIR go test -run MakeBig ./cmd/platebook.
// In DIR/5000 are big.xlsx with its photos and, in DIR/5000/earlier, the
// inspection before it; in DIR/batch 8 and DIR/batch 32 are folders of files.
func TestMakeBig(t *testing.T) {
	dir := os.Getenv("PLATEBOOK_BIG")
	if dir == "" {
		t.Skip("no folder named in PLATEBOOK_BIG")
	}
	for _, n := range bigSizes {
		of := filepath.Join(dir, strconv.Itoa(n))
		bigWorkbook(t, of, bigPlates, n, n/5, bigPhotos)
		earlierWorkbook(t, filepath.Join(of, "earlier"), bigPlates, n, n/5)
	}
	for _, n := range []int{8, 32} {
		batchFolder(t, filepath.Join(dir, "batch "+strconv.Itoa(n)), n)
	}
}
