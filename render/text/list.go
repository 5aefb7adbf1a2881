package text

import (
	"encoding/csv"
	"io"
)

// List writes a table as CSV. A text that a spreadsheet program would take
// for a formula is kept from it; a number below zero stays one.
func List(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, s := range row {
			cells[i] = s
			if !isNumber(s) {
				cells[i] = safe(s)
			}
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func isNumber(s string) bool {
	digits := false
	for i, r := range s {
		switch {
		case r >= '0' && r <= '9':
			digits = true
		case r == '-' && i == 0, r == '.':
		default:
			return false
		}
	}
	return digits
}
