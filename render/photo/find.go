package photo

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
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
	rel, err := local(name)
	if err != nil {
		return "", err
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
		return "", fmt.Errorf("%s: %w", name, refused)
	}
	return "", fmt.Errorf("%s: %w", name, ErrNotFound)
}

// local turns a name into a clean relative path with slashes, or says why it
// is none.
func local(name string) (string, error) {
	s := strings.ReplaceAll(strings.TrimSpace(name), `\`, "/")
	refuse := func(why string) (string, error) { return "", fmt.Errorf("%q is refused: %s", name, why) }
	switch {
	case s == "":
		return refuse("the name is empty")
	case strings.HasPrefix(s, "/"):
		return refuse("only files beside the workbook are read, not absolute paths")
	case strings.ContainsRune(s, ':'):
		return refuse("a colon stands for a drive or a stream, not a file beside the workbook")
	}
	for _, r := range s {
		if r < ' ' || r == 0x7F {
			return refuse("the name holds a control character")
		}
	}
	for _, part := range strings.Split(s, "/") {
		if part == ".." {
			return refuse("the path leaves the workbook's folder")
		}
		if device(part) {
			return refuse("the name is a device, not a file")
		}
	}
	s = path.Clean(s)
	if s == "." || !filepath.IsLocal(filepath.FromSlash(s)) {
		return refuse("the path leaves the workbook's folder")
	}
	return s, nil
}

// device says whether Windows takes a name for a device, with any extension;
// refused everywhere, so that a job does the same on every machine.
func device(part string) bool {
	base, _, _ := strings.Cut(part, ".")
	base = strings.ToUpper(strings.TrimRight(base, " "))
	switch base {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	if n := strings.TrimPrefix(strings.TrimPrefix(base, "COM"), "LPT"); n != base {
		return len([]rune(n)) == 1 && strings.ContainsAny(n, "0123456789¹²³")
	}
	return false
}

// match finds a plain file, letter for letter or else whatever its case.
func match(root *os.Root, name string) (string, error) {
	info, err := root.Stat(name)
	if err == nil {
		if !info.Mode().IsRegular() {
			return "", errors.New("refused: this is not a plain file")
		}
		return name, nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return "", errors.New("refused: the path leaves the workbook's folder or cannot be read")
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
			if strings.EqualFold(have, part) {
				hit = have
				n++
			}
		}
		if n == 0 {
			return "", fs.ErrNotExist
		}
		if n > 1 {
			return "", fmt.Errorf("%d files differ from it only in upper and lower case", n)
		}
		at = path.Join(at, hit)
	}
	info, err = root.Stat(at)
	if err != nil || !info.Mode().IsRegular() {
		return "", errors.New("refused: this is not a plain file in the workbook's folder")
	}
	return at, nil
}
