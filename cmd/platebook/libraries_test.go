package main

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/phpdave11/gofpdf"
	"github.com/xuri/excelize/v2"

	"platebook/workbook/demo"
)

// libraryStages are what the libraries alone need for the reading and writing
// of a job that was run in dir before: excelize reads the input and writes
// the cells of the result sheets, live formulas among them, into a copy by its
// stream writer; gofpdf writes the words of the largest sheet on the report's
// number of pages; the photos are decoded. Nothing is checked, calculated,
// drawn or laid out.
func libraryStages(tb testing.TB, path string, pages int) []stage {
	tb.Helper()
	sheets := resultCells(tb, path)
	dir := filepath.Dir(path)
	photos, err := os.ReadDir(filepath.Join(dir, demo.PhotoFolder))
	if err != nil {
		tb.Fatal(err)
	}
	return []stage{
		{"excelize reads the input", func() error { return readAll(path) }},
		{"excelize writes the result sheets", func() error { return writeAll(path, filepath.Join(dir, "copy.xlsx"), sheets) }},
		{"gofpdf writes the pages", func() error { return printAll(sheets, pages) }},
		{"image/jpeg decodes the photos", func() error {
			for _, p := range photos {
				data, err := os.ReadFile(filepath.Join(dir, demo.PhotoFolder, p.Name()))
				if err != nil {
					return err
				}
				if _, err := jpeg.Decode(bytes.NewReader(data)); err != nil {
					return err
				}
			}
			return nil
		}},
	}
}

func readAll(path string) error {
	f, err := excelize.OpenFile(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, name := range f.GetSheetList() {
		rows, err := f.Rows(name)
		if err != nil {
			return err
		}
		for rows.Next() {
			if _, err := rows.Columns(excelize.Options{RawCellValue: true}); err != nil {
				return err
			}
		}
		if err := rows.Error(); err != nil {
			return err
		}
	}
	return nil
}

// resultSheet is the cells of a result sheet.
type resultSheet struct {
	name string
	rows [][]any
}

// resultCells reads the result sheets back: numbers, texts and formulas.
func resultCells(tb testing.TB, path string) []resultSheet {
	tb.Helper()
	input, err := excelize.OpenFile(path)
	if err != nil {
		tb.Fatal(err)
	}
	defer input.Close()
	mine := map[string]bool{}
	for _, name := range input.GetSheetList() {
		mine[name] = true
	}
	f, err := excelize.OpenFile(filepath.Join(filepath.Dir(path), "big.results.xlsx"))
	if err != nil {
		tb.Fatal(err)
	}
	defer f.Close()
	var out []resultSheet
	for _, name := range f.GetSheetList() {
		if mine[name] {
			continue
		}
		values, err := f.GetRows(name, excelize.Options{RawCellValue: true})
		if err != nil {
			tb.Fatal(err)
		}
		s := resultSheet{name: name}
		for r, row := range values {
			cells := make([]any, len(row))
			for c, v := range row {
				cells[c] = v
				if n, err := strconv.ParseFloat(v, 64); err == nil {
					cells[c] = n
				}
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if formula, err := f.GetCellFormula(name, at); err == nil && formula != "" {
					cells[c] = excelize.Cell{Formula: formula, Value: cells[c]}
				}
			}
			s.rows = append(s.rows, cells)
		}
		out = append(out, s)
	}
	if len(out) < 5 {
		tb.Fatalf("only %d result sheets", len(out))
	}
	return out
}

func writeAll(path, copy string, sheets []resultSheet) error {
	f, err := excelize.OpenFile(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, s := range sheets {
		if _, err := f.NewSheet(s.name); err != nil {
			return err
		}
		w, err := f.NewStreamWriter(s.name)
		if err != nil {
			return err
		}
		for r, cells := range s.rows {
			at, _ := excelize.CoordinatesToCellName(1, r+1)
			if err := w.SetRow(at, cells); err != nil {
				return err
			}
		}
		if err := w.Flush(); err != nil {
			return err
		}
	}
	return f.SaveAs(copy)
}

// printAll sets the words of the longest sheet on a number of pages.
func printAll(sheets []resultSheet, pages int) error {
	longest := sheets[0]
	for _, s := range sheets {
		if len(s.rows) > len(longest.rows) {
			longest = s
		}
	}
	font, err := os.ReadFile(filepath.Join("..", "..", "templates", "fonts", "LiberationSans-Regular.ttf"))
	if err != nil {
		return err
	}
	f := gofpdf.New("P", "mm", "A4", "")
	f.AddUTF8FontFromBytes("sans", "", font)
	f.SetFont("sans", "", 7)
	perPage := (len(longest.rows) + pages - 1) / pages
	for i, row := range longest.rows {
		if i%perPage == 0 {
			f.AddPage()
		}
		y := 20 + float64(i%perPage)*4
		for c, cell := range row {
			if v, ok := cell.(excelize.Cell); ok {
				cell = v.Value
			}
			f.Text(15+float64(c)*8, y, fmt.Sprint(cell))
		}
	}
	return f.Output(io.Discard)
}
