package cell

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// Serials of ECMA-376 1st ed. Part 4, 3.17.4.1, both date systems.
func TestPublishedSerials(t *testing.T) {
	data, err := os.ReadFile("../../testdata/dates/excel_serials.json")
	if err != nil {
		t.Fatal(err)
	}
	type day struct {
		Date   string  `json:"date"`
		Serial float64 `json:"serial"`
		S1900  float64 `json:"serial_1900"`
		S1904  float64 `json:"serial_1904"`
	}
	var ref struct {
		P1900 []day `json:"published_1900"`
		P1904 []day `json:"published_1904"`
		Both  []day `json:"both"`
	}
	if err := json.Unmarshal(data, &ref); err != nil {
		t.Fatal(err)
	}
	check := func(date string, serial float64, since1904 bool) {
		d, p := ParseDate(Raw{Type: Number, Format: Date, Number: serial}, since1904)
		if date > "2101" {
			if p == nil || p.Rule != "C203" {
				t.Errorf("%s: %v, want C203", date, p)
			}
			return
		}
		if p != nil || d.Value.String() != date {
			t.Errorf("serial %v (1904 %v): %v %v, want %s", serial, since1904, d.Value, p, date)
		}
	}
	for _, d := range ref.P1900 {
		check(d.Date, d.Serial, false)
	}
	for _, d := range ref.P1904 {
		check(d.Date, d.Serial, true)
	}
	for _, d := range ref.Both {
		check(d.Date, d.S1900, false)
		check(d.Date, d.S1904, true)
	}
	if len(ref.P1900) < 5 || len(ref.Both) < 3 {
		t.Errorf("only %d and %d published serials", len(ref.P1900), len(ref.Both))
	}
	// 29 February 1900 never was (same source).
	if _, p := ParseDate(Raw{Type: Number, Format: Date, Number: 60}, false); p == nil || p.Rule != "C203" {
		t.Errorf("serial 60: %v, want C203", p)
	}
}

func TestParseDate(t *testing.T) {
	for _, c := range []struct {
		raw   Raw
		date  string
		rule  string
		shown string
	}{
		{Raw{Type: Number, Format: Date, Number: 46143.75}, "2026-05-01", "", ""},
		{Raw{Type: Number, Number: 46143}, "2026-05-01", "", ""},
		{Raw{Type: Number, Number: 46143.5}, "", "C203", ""},
		{Raw{Type: Number, Number: 1987}, "", "C203", ""},
		{Raw{Type: Number, Format: Time, Number: 0.5}, "", "C203", ""},
		{Raw{Type: Number, Number: 80000}, "", "C203", ""},
		{text("2026-05-01"), "2026-05-01", "", ""},
		{text(" 2026-05-01T10:30:00 "), "2026-05-01", "", ""},
		{text("2026-02-30"), "", "C203", ""},
		{text("03/04/2026"), "", "C202", "2026-04-03,2026-03-04"},
		{text("3.4.2026"), "", "C202", "2026-04-03,2026-03-04"},
		{text("03/04/26"), "", "C202", "2026-04-03,2026-03-04,2003-04-26"},
		{text("04/04/2026"), "", "C203", "2026-04-04"},
		{text("25/04/2026"), "", "C203", "2026-04-25"},
		{text("25/04/26"), "", "C202", "2026-04-25,2025-04-26"},
		{text("32/13/2026"), "", "C203", ""},
		{text("1987"), "", "C203", ""},
		{text("3 April 2026"), "", "C203", "2026-04-03"},
		{text("April"), "", "C203", ""},
		{text("1899-05-01"), "", "C203", ""},
		{text("2101-01-01"), "", "C203", ""},
		{text("TBC"), "", "Q601", ""},
		{Raw{Type: Error, Text: "#N/A"}, "", "C402", ""},
	} {
		d, p := ParseDate(c.raw, false)
		if c.rule == "" {
			if p != nil || d.State != Given || d.Value.String() != c.date {
				t.Errorf("%v: %v %v, want %s", c.raw, d.Value, p, c.date)
			}
			continue
		}
		if p == nil || p.Rule != c.rule || d.State != Wrong {
			t.Errorf("%v: %v %v, want %s", c.raw, d.Value, p, c.rule)
		} else if strings.Join(p.Readings, ",") != c.shown {
			t.Errorf("%v: readings %v, want %s", c.raw, p.Readings, c.shown)
		}
	}
	if _, p := ParseDate(text("03/04/2026"), false); p.Message != "“03/04/2026”: 3 April or 4 March" {
		t.Errorf("message %q", p.Message)
	}
}
