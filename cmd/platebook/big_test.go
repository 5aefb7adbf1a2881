package main

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// TestMakeBig leaves load-test workbooks behind when asked to, for timing the
// program as a whole process: PLATEBOOK_BIG=DIR go test -run MakeBig ./cmd/platebook.
func TestMakeBig(t *testing.T) {
	dir := os.Getenv("PLATEBOOK_BIG")
	if dir == "" {
		t.Skip("no folder named in PLATEBOOK_BIG")
	}
	for _, n := range bigSizes {
		t.Log(bigWorkbook(t, filepath.Join(dir, strconv.Itoa(n)), bigPlates, n, n/5, bigPhotos))
	}
}
