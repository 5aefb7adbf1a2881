package main

import (
	"math"
	"runtime/debug"
	"sync"
)

// What a job may take of memory before room is made more often: enough for
// 50,000 indications, more for more. It is no bound: a job that needs more
// gets it.
const (
	leastRoom  = 540 << 20 // bytes
	roomForRow = 9 << 10   // bytes for each row of data
)

var memory struct {
	sync.Mutex
	most int64
}

// makeRoom tells the memory manager how large the program may grow for jobs
// of some rows each. What the environment says of it stands
// (GOMEMLIMIT).
func makeRoom(rows, jobs int) {
	memory.Lock()
	defer memory.Unlock()
	if memory.most == 0 && debug.SetMemoryLimit(-1) != math.MaxInt64 {
		return
	}
	if want := int64(jobs) * max(leastRoom, int64(rows)*roomForRow); want > memory.most {
		memory.most = want
		debug.SetMemoryLimit(want)
	}
}
