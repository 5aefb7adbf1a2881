package main

import (
	"bufio"
	"fmt"
	"io"
	"syscall"
	"unsafe"
)

// waitIfOwnWindow keeps the window open when it was opened for this program
// alone, by dropping files on its icon, so that the person can read it.
func waitIfOwnWindow(in io.Reader, out io.Writer) {
	list := syscall.NewLazyDLL("kernel32.dll").NewProc("GetConsoleProcessList")
	var ids [2]uint32
	n, _, _ := list.Call(uintptr(unsafe.Pointer(&ids[0])), uintptr(len(ids)))
	if n != 1 {
		return
	}
	fmt.Fprint(out, "\nPress Enter to close this window. ")
	_, _ = bufio.NewReader(in).ReadString('\n')
}
