package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"

	"platebook/render/text"
	"platebook/rules/finding"
	"platebook/workbook/save"
)

// targetOf is the results workbook of an input, in dir or beside it.
func targetOf(path, dir string) string {
	if dir == "" {
		dir = filepath.Dir(path)
	}
	return filepath.Join(dir, stem(path)) + ".results.xlsx"
}

// outputsAt are the files that a run has written under a name.
func outputsAt(base string) []string {
	entries, err := os.ReadDir(filepath.Dir(base))
	if err != nil {
		return nil
	}
	var list []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), filepath.Base(base)+".") {
			list = append(list, filepath.Join(filepath.Dir(base), e.Name()))
		}
	}
	return list
}

// besideTarget is the name of an output that could not take its usual one.
var besideTarget = regexp.MustCompile(` \(\d+\)(\.[a-z]+)$`)

// renamed tells why an output got another name than the usual one, and that
// the workbook is not any more what the outputs were made from.
func (j *job) renamed(made []text.Output) {
	if len(made) > 0 && j.book.File.Changed() {
		j.t.say("%s was changed or replaced since it was read: the outputs are of the file with the SHA-256 %s; run again for what is there now", j.book.File.Name, j.book.File.SHA256)
	}
	for _, o := range made {
		if !besideTarget.MatchString(o.File) {
			continue
		}
		usual := besideTarget.ReplaceAllString(o.File, "$1")
		what := map[string]string{"xlsx": "the results stand", "pdf": "the report stands", "html": "the floor page stands", "json": "the document stands", "csv": "the list stands"}[o.Kind]
		why := j.kept
		if why == "" || o.Kind != "xlsx" {
			why = filepath.Base(usual) + " " + save.Kept(usual, j.inputs())
		}
		j.t.say("%s; %s in %s", why, what, filepath.Base(o.File))
	}
}

// whatToDo is a person's next step when an output could not be written.
func whatToDo(err error) string {
	switch reason := whyNot(err, runtime.GOOS == "windows"); {
	case reason == noRoom:
		return "Free some room on the disk, run again; the input is unharmed."
	case reason == tooLong:
		return "Give the file a shorter name, run again."
	case errors.Is(err, save.ErrGone):
		return "Look where the folder went, run again; the input is unharmed."
	case errors.Is(err, fs.ErrNotExist):
		return "Make the folder first, run again."
	case reason == noRight:
		return "Write into a folder of your own: --out DIR; the input is unharmed."
	}
	return "Look at the folder, or write into another: --out DIR; the input is unharmed."
}

// The reasons of a system that something could not be written.
const (
	noRoom = iota + 1
	tooLong
	noRight
)

// whyNot tells them from an error, 0 for another.
//
// Source: Microsoft, “System Error Codes”: 19 write protected, 39 and 112 disk
// full, 206 name too long, 1295 quota.
func whyNot(err error, windows bool) int {
	number := syscall.Errno(0)
	errors.As(err, &number)
	if windows {
		switch number {
		case 39, 112, 1295:
			return noRoom
		case 206:
			return tooLong
		case 19:
			return noRight
		}
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return noRoom
	case errors.Is(err, syscall.ENAMETOOLONG):
		return tooLong
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return noRight
	}
	return 0
}

// makeFolder makes the folder that outputs go to, with all above it.
func makeFolder(dir string) error {
	err := os.MkdirAll(dir, 0o777)
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		if info, serr := os.Stat(p.Path); serr == nil && !info.IsDir() {
			return &finding.Unusable{Message: filepath.ToSlash(p.Path) + " is a file, no folder for outputs", Do: "Name a folder: --out DIR.", Err: err}
		}
		err = p.Err
	}
	if err != nil {
		return fmt.Errorf("the folder %s cannot be made: %w", filepath.ToSlash(dir), err)
	}
	return nil
}
