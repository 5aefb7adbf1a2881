//go:build unix

package save

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// A new file has the rights that the person's umask leaves to any new file; one
// that replaces another has those of the old one.
func TestRightsOfFiles(t *testing.T) {
	dir := t.TempDir()
	defer syscall.Umask(syscall.Umask(0))
	for _, c := range []struct {
		umask int
		want  fs.FileMode
	}{{0o022, 0o644}, {0o077, 0o600}, {0o002, 0o664}} {
		syscall.Umask(c.umask)
		path := filepath.Join(dir, c.want.String())
		for range 2 {
			if _, err := Save(context.Background(), path, nil, put("x"), nil); err != nil {
				t.Fatal(err)
			}
			if info, err := os.Stat(path); err != nil || info.Mode().Perm() != c.want {
				t.Errorf("umask %o: %v, want %v", c.umask, info.Mode(), c.want)
			}
			syscall.Umask(0) // the second replaces the first
		}
	}
}
