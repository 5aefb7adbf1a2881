package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"platebook/render/text"
	"platebook/rules/finding"
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

// renamed tells why the results workbook got another name than the usual one.
func (j *job) renamed(made []text.Output) {
	for _, o := range made {
		if o.Kind != "xlsx" || j.target == "" || filepath.Base(o.File) == filepath.Base(j.target) {
			continue
		}
		why := j.kept
		if why == "" {
			why = filepath.Base(j.target) + " could not be replaced: it is open in another program or protected"
			a, err := os.Stat(j.target)
			b, berr := os.Stat(j.path)
			if err == nil && berr == nil && os.SameFile(a, b) {
				why = filepath.Base(j.target) + " is the input, which is never written over"
			}
		}
		j.t.say("%s; the results stand in %s", why, filepath.Base(o.File))
	}
}

// whatToDo is a person's next step when an output could not be written.
func whatToDo(err error) string {
	switch {
	case errors.Is(err, syscall.ENOSPC):
		return "Free some room on the disk, run again; the input is unharmed."
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "Give the file a shorter name, run again."
	case errors.Is(err, fs.ErrNotExist):
		return "Make the folder first, run again."
	case errors.Is(err, fs.ErrPermission):
		return "Write into a folder of your own: --out DIR."
	}
	return "Look at the folder, or write into another: --out DIR; the input is unharmed."
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
