package cell

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"platebook/rules/unit"
)

// Day is a date read from a cell.
type Day struct {
	State  State
	Value  unit.Date
	AsText bool // ISO text, not a real date
	Bare   bool // a whole serial without a date format (C102)
}

// Serials that are read as dates without a date format: 1950 to 2099.
const (
	firstBare = 18264
	lastBare  = 73050
)

var (
	firstDay = unit.NewDate(1900, 1, 1)
	lastDay  = unit.NewDate(2100, 12, 31)
)

// since1900 turns a serial into a day. ok is false for the day 29 February
// 1900 that never was, and outside 1900 to 2100.
//
// Source: ECMA-376 1st ed. Part 4, 3.17.4.1: serial 1 is 1900-01-01, serial
// 60 the day that never was; 1904 serials count from 1904-01-01 = 0.
func since1900(serial float64, since1904 bool) (unit.Date, bool) {
	if math.IsNaN(serial) || serial < 0 || serial > 3e6 {
		return 0, false
	}
	whole := math.Floor(serial)
	switch {
	case since1904:
		whole += 1462
	case whole == 0 || whole == 60:
		return 0, false
	case whole < 60:
		whole++
	}
	d := unit.Date(whole)
	return d, d >= firstDay && d <= lastDay
}

// ParseDate reads a date: a real one, or ISO text. since1904 is the
// workbook's date system.
func ParseDate(r Raw, since1904 bool) (Day, *Problem) {
	if p := spoiled(r); p != nil {
		return Day{State: Wrong}, p
	}
	switch r.Type {
	case Blank:
		return Day{}, nil
	case Bool:
		return noDate(quoted(r.Text) + " is no date")
	case Number:
		return storedDate(r, since1904)
	}
	text := trim(r.Text)
	switch {
	case text == "":
		return Day{}, nil
	case meansNone(text):
		return Day{State: Left}, nil
	}
	return textDate(text)
}

func noDate(message string, readings ...string) (Day, *Problem) {
	return Day{State: Wrong}, &Problem{Rule: "C203", Message: message, Readings: readings}
}

func storedDate(r Raw, since1904 bool) (Day, *Problem) {
	d, ok := since1900(r.Number, since1904)
	switch {
	case r.Format == Date && ok:
		return Day{State: Given, Value: d}, nil
	case r.Format == Date:
		return noDate(quoted(number(r.Number)) + " is no date from 1900 to 2100")
	case r.Format == Time:
		return noDate(clock(r.Number) + " is a time, no date")
	}
	whole := r.Number == math.Trunc(r.Number)
	if ok && whole && d >= firstBare && d <= lastBare {
		return Day{State: Given, Value: d, Bare: true}, nil
	}
	if whole && r.Number >= 1800 && r.Number <= 2100 {
		return noDate(quoted(number(r.Number)) + " is a year only")
	}
	return noDate(quoted(number(r.Number)) + " is no date")
}

var hyphens = strings.NewReplacer("‐", "-", "‑", "-", "–", "-", "−", "-")

// textDate reads ISO text; other texts are in doubt or no dates.
func textDate(text string) (Day, *Problem) {
	t := hyphens.Replace(text)
	if d, ok := isoDate(t); ok {
		if d < firstDay || d > lastDay {
			return noDate(quoted(text) + " is no date from 1900 to 2100")
		}
		return Day{State: Given, Value: d, AsText: true}, nil
	}
	if len(t) == 4 && digits(t) {
		return noDate(quoted(text) + " is a year only")
	}
	a, b, c, ok := threeNumbers(t)
	if !ok {
		return noDate(quoted(text)+" is no date", namedMonth(t)...)
	}
	return numbersDate(text, a, b, c)
}

// isoDate reads 2026-05-01, with or without a time behind it.
func isoDate(t string) (unit.Date, bool) {
	if len(t) < 10 {
		return 0, false
	}
	day, rest := t[:10], trim(strings.TrimPrefix(t[10:], "T"))
	if len(t) > 10 && t[10] != 'T' && t[10] != ' ' {
		return 0, false
	}
	if rest != "" {
		rest = strings.TrimSuffix(rest, "Z")
		ok := false
		for _, form := range []string{"15:04", "15:04:05", "15:04:05.999", "15:04:05Z07:00"} {
			_, err := time.Parse(form, rest)
			ok = ok || err == nil
		}
		if !ok {
			return 0, false
		}
	}
	d, err := unit.ParseDate(day)
	return d, err == nil
}

