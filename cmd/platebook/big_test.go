package main

import (
	"os"
	"testing"
)

// TestMakeBig leaves a load-test workbook behind when asked to, for timing the
// program as a whole process: PLATEBOOK_BIG=DIR go test -run MakeBig ./cmd/platebook.
func TestMakeBig(t *testing.T) {
	dir := os.Getenv("PLATEBOOK_BIG")
	if dir == "" {
		t.Skip("no folder named in PLATEBOOK_BIG")
	}
	t.Log(bigWorkbook(t, dir, 150, 5000, 1000, 20))
}
