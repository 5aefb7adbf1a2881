package main

import (
	"os"
	"syscall"
)

// peak is the most resident memory of an ended process, in bytes.
func peak(p *os.ProcessState) int64 {
	if u, ok := p.SysUsage().(*syscall.Rusage); ok {
		return u.Maxrss << 10
	}
	return 0
}
