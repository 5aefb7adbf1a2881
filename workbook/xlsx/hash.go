package xlsx

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"

	"platebook/workbook/cell"
)

// ValuesHash is the SHA-256 of the values of the given sheets, in the given
// order, independent of styles, of the order of the zip entries and of the
// program that saved the file. Of a formula its stored value counts, its text
// only when it has none; blank cells do not count.
func (b *Book) ValuesHash(sheets []string) (string, error) {
	h := sha256.New()
	var line []byte
	for _, name := range sheets {
		s := b.Sheet(name)
		if s == nil {
			return "", fmt.Errorf("no sheet %q", name)
		}
		g, err := s.Read()
		if err != nil {
			return "", err
		}
		line = strconv.AppendQuote(append(line[:0], "sheet "...), name)
		h.Write(append(line, '\n'))
		for _, row := range g.Rows {
			for _, c := range row.Cells {
				if c.IsBlank() {
					continue
				}
				line = strconv.AppendInt(line[:0], int64(row.Number), 10)
				line = strconv.AppendInt(append(line, ' '), int64(c.Col), 10)
				line = append(line, ' ', '0'+byte(c.Type), ' ')
				if c.Type == cell.Number || c.Type == cell.Bool {
					v := c.Number
					if b.Date1904 && c.Format == cell.Date {
						v += 1462
					}
					line = strconv.AppendFloat(line, v, 'g', -1, 64)
				} else {
					line = strconv.AppendQuote(line, c.Text)
				}
				if c.NoStored {
					line = strconv.AppendQuote(append(line, " ="...), c.Formula)
				}
				h.Write(append(line, '\n'))
			}
		}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
