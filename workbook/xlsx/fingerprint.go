package xlsx

import (
	"errors"
	"strconv"
	"strings"
)

// fingerprints collects the values of a sheet in few letters.
type fingerprints struct {
	out      []byte
	row, col int
}

const printLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

// Printed is a row of a sheet as Fingerprints tells it: three letters for each
// cell from column A, "" for one that holds nothing.
type Printed struct {
	Row   int
	Cells []string
}

// put adds a cell; they come row by row, from the left. Its three letters are
// 18 bits of its FNV-1a hash: of 260,000 changes one goes unseen.
func (f *fingerprints) put(row, col int, value []byte) {
	if row != f.row {
		if f.row > 0 {
			f.out = append(f.out, ' ')
		}
		f.out = append(strconv.AppendInt(f.out, int64(row), 10), ':')
		f.row, f.col = row, 0
	}
	for f.col++; f.col < col; f.col++ {
		f.out = append(f.out, '.')
	}
	h := uint64(14695981039346656037)
	for _, c := range value {
		h = (h ^ uint64(c)) * 1099511628211
	}
	h ^= h >> 36
	f.out = append(f.out, printLetters[h&63], printLetters[h>>6&63], printLetters[h>>12&63])
}

// Fingerprints gives the values of the sheet in three letters a cell, as they
// count for ValuesHash: for each row its number, a colon and its cells from
// column A, a full stop for one without a value; rows with a blank between.
func (s *Sheet) Fingerprints() (string, error) {
	if _, err := s.ValuesHash(); err != nil {
		return "", err
	}
	return string(s.prints), nil
}

// ParseFingerprints takes apart what Fingerprints gave.
func ParseFingerprints(text string) ([]Printed, error) {
	var rows []Printed
	for _, word := range strings.Fields(text) {
		number, cells, ok := strings.Cut(word, ":")
		row, err := strconv.Atoi(number)
		if !ok || err != nil {
			return nil, errors.New("fingerprints without the number of a row")
		}
		p := Printed{Row: row}
		for cells != "" {
			n := 3
			if cells[0] == '.' {
				n = 1
			}
			if len(cells) < n {
				return nil, errors.New("fingerprints that break off")
			}
			cell := ""
			if n == 3 {
				cell = cells[:3]
			}
			p.Cells, cells = append(p.Cells, cell), cells[n:]
		}
		rows = append(rows, p)
	}
	return rows, nil
}
