package beside

import (
	"context"
	"slices"
	"testing"
)

func TestRunDoesEachOnce(t *testing.T) {
	done := make([]int, 50)
	Run(t.Context(), len(done), func(i int) { done[i] += i })
	if slices.ContainsFunc(done[1:], func(n int) bool { return n == 0 }) || done[49] != 49 {
		t.Errorf("done %v", done)
	}
	Run(t.Context(), 0, func(int) { t.Error("there was nothing to do") })
}

func TestRunBeginsNothingAfterTheEnd(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	Run(ctx, 3, func(int) { t.Error("begun") })
}

func TestPanicReachesTheCaller(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a bug in side-by-side work went unseen")
		}
	}()
	Run(t.Context(), 3, func(i int) {
		if i == 1 {
			panic("bug")
		}
	})
}
