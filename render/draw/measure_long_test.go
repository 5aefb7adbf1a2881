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

// Names of one floor differ at their ends: the end of a long one stays.
func TestLongNamesKeepTheirEnds(t *testing.T) {
	a, b := brief("Bodenblech-Nordost-Ring-Segment-01234567-0", 2.8, true), brief("Bodenblech-Nordost-Ring-Segment-01234567-2", 2.8, true)
	if a == b || !strings.HasPrefix(a, "Bodenblech") || !strings.HasSuffix(a, "…234567-0") {
		t.Errorf("%q and %q", a, b)
	}
	for _, name := range []string{a, b, brief(strings.Repeat("W", 17), 2.8, true), brief(strings.Repeat("W", 300), 9, true)} {
		if w := Width(name, 2.8, true); w > nameRoom {
			t.Errorf("%q runs %.1f mm", name, w)
		}
	}
	if got := brief("3-4", 2.8, true); got != "3-4" {
		t.Errorf("%q", got)
	}
}
