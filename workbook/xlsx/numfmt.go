package xlsx

import (
	"strconv"
	"strings"

	"platebook/workbook/cell"
)

// look is what a cell's style says about its value.
type look struct {
	format cell.Format
	strike bool
}

// readStyles reads the number format and the strike-through of each cell
// style, in the order cells refer to them.
func (p *pack) readStyles(part string) ([]look, error) {
	custom := map[int]string{}
	var strikes []bool
	var looks []look
	var inFonts, inXfs bool
	err := p.scan(part, "the styles", func(s *scanner) error {
		if s.kind == endTag {
			if s.depth() == 1 {
				inFonts, inXfs = false, false
			}
			return nil
		}
		if s.kind != startTag {
			return nil
		}
		switch name := string(s.name); {
		case s.depth() == 2:
			inFonts, inXfs = name == "fonts", name == "cellXfs"
		case name == "numFmt" && s.depth() == 3:
			code, err := s.attrText("formatCode")
			if id, e := strconv.Atoi(string(s.attr("numFmtId"))); e == nil {
				custom[id] = code
			}
			return err
		case inFonts && name == "font" && s.depth() == 3:
			strikes = append(strikes, false)
		case inFonts && name == "strike" && s.depth() == 4:
			v := s.attr("val")
			strikes[len(strikes)-1] = v == nil || isTrue(v)
		case inXfs && name == "xf" && s.depth() == 3:
			id, _ := strconv.Atoi(string(s.attr("numFmtId")))
			l := look{format: builtIn(id)}
			if code, ok := custom[id]; ok {
				l.format = formatOf(code)
			}
			if f, err := strconv.Atoi(string(s.attr("fontId"))); err == nil && f >= 0 && f < len(strikes) {
				l.strike = strikes[f]
			}
			looks = append(looks, l)
		}
		return nil
	})
	return looks, err
}

// builtIn is the class of a number format that needs no code.
//
// Source: ECMA-376 1st ed. Part 4, 3.8.30 (numFmt), with its tables of the
// formats of East Asian languages.
func builtIn(id int) cell.Format {
	switch {
	case id == 9, id == 10:
		return cell.Percent
	case id == 12, id == 13:
		return cell.Fraction
	case id >= 14 && id <= 17, id == 22, id >= 27 && id <= 31, id == 36, id >= 50 && id <= 54, id == 57, id == 58:
		return cell.Date
	case id >= 18 && id <= 21, id >= 45 && id <= 47, id >= 32 && id <= 35, id == 55, id == 56:
		return cell.Time
	case id == 49:
		return cell.Text
	case id >= 1 && id <= 11, id >= 37 && id <= 44, id == 48, id >= 59 && id <= 62:
		return cell.Decimal
	}
	return cell.General
}

// formatOf is the class of a format code, told by its first section.
func formatOf(code string) cell.Format {
	var letters strings.Builder
	elapsed := false
	for i := 0; i < len(code); i++ {
		switch c := code[i]; c {
		case '"':
			if n := strings.IndexByte(code[i+1:], '"'); n >= 0 {
				i += n + 1
			} else {
				i = len(code)
			}
		case '\\', '_', '*':
			i++
		case '[':
			n := strings.IndexByte(code[i:], ']')
			if n < 0 {
				i = len(code)
				break
			}
			switch strings.Trim(strings.ToLower(code[i+1:i+n]), "hms") {
			case "":
				elapsed = n > 1
			}
			i += n
		case ';':
			i = len(code)
		default:
			letters.WriteByte(c)
		}
	}
	l := strings.ToLower(letters.String())
	plain := strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(l, "general", ""), "standard", ""), "am/pm", "h"))
	plain = strings.ReplaceAll(strings.ReplaceAll(plain, "e+", ""), "e-", "")
	switch {
	case elapsed:
		return cell.Time
	case strings.ContainsAny(plain, "yd"), strings.ContainsAny(plain, "e") && !strings.ContainsAny(plain, "0#?"):
		return cell.Date
	case strings.ContainsAny(plain, "hs"):
		return cell.Time
	case strings.Contains(plain, "m") && !strings.ContainsAny(plain, "0#?"):
		return cell.Date
	case strings.Contains(l, "%"):
		return cell.Percent
	case strings.Contains(l, "@"):
		return cell.Text
	case strings.Contains(l, "/") && strings.ContainsAny(l, "0#?"):
		return cell.Fraction
	case l == "general" || l == "standard" || l == "":
		return cell.General
	}
	return cell.Decimal
}
