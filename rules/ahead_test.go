package rules

import (
	"sync"
	"testing"

	"platebook/rules/assess"
	"platebook/rules/statistics"
)

// What is begun ahead is found once, and a bug in it ends who asks, not the
// program.
func TestAhead(t *testing.T) {
	counted, found := 0, make(chan struct{})
	a := &Assessment{
		statistics: sync.OnceValue(func() *statistics.Tally {
			counted++
			close(found)
			return &statistics.Tally{}
		}),
		sensitivity: sync.OnceValue(func() []assess.Change { panic("a bug") }),
	}
	a.Ahead()
	a.Ahead()
	<-found // without being asked for
	if a.Statistics(); counted != 1 {
		t.Errorf("counted %d times", counted)
	}
	defer func() {
		if p := recover(); p != "a bug" {
			t.Errorf("the bug came up as %v", p)
		}
	}()
	a.Sensitivity()
}
