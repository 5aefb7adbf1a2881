package xlsx

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"platebook/rules/finding"
)

// Open reads a file into memory and its parts list, styles, shared texts and
// properties into a Book; sheets are read when asked for. What is not a
// workbook is told by its content: the error is a *finding.Unusable with F101
// to F107.
func Open(path string) (*Book, error) {
	name := filepath.Base(path)
	if strings.HasPrefix(name, "~$") {
		return nil, &finding.Unusable{Rule: "F102", Message: name + " only marks an open workbook", Do: "Give " + strings.TrimPrefix(name, "~$") + "."}
	}
	data, info, err := load(path, name)
	if err != nil {
		return nil, err
	}
	b, err := OpenBytes(name, data)
	if b != nil {
		b.Path, b.info = path, info
	}
	return b, err
}

// Changed says that another file stands in the place of the one that was read,
// or that it was written since.
func (b *Book) Changed() bool {
	if b.info == nil {
		return false
	}
	now, err := os.Stat(b.Path)
	return err != nil || !os.SameFile(now, b.info) || written(now, b.info)
}

func written(a, b fs.FileInfo) bool { return a.Size() != b.Size() || !a.ModTime().Equal(b.ModTime()) }

func load(path, name string) ([]byte, fs.FileInfo, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, cannotOpen(name, err)
	}
	switch {
	case info.IsDir():
		return nil, nil, noWorkbook(name+" is a folder", "Give the workbook in it, or the folder to `platebook batch`.")
	case !info.Mode().IsRegular():
		return nil, nil, noWorkbook(name+" is no file", orMake)
	case info.Size() > MaxUnpacked:
		return nil, nil, tooLarge("is " + size(uint64(info.Size())) + " long, limit 512 MB")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, cannotOpen(name, err)
	}
	defer f.Close()
	return readWhole(f, name)
}

// readWhole reads a file that nobody writes meanwhile: what is half old and
// half new would be told as damaged, or worse not at all.
func readWhole(f *os.File, name string) ([]byte, fs.FileInfo, error) {
	before, err := f.Stat()
	if err != nil {
		return nil, nil, cannotOpen(name, err)
	}
	data := make([]byte, before.Size(), before.Size()+512)
	n, err := io.ReadFull(f, data)
	if err == nil {
		var more int
		more, err = f.Read(data[n:cap(data)])
		data = data[:n+more]
	}
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, nil, cannotOpen(name, err)
	}
	after, err := f.Stat()
	if err != nil {
		return nil, nil, cannotOpen(name, err)
	}
	if int64(len(data)) != after.Size() || n != int(before.Size()) || written(before, after) {
		return nil, nil, &finding.Unusable{Rule: "F101", Message: name + " was written while it was read", Do: "Wait until it is saved or copied completely, run again."}
	}
	return data, before, nil
}

func cannotOpen(name string, err error) error {
	u := &finding.Unusable{Rule: "F101", Err: err}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		u.Message, u.Do = name+" was not found", "Check the name and the folder."
	case errors.Is(err, fs.ErrPermission):
		u.Message, u.Do = "no right to read "+name, "Ask for the right, or copy it to a folder of your own."
	default:
		u.Message, u.Do = name+" is open in another program", "Close it there, run again."
		var p *fs.PathError
		if errors.As(err, &p) && !held(p.Err) {
			u.Message, u.Do = name+" cannot be read: "+p.Err.Error(), "Copy it to this computer, run again."
		}
	}
	return u
}

// held says whether the system's reason is that another program holds the
// file: Windows error 32 (sharing) or 33 (lock).
func held(err error) bool {
	s := err.Error()
	return strings.Contains(s, "being used by another process") || strings.Contains(s, "locked a portion")
}

// OpenBytes is Open for a file that is in memory already.
func OpenBytes(name string, data []byte) (*Book, error) {
	if err := sniff(name, data); err != nil {
		return nil, err
	}
	p, err := newPack(name, data)
	if err != nil {
		return nil, err
	}
	if err := sniffZip(p, name); err != nil {
		return nil, err
	}
	sum := sha256.Sum256(data)
	b := &Book{Name: name, Size: int64(len(data)), SHA256: hex.EncodeToString(sum[:]), pkg: p}
	if err := b.readParts(); err != nil {
		return nil, err
	}
	return b, nil
}