// threeNumbers divides 03/04/2026, 3.4.26 or 2026/4/3.
func threeNumbers(t string) (a, b, c string, ok bool) {
	parts := strings.FieldsFunc(t, func(r rune) bool { return r == '/' || r == '.' || r == '-' || r == ' ' })
	if len(parts) != 3 {
		return "", "", "", false
	}
	for _, p := range parts {
		if !digits(p) || len(p) > 4 || len(p) == 3 {
			return "", "", "", false
		}
	}
	return parts[0], parts[1], parts[2], true
}

// numbersDate lists what three numbers can mean as a date.
func numbersDate(text, a, b, c string) (Day, *Problem) {
	var days []unit.Date
	add := func(y, m, d string) {
		if len(y) == 3 || len(y) == 1 || len(m) > 2 || len(d) > 2 {
			return
		}
		if len(y) == 2 {
			y = "20" + y
		}
		for len(m) < 2 {
			m = "0" + m
		}
		for len(d) < 2 {
			d = "0" + d
		}
		if v, err := unit.ParseDate(y + "-" + m + "-" + d); err == nil && !slices.Contains(days, v) {
			days = append(days, v)
		}
	}
	short := len(a) <= 2 && len(c) <= 2
	switch {
	case len(a) == 4:
		add(a, b, c)
	default:
		add(c, b, a)
		add(c, a, b)
		if short {
			add(a, b, c)
		}
	}
	var readings []string
	for _, d := range days {
		readings = append(readings, d.String())
	}
	switch {
	case len(days) == 0:
		return noDate(quoted(text) + " is no date")
	case len(days) == 1 && !short:
		return noDate(quoted(text)+" is no date in the form 2026-05-01", readings...)
	}
	words := make([]string, len(days))
	for i, d := range days {
		words[i] = d.Time().Format("2 January")
		if short {
			words[i] = d.Time().Format("2 January 2006")
		}
	}
	message := quoted(text) + ": " + orList(words)
	if len(words) == 1 {
		message = quoted(text) + ": the year has two digits; " + words[0] + "?"
	}
	return Day{State: Wrong}, &Problem{Rule: "C202", Message: message, Readings: readings}
}

var dividers = strings.NewReplacer(",", " ", "-", " ", "/", " ", ".", " ")

// namedMonth offers the date of a text with the month in letters.
func namedMonth(t string) []string {
	t = dividers.Replace(t)
	t = strings.Join(strings.Fields(t), " ")
	for _, form := range []string{"2 Jan 2006", "2 January 2006", "Jan 2 2006", "January 2 2006", "2006 Jan 2"} {
		if v, err := time.Parse(form, t); err == nil {
			return []string{v.Format("2006-01-02")}
		}
	}
	return nil
}

// dateWords is a date as a spreadsheet shows it, without doubt about its
// month: 04-Jan-2026.
func dateWords(r Raw) string {
	d, ok := since1900(r.Number, r.Since1904)
	if !ok {
		return number(r.Number)
	}
	return d.Time().Format("02-Jan-2006")
}

// dateReadings is what a person can have typed that a program took for the
// date: month and day, day and month, or, on the first of a month, month and
// year.
func dateReadings(r Raw, sep string) []string {
	d, ok := since1900(r.Number, r.Since1904)
	if !ok {
		return []string{number(r.Number)}
	}
	t := d.Time()
	list := []string{fmt.Sprintf("%d%s%d", t.Month(), sep, t.Day())}
	if other := fmt.Sprintf("%d%s%d", t.Day(), sep, t.Month()); other != list[0] {
		list = append(list, other)
	}
	if t.Day() == 1 && t.Year()%100 > 31 {
		list = append([]string{fmt.Sprintf("%d%s%02d", t.Month(), sep, t.Year()%100)}, list...)
	}
	return list
}

func clock(serial float64) string {
	minutes := int(math.Round((serial - math.Floor(serial)) * 1440))
	return fmt.Sprintf("%02d:%02d", minutes/60, minutes%60)
}

// number prints a stored number as a person typed it: a spreadsheet shows
// fifteen digits.
func number(v float64) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		r = v
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

// orList joins readings: "a", "a or b", "a, b or c".
func orList(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}
