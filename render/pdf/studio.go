package pdf

import (
	"runtime"
	"slices"
	"sync"

	"platebook/render/draw"
	"platebook/render/report"
)

// studio works on the large drawings beside the setting of the text: the next
// ones are drawn before they are asked for, and one that has its page is
// written there while the text goes on. Only as many as there are processors
// are at hand at once, since all together are large.
type studio struct {
	easels, presses chan struct{}
	closed          chan struct{}
	work            sync.WaitGroup
	lock            sync.Mutex
	bug             any // the first panic, for close
}

func newStudio() *studio {
	n := runtime.GOMAXPROCS(0)
	return &studio{easels: make(chan struct{}, n), presses: make(chan struct{}, n), closed: make(chan struct{})}
}

// commission begins the drawings of a report, in their order. In the sections
// it gives they wait for the studio's; they must be asked for in that order.
func (st *studio) commission(sections []report.Section) []report.Section {
	var all []func()
	out := slices.Clone(sections)
	for i := range out {
		blocks := slices.Clone(out[i].Blocks)
		for k, b := range blocks {
			f, ok := b.(report.Figure)
			if !ok || f.Later == nil {
				continue
			}
			later, ready := f.Later, make(chan *draw.Scene, 1)
			all = append(all, func() {
				defer close(ready) // a drawing that fails is nil, and close tells why
				ready <- later()
			})
			f.Later = func() *draw.Scene {
				sc := <-ready
				<-st.easels
				return sc
			}
			blocks[k] = f
		}
		out[i].Blocks = blocks
	}
	st.work.Go(func() {
		for _, one := range all {
			select {
			case st.easels <- struct{}{}:
				st.work.Go(func() { st.guarded(one) })
			case <-st.closed:
				return
			}
		}
	})
	return out
}

// write does what does not depend on other pages, beside the caller's work.
func (st *studio) write(page func()) {
	st.presses <- struct{}{}
	st.work.Go(func() {
		defer func() { <-st.presses }()
		st.guarded(page)
	})
}

func (st *studio) guarded(work func()) {
	defer func() {
		if p := recover(); p != nil {
			st.lock.Lock()
			defer st.lock.Unlock()
			if st.bug == nil {
				st.bug = p
			}
		}
	}()
	work()
}

// close waits until everything is done; a panic of the studio goes on here.
func (st *studio) close() {
	close(st.closed)
	st.work.Wait()
	if st.bug != nil {
		panic(st.bug)
	}
}
