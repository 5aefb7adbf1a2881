package workbook

import (
	"io"

	"platebook/rules/unit"
	"platebook/workbook/form"
)

// BlankOptions say what a blank workbook is for.
type BlankOptions = form.Options

// Blank writes a workbook for people to fill in.
func Blank(w io.Writer, o BlankOptions) error { return form.Write(w, o) }

// ParseSize reads a size such as 30m, 100ft, 1.8x6m or 6x20ft.
func ParseSize(text string) ([]unit.Length, error) { return form.ParseSize(text) }
