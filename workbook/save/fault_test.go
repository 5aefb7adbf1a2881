package save

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
)

var errFull = errors.New("no space left on device")

// full takes so many bytes and then none, as a full disk does: the last write
// is cut short.
type full struct {
	w    io.Writer
	left int
}

func (f *full) Write(b []byte) (int, error) {
	if len(b) <= f.left {
		f.left -= len(b)
		return f.w.Write(b)
	}
	n, err := f.w.Write(b[:f.left])
	f.left = 0
	if err == nil {
		err = errFull
	}
	return n, err
}

// A disk that is full, a program that is stopped or a check that fails, at
// each of 200 points of a file, leaves the old target and the input as they
// were and nothing beside them; the next run is clean.
func TestFaultsAtEveryPointLeaveNothingBehind(t *testing.T) {
	const points, step = 200, 64
	content := make([]byte, points*step)
	for i := range content {
		content[i] = byte(i)
	}
	write := func(w io.Writer) error {
		for at := 0; at < len(content); at += step {
			if _, err := w.Write(content[at : at+step]); err != nil {
				return err
			}
		}
		return nil
	}
	dir := t.TempDir()
	in, target := filepath.Join(dir, "in.xlsx"), filepath.Join(dir, "in.results.xlsx")
	for path, text := range map[string]string{in: "input", target: "old"} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	unharmed := func(what string) {
		t.Helper()
		if get(t, in) != "input" || get(t, target) != "old" {
			t.Errorf("%s: input %q, target %q", what, get(t, in), get(t, target))
		}
		only(t, dir, "in.xlsx", "in.results.xlsx")
	}
	for n := range points {
		what := fmt.Sprintf("full after %d bytes", n*step+n%step)
		final, err := Save(context.Background(), target, []string{in}, func(w io.Writer) error {
			return write(&full{w, n*step + n%step})
		}, nil)
		if !errors.Is(err, errFull) || final != "" {
			t.Errorf("%s: %q, %v", what, final, err)
		}
		unharmed(what)

		ctx, stop := context.WithCancel(context.Background())
		k := 0
		final, err = Save(ctx, target, []string{in}, func(w io.Writer) error {
			return write(writerFunc(func(b []byte) (int, error) {
				if k == n {
					stop()
				}
				k++
				return w.Write(b)
			}))
		}, nil)
		stop()
		if !errors.Is(err, context.Canceled) || final != "" {
			t.Errorf("stopped at %d: %q, %v", n, final, err)
		}
		unharmed("stopped")
	}
	if _, err := Save(context.Background(), target, []string{in}, write, func(string) error { return errFull }); !errors.Is(err, errFull) {
		t.Errorf("a check that fails: %v", err)
	}
	unharmed("a check that fails")

	final, err := Save(context.Background(), target, []string{in}, write, nil)
	if err != nil || final != target || get(t, target) != string(content) || get(t, in) != "input" {
		t.Errorf("the next run: %q, %v", final, err)
	}
	only(t, dir, "in.xlsx", "in.results.xlsx")
}

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(b []byte) (int, error) { return f(b) }

// Files that are written side by side into a new folder do not take each other
// for files left behind.
func TestSideBySideInOneFolder(t *testing.T) {
	for range 300 {
		dir := t.TempDir()
		var wait sync.WaitGroup
		for i := range 4 {
			wait.Go(func() {
				path := filepath.Join(dir, strconv.Itoa(i)+".txt")
				if i%2 == 1 {
					path = filepath.Join(dir, ".") + "/./" + strconv.Itoa(i) + ".txt" // the same folder by another name
				}
				if _, err := Save(context.Background(), path, nil, func(w io.Writer) error {
					_, err := io.WriteString(w, "whole")
					return err
				}, nil); err != nil {
					t.Error(err)
				}
			})
		}
		wait.Wait()
	}
}
