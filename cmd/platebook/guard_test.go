package main

import (
	"bytes"
	"strings"
	"testing"
)

// A mistake in side-by-side work reaches the top as one line; its stack only
// when asked for.
func TestBugInSideWorkIsToldInOneLine(t *testing.T) {
	for _, verbose := range []bool{false, true} {
		var out, err bytes.Buffer
		talk := newTalk(&out, &err)
		talk.verbose = verbose
		func() {
			defer func() {
				p := recover()
				if p == nil {
					t.Fatal("the mistake was swallowed")
				}
				talk.internal("lost a plate", stackOf(p))
			}()
			rethrow(guarded(func() error { panic("lost a plate") })())
		}()
		if strings.Contains(err.String(), "goroutine") != verbose {
			t.Errorf("verbose %v: %s", verbose, err.String())
		}
	}
	if err := guarded(func() error { return nil })(); err != nil {
		t.Error(err)
	}
}
