package main

import (
	"math"
	"os"
	"runtime/debug"
	"sync"
)

// What a job may take of memory before room is made more often: enough for
// 50,000 indications, more for more. It is no bound: a job that needs more
// gets it.
const (
	leastRoom  = 580 << 20 // bytes
	roomForRow = 9 << 10   // bytes for each row of data
)

// collectAt is how much the heap may grow, percent of what is in use, before
// garbage is collected: at twice the usual a job of 5,000 takes nine tenths of
// the time and a quarter more memory, and a larger one soon comes to its room.
const collectAt = 200

// collectSeldom sets it, unless the environment says otherwise (GOGC).
func collectSeldom() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
}

var memory struct {
	sync.Mutex
	most int64
}

// earlierShare is what an inspection takes that others are only compared with,
// of the room of a job, one part in so many.
const earlierShare = 10

// makeRoom tells the memory manager how large the program may grow for jobs
// of some rows each, and the earlier inspections of one of them. What the
// environment says of it stands (GOMEMLIMIT).
func makeRoom(rows, jobs, earlier int) {
	memory.Lock()
	defer memory.Unlock()
	if memory.most == 0 && debug.SetMemoryLimit(-1) != math.MaxInt64 {
		return
	}
	room := max(leastRoom, int64(rows)*roomForRow)
	if want := int64(jobs)*room + int64(earlier)*room/earlierShare; want > memory.most {
		memory.most = want
		debug.SetMemoryLimit(want)
	}
}
