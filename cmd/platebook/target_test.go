package main

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"platebook/workbook/save"
)

// What to do follows the system's reason, told by its numbers on Windows.
//
// Source: Microsoft, “System Error Codes”; POSIX errno.h.
func TestWhatToDo(t *testing.T) {
	for number, want := range map[syscall.Errno]int{39: noRoom, 112: noRoom, 1295: noRoom, 206: tooLong, 19: noRight} {
		if got := whyNot(&fs.PathError{Op: "write", Path: "a", Err: number}, true); got != want {
			t.Errorf("error %d on Windows: %d, want %d", number, got, want)
		}
	}
	for err, want := range map[error]string{
		syscall.ENOSPC:       "Free some room",
		syscall.ENAMETOOLONG: "shorter name",
		syscall.EROFS:        "a folder of your own",
		fs.ErrPermission:     "a folder of your own",
		save.ErrGone:         "Look where the folder went",
		errors.New("odd"):    "unharmed",
	} {
		if do := whatToDo(fmt.Errorf("writing: %w", err)); !strings.Contains(do, want) {
			t.Errorf("%v: %s", err, do)
		}
	}
}
