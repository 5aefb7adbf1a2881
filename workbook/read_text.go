package workbook

import (
	"math"
	"strconv"
	"strings"

	"platebook/rules/unit"
	"platebook/workbook/cell"
)

// quantityText is a value in the workbook's system with its unit and no more
// digits than it needs: "850 m", "2.2".
func quantityText(k unit.Kind, s unit.System, v float64) string {
	return withUnit(plainText(k.In(s, v)), k.Unit(s))
}

func withUnit(text, u string) string {
	if u == "" || u == "°" {
		return text + u
	}
	return text + " " + u
}

// plainText prints a number with at most six digits, enough to restore what
// was typed and too few to show the noise of a conversion.
func plainText(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		r = v
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// limitText prints a limit that is round in one system and not in the other.
func limitText(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	if err != nil {
		r = v
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// typedText is what a person would say the cell holds. Fifteen digits are all
// a spreadsheet shows of a number: 6.3499999999999996 is a typed 6.35.
func typedText(c cell.Raw, date1904 bool) string {
	switch {
	case c.NoStored:
		return "=" + c.Formula
	case c.Type == cell.String:
		return c.Text
	case c.Type != cell.Number:
		return c.Text
	case c.Format == cell.Date && c.Number >= 1 && c.Number < 2958466:
		serial := c.Number
		if date1904 {
			serial += 1462
		}
		return unit.DateOf(serial).String()
	case c.Format == cell.Percent:
		return digits15(c.Number*100) + " %"
	case len(c.Text) > 0 && len(c.Text) < 15 && !strings.ContainsAny(c.Text, "eE+") &&
		!(strings.Contains(c.Text, ".") && strings.HasSuffix(c.Text, "0")):
		return c.Text
	}
	return digits15(c.Number)
}

func digits15(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	if a := math.Abs(r); a >= 1e15 || a != 0 && a < 1e-7 {
		return strconv.FormatFloat(r, 'g', -1, 64)
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
