// Package save writes files so that nobody loses data: never over an input,
// never in part, and never silently somewhere else.
package save

import (
	"context"
	"errors"
	"io"
)

// Save writes a file. write fills a temporary file in the target's folder,
// which is synced, checked by verify (nil: not checked) and then renamed.
//
// When the target cannot be replaced (it is open elsewhere, or is one of the
// inputs, also through a link) the file gets a numbered name beside it,
// NAME (2).xlsx; final is the name it got, for the message. On an error or
// when ctx ends nothing is left behind and the old target is untouched.
func Save(ctx context.Context, path string, inputs []string, write func(io.Writer) error, verify func(path string) error) (final string, err error) {
	return "", errors.New("not yet")
}
