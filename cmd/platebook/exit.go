package main

import (
	"context"
	"errors"

	"platebook/rules/finding"
)

// The exit codes.
const (
	exitDone        = 0   // nothing at or above the fail level
	exitFindings    = 1   // done, findings at or above it
	exitUsage       = 2   // wrong usage
	exitFile        = 3   // an input could not be used or an output not written
	exitInternal    = 4   // a mistake of the program
	exitInterrupted = 130 // Ctrl-C
)

// usageError is a mistake on the command line.
type usageError struct{ text string }

func (e *usageError) Error() string { return e.text }

// fileError is an input or output that failed; it has been told already.
type fileError struct{ err error }

func (e *fileError) Error() string { return e.err.Error() }
func (e *fileError) Unwrap() error { return e.err }

// findingsError says that findings at or above the fail level were printed.
type findingsError struct{}

func (findingsError) Error() string { return "findings at or above the fail level" }

// bugError is a mistake of the program in one workbook of many; it has been
// told already.
type bugError struct{ text string }

func (e *bugError) Error() string { return e.text }

// codeOf maps an error to the exit code, once for all commands.
func codeOf(err error) int {
	var (
		usage    *usageError
		file     *fileError
		unusable *finding.Unusable
	)
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	case errors.As(err, &usage):
		return exitUsage
	case errors.As(err, new(*bugError)):
		return exitInternal
	case errors.As(err, new(findingsError)):
		return exitFindings
	case errors.As(err, &file), errors.As(err, &unusable):
		return exitFile
	}
	return exitFile
}
