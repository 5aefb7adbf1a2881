package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"golang.org/x/text/unicode/norm"

	"platebook/rules/filename"
)

// folder is the folder beside a workbook in which photos are looked for too.
const folder = "photos"

// ErrNotFound says that a file is in neither place.
var ErrNotFound = errors.New("not found beside the workbook or in its photos folder")

// Find is the path of a photo named in a workbook: relative to the workbook's
// folder, or to the photos folder in it. A name that leads elsewhere is
// refused with the reason, also through links, since a workbook comes from
// other people. Upper and lower case may differ when only one file fits.
func Find(dir, name string) (string, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return "", fmt.Errorf("folder %s: %w", filepath.Base(dir), err)
	}
	defer root.Close()
	found, err := find(root, name)
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, filepath.FromSlash(found)), nil
}

// find is the name within root.
func find(root *os.Root, name string) (string, error) {
	rel, err := Local(name)
	if err != nil {
		return "", fmt.Errorf("%q %w", name, err)
	}
	var refused error
	for _, place := range []string{rel, path.Join(folder, rel)} {
		got, err := match(root, place)
		if err == nil {
			return got, nil
		}
		if refused == nil && !errors.Is(err, fs.ErrNotExist) {
			refused = err
		}
	}
	if refused != nil {
		return "", fmt.Errorf("%s %w", name, refused)
	}
	return "", fmt.Errorf("%s %w", name, ErrNotFound)
}

// Local turns the name of a file, as a workbook tells it, into a clean path
// with slashes that stays in the workbook's folder, or says why it does not:
// Advice puts that into words. A name that one system would take for something
// else than the others do is refused on all of them, so that a job does the
// same on every machine.
func Local(name string) (string, error) {
	s := strings.ReplaceAll(strings.TrimSpace(name), `\`, "/")
	switch {
	case s == "":
		return "", &unfit{"is an empty name", beside}
	case strings.HasPrefix(s, "/"):
		return "", &unfit{"is an absolute path: only files in the workbook's folder are read", beside}
	}
	for _, part := range strings.Split(s, "/") {
		if part == ".." {
			return "", errOutside
		}
		why := ""
		if part != "." {
			why = filename.Odd(part)
		}
		switch {
		case why == "":
		case strings.ContainsRune(part, ':') && !filename.Control(part):
			return "", &unfit{why, beside}
		default:
			return "", &unfit{why, plainName}
		}
	}
	s = path.Clean(s)
	if s == "." {
		return "", errFolder
	}
	if !filepath.IsLocal(filepath.FromSlash(s)) {
		return "", errOutside
	}
	return s, nil
}

// odd is why what is there is no file to be read.
func odd(info fs.FileInfo) error {
	if info.IsDir() {
		return errFolder
	}
	return errPlain
}

// neverThere says of a path that no file on Windows has it: that system says so
// in its own way, where others say that nothing is there.
func neverThere(name string) bool {
	return slices.ContainsFunc(strings.Split(name, "/"), filename.Barred)
}

// match finds a plain file, letter for letter or else whatever its case and
// whether accents stand in its letters or behind them: a file that comes from a
// Mac has them behind, what a person types mostly not.
func match(root *os.Root, name string) (string, error) {
	info, err := root.Stat(name)
	if err == nil {
		if !info.Mode().IsRegular() {
			return "", odd(info)
		}
		return name, nil
	}
	if !errors.Is(err, fs.ErrNotExist) && !neverThere(name) {
		return "", outside(err)
	}
	at := "."
	for _, part := range strings.Split(name, "/") {
		d, err := root.Open(at)
		if err != nil {
			return "", fs.ErrNotExist
		}
		names, err := d.Readdirnames(-1)
		d.Close()
		if err != nil {
			return "", fs.ErrNotExist
		}
		hit, n := "", 0
		for _, have := range names {
			if have == part {
				hit, n = have, 1
				break
			}
			if strings.EqualFold(norm.NFC.String(have), norm.NFC.String(part)) {
				hit = have
				n++
			}
		}
		if n == 0 {
			return "", fs.ErrNotExist
		}
		if n > 1 {
			return "", &unfit{fmt.Sprintf("is the name of %d files, which differ only in upper and lower case or in how accents are stored", n), "Give each file a name of its own."}
		}
		at = path.Join(at, hit)
	}
	info, err = root.Stat(at)
	switch {
	case err != nil:
		return "", outside(err)
	case !info.Mode().IsRegular():
		return "", odd(info)
	}
	return at, nil
}

// outside is why a name that is there, or may be, cannot be looked at.
func outside(err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return errRight
	case errors.Is(err, syscall.ENAMETOOLONG), errors.Is(err, syscall.ENOTDIR):
		return fs.ErrNotExist
	}
	return errLink
}
