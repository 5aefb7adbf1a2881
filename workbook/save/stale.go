package save

import (
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"syscall"
)

// temporary begins the name of every file that is not finished; behind it
// stand the computer and the process that is at it, so that a later run can
// tell a file that was left behind from one that is being written.
const temporary = ".platebook-"

// naming is held while a temporary file is made and noted, and while those left
// behind are looked for: a file of this process that is not noted is one of a
// process before it that had the same number.
var (
	naming sync.Mutex
	swept  = map[string]bool{} // folders that were looked through
	made   int                 // temporary files of this process so far
	making sync.Map            // temporary files of this process, by their names
)

// unfinishedFile is a file on its way to its name, and the folder it was begun
// in, wherever that goes meanwhile.
type unfinishedFile struct {
	*os.File
	folder *os.Root // nil where the system does not hold it
}

// remove takes it away.
func (f *unfinishedFile) remove() {
	if f.folder == nil || f.folder.Remove(filepath.Base(f.Name())) != nil {
		_ = os.Remove(f.Name())
	}
}

// done forgets it.
func (f *unfinishedFile) done() {
	making.Delete(filepath.Base(f.Name()))
	if f.folder != nil {
		f.folder.Close()
	}
}

// gone says whether the folder is no more where it was.
func (f *unfinishedFile) gone(dir string) bool {
	now, err := os.Stat(dir)
	if err != nil {
		return errors.Is(err, fs.ErrNotExist)
	}
	if f.folder == nil {
		return false
	}
	was, err := f.folder.Stat(".")
	return err == nil && !os.SameFile(now, was)
}

// create makes a temporary file in a folder, which is swept before.
func create(dir, ext string) (*unfinishedFile, error) {
	naming.Lock()
	defer naming.Unlock()
	sweep(dir)
	folder, err := os.OpenRoot(dir)
	if err != nil {
		folder = nil // one may be allowed to write into a folder and not to look into it
	}
	for {
		made++
		f, err := os.OpenFile(filepath.Join(dir, unfinished(made, ext)), os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) && made < mostLeft {
			continue
		}
		if err != nil {
			if folder != nil {
				folder.Close()
			}
			return nil, err
		}
		u := &unfinishedFile{f, folder}
		making.Store(filepath.Base(f.Name()), u)
		return u, nil
	}
}

// mostLeft ends the search for a name that is free.
const mostLeft = 1 << 20

// unfinished is the name of the n-th temporary file of this process.
func unfinished(n int, ext string) string {
	return fmt.Sprintf("%s%s-%d-%d%s", temporary, computer(), os.Getpid(), n, ext)
}

// Abandon removes the temporary files that this process is at: it is about to
// end without finishing them. One that another thread opens meanwhile, or that
// the system does not let go, is swept by a later run.
func Abandon() {
	making.Range(func(_, f any) bool {
		f.(*unfinishedFile).remove()
		return true
	})
}

// computer is a short mark of this computer: a folder may be shared by many.
func computer() string {
	name, err := os.Hostname()
	if err != nil {
		name = "unknown"
	}
	h := fnv.New32a()
	_, _ = h.Write([]byte(name))
	return fmt.Sprintf("%08x", h.Sum32())
}

// sweep removes what a run that was stopped dead left in a folder: temporary
// files of this computer whose process is no more. It looks once in a folder;
// naming is held.
func sweep(dir string) {
	if swept[dir] {
		return
	}
	swept[dir] = true
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), temporary+computer()+"-")
		if !ours || !e.Type().IsRegular() {
			continue
		}
		digits, _, _ := strings.Cut(rest, "-")
		pid, err := strconv.Atoi(digits)
		if err != nil || pid <= 0 {
			continue
		}
		if _, own := making.Load(e.Name()); own || pid != os.Getpid() && alive(pid) {
			continue
		}
		_ = os.Remove(filepath.Join(dir, e.Name()))
	}
}

// alive says whether a process is there, or may be.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false
	}
	defer func() { _ = p.Release() }()
	if runtime.GOOS == "windows" {
		return true // found, so it is there
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || !errors.Is(err, os.ErrProcessDone) && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ESRCH)
}
