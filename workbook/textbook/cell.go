package textbook

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

var (
	expecting = regexp.MustCompile(`\s*\{([A-Z][0-9]{3}(?:[ ,]+[A-Z][0-9]{3})*)\}$`)
	isNumber  = regexp.MustCompile(`^[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?$`)
	isTime    = regexp.MustCompile(`^\d{1,2}:\d{2}$`)
	isError   = regexp.MustCompile(`^#(REF|VALUE|NAME|NUM|N/A|DIV/0|NULL|SPILL)[!?]?$`)
)

// expectations takes the expected findings off a cell's text.
func expectations(t string) (rest string, rules []string) {
	m := expecting.FindStringSubmatchIndex(t)
	if m == nil {
		return t, nil
	}
	return t[:m[0]], strings.FieldsFunc(t[m[2]:m[3]], func(r rune) bool { return r == ' ' || r == ',' })
}

// entry makes a cell of its text.
func entry(t string, since1904 bool) (xlsx.Entry, error) {
	t, _ = expectations(t)
	style := xlsx.Normal
	if rest, ok := strings.CutPrefix(t, "~"); ok {
		t, style = rest, xlsx.Struck
	}
	switch {
	case t == "":
		return xlsx.Blank(style), nil
	case strings.HasPrefix(t, "="):
		return formula(t[1:], style)
	case isNumber.MatchString(t):
		v, err := strconv.ParseFloat(t, 64)
		return xlsx.Number(v, style), err
	case strings.HasSuffix(t, "%") && isNumber.MatchString(strings.TrimSuffix(t, "%")):
		v, err := strconv.ParseFloat(strings.TrimSuffix(t, "%"), 64)
		return xlsx.Number(v/100, xlsx.PercentShare), err
	case isTime.MatchString(t):
		at, err := time.Parse("15:04", t)
		return xlsx.Number(float64(at.Hour()*60+at.Minute())/1440, xlsx.ClockTime), err
	case isError.MatchString(t):
		return xlsx.LiveError("", t, style), nil
	case t == "TRUE" || t == "FALSE":
		return xlsx.Truth(t == "TRUE", style), nil
	}
	if d, err := unit.ParseDate(t); err == nil {
		if since1904 {
			d -= 1462
		}
		return xlsx.Number(float64(d), xlsx.DateISO), nil
	}
	s, err := unquote(t)
	return xlsx.Text(s, style), err
}

func formula(t string, style xlsx.Style) (xlsx.Entry, error) {
	f, stored, ok := strings.Cut(t, "->")
	f, stored = strings.TrimSpace(f), strings.TrimSpace(stored)
	switch {
	case !ok:
		return xlsx.Unstored(f, style), nil
	case isNumber.MatchString(stored):
		v, err := strconv.ParseFloat(stored, 64)
		return xlsx.Live(f, v, style), err
	case isError.MatchString(stored):
		return xlsx.LiveError(f, stored, style), nil
	case stored == "TRUE" || stored == "FALSE":
		return xlsx.LiveBool(f, stored == "TRUE", style), nil
	}
	if d, err := unit.ParseDate(stored); err == nil {
		return xlsx.Live(f, float64(d), xlsx.DateISO), nil
	}
	s, err := unquote(stored)
	return xlsx.LiveText(f, s, style), err
}

// unquote takes the quotes off a text that has them.
func unquote(t string) (string, error) {
	if !strings.HasPrefix(t, `"`) {
		return t, nil
	}
	if len(t) < 2 || !strings.HasSuffix(t, `"`) {
		// 1/4" and "Tank" of the firm are texts of their own.
		return "", fmt.Errorf("the quote of %s has no end", t)
	}
	inner := strings.ReplaceAll(t[1:len(t)-1], `""`, `"`)
	return strings.ReplaceAll(inner, `\n`, "\n"), nil
}

// write puts a sheet into a draft.
func (s *sheet) write(out *xlsx.NewSheet, since1904 bool) error {
	out.Hidden, out.VeryHidden = s.state == "hidden", s.state == "veryhidden"
	out.Tab, out.Print.Header, out.Print.Footer = s.tab, s.header, s.footer
	for n, row := range s.rows {
		cells := make([]xlsx.Entry, len(row))
		for c, t := range row {
			var err error
			if cells[c], err = entry(t, since1904); err != nil {
				return fmt.Errorf("row %d, cell %d: %w", n+1, c+1, err)
			}
		}
		out.Row(cells...)
	}
	for n := range len(s.rows) {
		if s.hiddenRows[n+1] {
			out.HideRow(n + 1)
		}
	}
	for c := 1; c <= 200; c++ {
		if s.hiddenCols[c] {
			out.HideColumns(c, c)
		}
	}
	for _, m := range s.merges {
		out.Merge(m)
	}
	if s.filter != (xlsx.Area{}) {
		out.Filter(s.filter)
	}
	for range s.formatted {
		out.Row(xlsx.Blank(xlsx.Input), xlsx.Blank(xlsx.Input), xlsx.Blank(xlsx.Input))
	}
	return nil
}
