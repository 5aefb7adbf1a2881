//go:build !windows

package main

import "io"

// waitIfOwnWindow does nothing: only Windows opens a console window for a
// program started from an icon and closes it at the end.
func waitIfOwnWindow(io.Reader, io.Writer) {}
