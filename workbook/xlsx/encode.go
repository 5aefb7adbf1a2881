package xlsx

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"platebook/rules/finding"
)

// MaxLetters is the most letters a cell may hold.
//
// Source: ECMA-376 1st ed. Part 4, 3.18.96 and the limits every spreadsheet
// program publishes.
const MaxLetters = 32767

// rowsXML writes the rows of a sheet as XML. Texts stand in their cells, so
// that sheets can be added to a file without touching its shared texts; a
// formula stands with its stored value in the value's own type. offset is added
// to the numbers of the styles.
func rowsXML(out *stream, s *NewSheet, p *palette, offset int) {
	out.b = append(out.b, "<sheetData>"...)
	for row := range s.all() {
		if len(row.cells) == 0 && row.height == 0 && !row.hidden {
			continue
		}
		b := append(out.b, `<row r="`...)
		b = strconv.AppendInt(b, int64(row.number), 10)
		if row.height > 0 {
			b = append(b, `" customHeight="1" ht="`...)
			b = strconv.AppendFloat(b, row.height, 'f', -1, 64)
		}
		if row.hidden {
			b = append(b, `" hidden="1`...)
		}
		b = append(b, `">`...)
		for i := range row.cells {
			b = cellXML(b, &row.cells[i], i+1, row.number, p, offset)
		}
		out.b = append(b, "</row>"...)
		out.full()
	}
	out.b = append(out.b, "</sheetData>"...)
}

func cellXML(b []byte, e *Entry, col, row int, p *palette, offset int) []byte {
	style, kind := p.plain[e.Style]+offset, e.kind
	if kind == entryText && e.formula == "" && runs(e.text) {
		style = p.text[e.Style] + offset
	}
	if kind == entryNumber && (math.IsNaN(e.number) || math.IsInf(e.number, 0)) {
		kind = entryBlank
	}
	if kind == entryText && e.formula == "" && e.text == "" {
		kind = entryBlank
	}
	if kind == entryBlank && e.formula == "" && e.Style == Normal {
		return b
	}
	b = append(b, `<c r="`...)
	b = append(b, finding.ColumnName(col)...)
	b = strconv.AppendInt(b, int64(row), 10)
	b = append(b, `" s="`...)
	b = strconv.AppendInt(b, int64(style), 10)
	if kind == entryBlank && e.formula == "" {
		return append(b, `"/>`...)
	}
	switch {
	case kind == entryText && e.formula == "":
		b = append(b, `" t="inlineStr"><is><t xml:space="preserve">`...)
		b = escape(b, clip(e.text))
		return append(b, "</t></is></c>"...)
	case kind == entryText:
		b = append(b, `" t="str">`...)
	case kind == entryBool:
		b = append(b, `" t="b">`...)
	case kind == entryError:
		b = append(b, `" t="e">`...)
	default:
		b = append(b, `">`...)
	}
	if e.formula != "" {
		b = append(b, "<f>"...)
		b = escape(b, e.formula)
		b = append(b, "</f>"...)
	}
	switch kind {
	case entryNumber, entryBool:
		b = append(b, "<v>"...)
		b = strconv.AppendFloat(b, e.number, 'g', -1, 64)
		b = append(b, "</v>"...)
	case entryText, entryError:
		b = append(b, "<v>"...)
		b = escape(b, clip(e.text))
		b = append(b, "</v>"...)
	}
	return append(b, "</c>"...)
}

// runs says whether a program could take a text for a formula when a person
// edits its cell.
func runs(text string) bool {
	return text != "" && strings.IndexByte("=+-@\t\r", text[0]) >= 0
}

// clip cuts a text to what a cell can hold and says so.
func clip(text string) string {
	if len(text) <= MaxLetters || utf8.RuneCountInString(text) <= MaxLetters {
		return text
	}
	const end = " … (cut: a cell holds 32,767 letters)"
	r := []rune(text)
	return string(r[:MaxLetters-utf8.RuneCountInString(end)]) + end
}

// escape writes a text for XML. Letters that XML cannot hold become _xHHHH_,
// and a text that looks like such an escape is kept as it is.
func escape(b []byte, text string) []byte {
	if plainText(text) {
		return append(b, text...)
	}
	for i := 0; i < len(text); {
		c := text[i]
		switch {
		case c == '&':
			b = append(b, "&amp;"...)
		case c == '<':
			b = append(b, "&lt;"...)
		case c == '>':
			b = append(b, "&gt;"...)
		case c == '"':
			b = append(b, "&quot;"...)
		case c < 32 && c != '\n' && c != '\t':
			b = fmt.Appendf(b, "_x%04X_", c)
		case c == '_' && len(text) >= i+7 && text[i+1] == 'x' && text[i+6] == '_' && hex4(text[i+2:i+6]):
			b = append(b, "_x005F_"...)
		case c < utf8.RuneSelf:
			b = append(b, c)
		default:
			r, n := utf8.DecodeRuneInString(text[i:])
			switch {
			case r == utf8.RuneError && n == 1, r == 0xFFFE, r == 0xFFFF:
				r = utf8.RuneError
			}
			b = utf8.AppendRune(b, r)
			i += n
			continue
		}
		i++
	}
	return b
}

// plainText says whether a text needs no escape.
func plainText(text string) bool {
	for i := 0; i < len(text); i++ {
		if c := text[i]; c < 32 || c >= utf8.RuneSelf || c == '&' || c == '<' || c == '>' || c == '"' || c == '_' {
			return false
		}
	}
	return true
}

func hex4(s string) bool {
	_, err := strconv.ParseUint(s, 16, 16)
	return err == nil
}

// linksXML writes the hyperlinks of a sheet, from the top.
func linksXML(out *stream, s *NewSheet) {
	links := slices.Clone(s.links)
	slices.SortStableFunc(links, func(a, b link) int {
		if a.row != b.row {
			return a.row - b.row
		}
		return a.col - b.col
	})
	out.b = append(out.b, "<hyperlinks>"...)
	for _, l := range links {
		b := append(out.b, `<hyperlink ref="`...)
		b = append(b, finding.ColumnName(l.col)...)
		b = strconv.AppendInt(b, int64(l.row), 10)
		b = append(b, `" location="`...)
		b = escape(b, l.target)
		out.b = append(b, `"/>`...)
		out.full()
	}
	out.b = append(out.b, "</hyperlinks>"...)
}
