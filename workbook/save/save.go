// Package save writes files so that nobody loses data: never over an input,
// never in part, and never silently somewhere else.
package save

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/natefinch/atomic"

	"platebook/rules/filename"
	"platebook/rules/finding"
)

// most is how many numbered names are tried beside a target.
const most = 99

// Save writes a file. write fills a temporary file in the target's folder,
// which is synced, checked by verify (nil: not checked) and then renamed.
//
// When the target cannot be replaced (it is open elsewhere, or is one of the
// inputs, also through a link) the file gets a numbered name beside it,
// NAME (2).xlsx; final is the name it got, for the message, and Kept tells why.
// On an error or when ctx ends nothing is left behind and the old target is
// untouched, also when the folder is moved meanwhile (ErrGone).
func Save(ctx context.Context, path string, inputs []string, write func(io.Writer) error, verify func(path string) error) (final string, err error) {
	if err := ctx.Err(); err != nil {
		return "", err
	}
	dir, base := filepath.Split(path)
	if dir == "" {
		dir = "."
	}
	if err := nameable(base, runtime.GOOS == "windows"); err != nil {
		return "", err
	}
	tmp, err := create(dir, filepath.Ext(base))
	if err != nil {
		return "", fmt.Errorf("writing into %s: %w", filepath.Clean(dir), bare(err))
	}
	defer func() {
		tmp.Close()
		if final == "" {
			if tmp.gone(dir) && ctx.Err() == nil {
				err = fmt.Errorf("writing %s: the folder %s %w", base, filepath.ToSlash(filepath.Clean(dir)), ErrGone)
			}
			tmp.remove()
		}
		tmp.done()
	}()
	if err := write(&stopping{ctx, tmp}); err != nil {
		return "", fmt.Errorf("writing %s: %w", base, err)
	}
	if err := tmp.Sync(); err != nil {
		return "", fmt.Errorf("writing %s: %w", base, bare(err))
	}
	if err := tmp.Close(); err != nil {
		return "", fmt.Errorf("writing %s: %w", base, bare(err))
	}
	if verify != nil {
		if err := verify(tmp.Name()); err != nil {
			return "", fmt.Errorf("checking %s after writing: %w", base, err)
		}
	}
	if err := ctx.Err(); err != nil {
		return "", err
	}
	return place(tmp.Name(), path, inputs)
}

// ErrGone says that the folder of a file is not where it was when the file was
// begun.
var ErrGone = errors.New("was removed or renamed meanwhile")

// nameable refuses a name under which a file would not be a file of its own: on
// Windows a device, a stream in another file, perhaps the input, or one whose
// end is dropped. Elsewhere it is a name as any other.
func nameable(base string, windows bool) error {
	if !windows {
		return nil
	}
	why := filename.Odd(base)
	if why == "" && filename.Barred(base) {
		why = "holds a letter that no file has, or too many of them"
	}
	if why == "" {
		return nil
	}
	return &finding.Unusable{Message: fmt.Sprintf("%q cannot be written: it %s", base, why), Do: "Give the workbook another name, run again."}
}

// place moves the finished file to the first name that can be taken.
func place(tmp, path string, inputs []string) (string, error) {
	var last error
	for n := 1; n <= most; n++ {
		target := numbered(path, n)
		switch free, err := mayReplace(target, inputs); {
		case err != nil:
			last = err
			continue
		case !free:
			continue
		}
		if n > 1 && exists(target) {
			continue // a numbered file of another day is not ours to replace
		}
		if last = keepMode(tmp, target); last != nil {
			continue
		}
		if last = move(tmp, target, n > 1); last == nil {
			syncDir(filepath.Dir(target))
			return target, nil
		}
	}
	if last == nil {
		last = errors.New("every name beside it is taken")
	}
	return "", fmt.Errorf("writing %s: %w", filepath.Base(path), bare(last))
}

// move gives a finished file its name. A name that must be new is taken as a
// second name of the file first, which fails when another program took it
// meanwhile; a file system without second names is trusted with the look that
// was taken.
func move(tmp, target string, isNew bool) error {
	if isNew {
		switch err := os.Link(tmp, target); {
		case err == nil:
			return os.Remove(tmp)
		case errors.Is(err, fs.ErrExist), exists(target):
			return err
		}
	}
	return atomic.ReplaceFile(tmp, target)
}

// numbered is NAME (2).xlsx for n = 2 and the path itself for n = 1.
func numbered(path string, n int) string {
	if n == 1 {
		return path
	}
	ext := filepath.Ext(path)
	return fmt.Sprintf("%s (%d)%s", strings.TrimSuffix(path, ext), n, ext)
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return err == nil
}

// mayReplace says whether a target may be written: it is not there, or it is
// a plain file that is none of the inputs, neither by name nor through a
// symbolic or hard link.
func mayReplace(target string, inputs []string) (bool, error) {
	why, err := kept(target, inputs)
	return why == "" && err == nil, err
}

// Kept is why a target is left as it is and a file got a numbered name beside
// it, to be read behind its name.
func Kept(target string, inputs []string) string {
	if why, _ := kept(target, inputs); why != "" {
		return why
	}
	return held
}

const held = "could not be replaced: it is open in another program or protected"

func kept(target string, inputs []string) (why string, err error) {
	link, err := os.Lstat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil // nothing there that could be lost, an input neither
	}
	if err != nil {
		return "", err
	}
	switch mode := link.Mode(); {
	case mode.IsDir():
		return "is a folder", nil
	case !mode.IsRegular() && mode&fs.ModeSymlink == 0:
		return "is a pipe or a device", nil
	}
	info, err := os.Stat(target)
	switch {
	case err != nil:
		return "is a link that leads nowhere, which is not this program's to break", nil
	case info.IsDir():
		return "is a link to a folder", nil
	case !info.Mode().IsRegular():
		return "is a link to a pipe or a device", nil
	}
	for i, in := range inputs {
		other, err := os.Stat(in)
		if err == nil && os.SameFile(info, other) || sameName(target, in) {
			if i == 0 {
				return "is the input, which is never written over", nil
			}
			return "is another file of this run, which is not written over", nil
		}
	}
	if !writable(target) {
		return held, nil
	}
	return "", nil
}

func sameName(target, input string) bool {
	t, err := filepath.Abs(target)
	i, ierr := filepath.Abs(input)
	return err == nil && ierr == nil && t == i
}

// writable says whether the old target can be opened for writing: a file that
// another program holds, or that is protected, stays as it is.
func writable(target string) bool {
	f, err := os.OpenFile(target, os.O_WRONLY, 0)
	if err != nil {
		return false
	}
	return f.Close() == nil
}

// keepMode gives a file the rights of the old target. Without one it has those
// of any new file, as the person's umask says.
func keepMode(tmp, target string) error {
	info, err := os.Stat(target)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	return os.Chmod(tmp, info.Mode().Perm())
}

// syncDir makes the new name itself last through a power cut, where the
// system can do that.
func syncDir(dir string) {
	if d, err := os.Open(dir); err == nil {
		_ = d.Sync()
		d.Close()
	}
}

// bare takes the temporary file's name out of an error: nobody knows it.
func bare(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// stopping ends the writing when the context ends, and says what is wrong with
// it in few words.
type stopping struct {
	ctx context.Context
	w   io.Writer
}

func (s *stopping) Write(b []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := s.w.Write(b)
	if err != nil {
		err = bare(err) // the name it has until it is whole says nothing to a person
	}
	return n, err
}
