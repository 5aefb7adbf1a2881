package xlsx

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strconv"

	"platebook/workbook/cell"
)

// ValuesHash is the SHA-256 of the values of the given sheets, in the given
// order, independent of styles, of the order of the zip entries and of the
// program that saved the file. Of a formula its stored value counts, its text
// only when it has none; blank cells do not count.
func (b *Book) ValuesHash(sheets []string) (string, error) {
	h := sha256.New()
	for _, name := range sheets {
		s := b.Sheet(name)
		if s == nil {
			return "", fmt.Errorf("no sheet %q", name)
		}
		if err := s.hash(h); err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// ValuesHash is Book.ValuesHash of this sheet alone. It is kept: a sheet's
// cells need not be in memory for it.
func (s *Sheet) ValuesHash() (string, error) {
	if s.sum == "" {
		if err := s.hash(io.Discard); err != nil {
			return "", err
		}
	}
	return s.sum, nil
}

// hash writes the values to w as they are hashed, and keeps their own hash.
func (s *Sheet) hash(w io.Writer) error {
	g, err := s.Read()
	if err != nil {
		return err
	}
	own := sha256.New()
	var prints fingerprints
	line := append(strconv.AppendQuote([]byte("sheet "), s.Name), '\n')
	for _, row := range g.Rows {
		for _, c := range row.Cells {
			if c.IsBlank() {
				continue
			}
			line = strconv.AppendInt(line, int64(row.Number), 10)
			line = strconv.AppendInt(append(line, ' '), int64(c.Col), 10)
			value := len(line)
			line = append(line, ' ', '0'+byte(c.Type), ' ')
			if c.Type == cell.Number || c.Type == cell.Bool {
				v := c.Number
				if s.book.Date1904 && c.Format == cell.Date {
					v += 1462
				}
				line = strconv.AppendFloat(line, v, 'g', -1, 64)
			} else {
				line = strconv.AppendQuote(line, c.Text)
			}
			if c.NoStored {
				line = strconv.AppendQuote(append(line, " ="...), c.Formula)
			}
			line = append(line, '\n')
			prints.put(row.Number, c.Col, line[value:])
		}
		if len(line) >= streamed {
			own.Write(line)
			w.Write(line)
			line = line[:0]
		}
	}
	own.Write(line)
	w.Write(line)
	s.sum, s.prints = hex.EncodeToString(own.Sum(nil)), prints.out
	return nil
}
