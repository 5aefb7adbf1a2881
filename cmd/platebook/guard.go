package main

import (
	"errors"
	"fmt"
	"runtime/debug"
)

// bug is a mistake of the program caught in work done side by side, where the
// top cannot catch it.
type bug struct {
	what  any
	stack []byte
}

func (b *bug) Error() string { return fmt.Sprint(b.what) }

// guarded turns a panic into a bug, which rethrow raises again where it is
// caught once for all.
func guarded(work func() error) func() error {
	return func() (err error) {
		defer func() {
			if p := recover(); p != nil {
				err = &bug{p, debug.Stack()}
			}
		}()
		return work()
	}
}

func rethrow(err error) {
	var b *bug
	if errors.As(err, &b) {
		panic(b)
	}
}

// stackOf is where a caught panic came from, for who asks to be told.
func stackOf(caught any) string {
	if b, ok := caught.(*bug); ok {
		return string(b.stack)
	}
	return string(debug.Stack())
}
