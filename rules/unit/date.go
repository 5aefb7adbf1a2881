package unit

import (
	"fmt"
	"math"
	"time"
)

// Date is a calendar day as the number of days since 1899-12-30, which is the
// serial a 1900-system spreadsheet shows for every day from 1900-03-01 on.
// The zero Date is "no date".
//
// Source: ECMA-376 1st ed. Part 4, 3.17.4.1.
type Date int32

const epoch = -25569 // 1899-12-30 in days from 1970-01-01

// DateOf drops the time of day of a serial.
func DateOf(serial float64) Date { return Date(math.Floor(serial)) }

// NewDate is the Date of a calendar day.
func NewDate(year int, month time.Month, day int) Date {
	t := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	return Date(t.Unix()/86400 - epoch)
}

// ParseDate reads an ISO date, 2026-05-01.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse("2006-01-02", s)
	if err != nil {
		return 0, fmt.Errorf("date %q is not of the form 2026-05-01", s)
	}
	return NewDate(t.Year(), t.Month(), t.Day()), nil
}

// DateIn reads a date written in the first of the forms that fits, each as the
// time package spells it; 0 when none does.
func DateIn(text string, forms ...string) Date {
	for _, form := range forms {
		if t, err := time.Parse(form, text); err == nil {
			return NewDate(t.Year(), t.Month(), t.Day())
		}
	}
	return 0
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time { return time.Unix((int64(d)+epoch)*86400, 0).UTC() }

// String is the ISO text, "" for no date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format("2006-01-02")
}

// YearsSince is the time from an earlier day, in years of 365.25 days.
func (d Date) YearsSince(earlier Date) Years { return Years(float64(d-earlier) / 365.25) }

// AddYears is the day a calculated interval ends: base + floor(365.25·I + 1e-6)
// days.
//
// Source: interval slides (date arithmetic in days); the guard is derived.
func (d Date) AddYears(i Years) Date { return d + Date(math.Floor(365.25*float64(i)+1e-6)) }
