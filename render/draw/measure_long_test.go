package draw

import (
	"strings"
	"testing"
	"time"
)

// A word as long as a cell may hold is shortened and broken in the time of its
// line, not of its square, and as a shorter one of the same beginning is.
func TestWordAsLongAsACell(t *testing.T) {
	long, short := strings.Repeat("x", 40_000), strings.Repeat("x", 200)
	start := time.Now()
	if a, b := Fit(long, 3, false, 50), Fit(short, 3, false, 50); a != b || a == "" {
		t.Errorf("%q and %q", a, b)
	}
	lines := wrap(long, 3, false, 50)
	if strings.Join(lines, "") != long {
		t.Error("letters lost")
	}
	for _, l := range lines {
		if Width(l, 3, false) > 50 {
			t.Fatalf("%q is too wide", l)
		}
	}
	if took := time.Since(start); took > 10*time.Second {
		t.Errorf("took %s", took)
	}
}
