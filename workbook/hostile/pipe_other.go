//go:build !unix

package hostile

import "errors"

func pipe(string) error { return errors.ErrUnsupported }
