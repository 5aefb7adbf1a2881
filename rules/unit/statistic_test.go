package unit

import "testing"

// A large statistic is printed in full, not as a power of ten.
func TestLargeStatistic(t *testing.T) {
	for v, want := range map[float64]string{123456.4: "123456", 12345.6: "12346", 1234.56: "1235", 0.98567: "0.9857"} {
		if got := Statistic.Text(SI, v, 0); got != want {
			t.Errorf("%v prints %s, not %s", v, got, want)
		}
	}
}
