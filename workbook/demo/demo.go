// Package demo writes invented workbooks: an example to look at and to run, a
// second one with deliberate mistakes, and large ones for load tests. Nothing
// in them is real, and the workbooks say so.
package demo

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"

	"platebook/rules/unit"
	"platebook/workbook/form"
	"platebook/workbook/save"
)

// Book is an invented workbook with its pictures.
type Book struct {
	form.Book
	Photos []Photo
}

// Photo is a picture beside a workbook, in its photos folder.
type Photo struct {
	Name string
	draw func() []byte
}

// JPEG is the picture's file.
func (p Photo) JPEG() []byte { return p.draw() }

// The names of the files that Write writes.
const (
	SIName       = "example-si.xlsx"
	USName       = "example-us.xlsx"
	MistakesName = "example-mistakes.xlsx"
	PhotoFolder  = "photos"
)

// Write writes the example in SI and in US units, the one with mistakes, and
// their pictures into a folder, and gives the paths of the three workbooks as
// they were named: a workbook that is there already is never replaced, the
// new one gets a numbered name beside it.
func Write(ctx context.Context, dir string) (paths []string, err error) {
	si, err := Example(unit.SI)
	if err != nil {
		return nil, err
	}
	us, err := Example(unit.US)
	if err != nil {
		return nil, err
	}
	bad, _, err := Mistakes()
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Join(dir, PhotoFolder), 0o755); err != nil {
		return nil, err
	}
	for _, p := range si.Photos {
		if err := writePhoto(ctx, filepath.Join(dir, PhotoFolder, p.Name), p.JPEG()); err != nil {
			return nil, err
		}
	}
	for _, b := range []struct {
		name string
		book Book
	}{{SIName, si}, {USName, us}, {MistakesName, bad}} {
		path := filepath.Join(dir, b.name)
		final, err := save.Save(ctx, path, []string{path}, func(w io.Writer) error { return b.book.Write(w) }, nil)
		if err != nil {
			return paths, err
		}
		paths = append(paths, final)
	}
	return paths, nil
}

// writePhoto writes a picture, unless the same one is there already.
func writePhoto(ctx context.Context, path string, data []byte) error {
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, data) {
		return nil
	}
	_, err := save.Save(ctx, path, []string{path}, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}, nil)
	return err
}
