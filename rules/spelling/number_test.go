package spelling

import "testing"

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 rows are", 1: "1 row is", 2: "2 rows are"} {
		if got := Count(n, "row is", "rows are"); got != want {
			t.Errorf("%d: %q, want %q", n, got, want)
		}
	}
}
