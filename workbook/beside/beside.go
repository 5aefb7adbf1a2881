// Package beside runs independent pieces of work on all processors.
package beside

import (
	"context"
	"runtime"
	"sync"
)

// Run does work(0) to work(n-1) side by side and waits for all; once ctx ends
// none is begun. Each writes only what is its own, so that the order of their
// ends shows nowhere. A panic goes on in the caller.
func Run(ctx context.Context, n int, work func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	bugs := make([]any, n)
	careful := func(i int) {
		defer func() { bugs[i] = recover() }()
		work(i)
	}
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := range next {
				if ctx.Err() == nil {
					careful(i)
				}
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, bug := range bugs {
		if bug != nil {
			panic(bug) // where the caller can catch it
		}
	}
}
