package validation

import (
	"fmt"
	"math"

	"platebook/rules/unit"
	"platebook/workbook/cell"
)

func units(r *record) {
	r.subject = "Units"
	var set struct {
		Linear []struct {
			From   string  `json:"frm"`
			To     string  `json:"to"`
			Factor float64 `json:"factor"`
		} `json:"linear"`
		Inches []struct {
			Text string  `json:"text"`
			MM   float64 `json:"mm"`
		} `json:"inch_fractions"`
	}
	r.read("units/conversions.json", &set)
	r.from("NIST SP 811 (2008), Appendix B; exact definitions of 1959", published)
	stored := map[string]float64{
		"in mm": float64(unit.Inch), "ft m": float64(unit.Foot) / 1000, "mil mm": float64(unit.Mil), "in2 mm2": float64(unit.Inch * unit.Inch),
		"ft2 m2": unit.AreaKind.Factor(unit.US), "lb kg": unit.MassKind.Factor(unit.US), "psi MPa": float64(unit.PSI), "psi kPa": float64(unit.PSI) * 1e3,
		"ksi MPa": float64(unit.PSI) * 1e3, "mpy mm/a": unit.RateKind.Factor(unit.US), "lb/ft2 kg/m2": unit.MassKind.Factor(unit.US) / unit.AreaKind.Factor(unit.US),
	}
	found := 0
	for _, c := range set.Linear {
		if got, ok := stored[c.From+" "+c.To]; ok {
			found++
			r.number("factor", c.From+" to "+c.To, c.Factor, got, 1e-12*c.Factor, "")
		}
	}
	if found < 10 {
		r.t.Errorf("only %d factors of the set are the program's", found)
	}
	var w worst
	for _, c := range set.Inches {
		q, p := cell.ParseNumber(cell.Raw{Type: cell.String, Text: c.Text + " in"}, cell.Want{Kind: unit.Thickness, Scale: 1})
		if p != nil {
			r.t.Errorf("%s: %v", c.Text, p)
			continue
		}
		w.hold(c.Text+" in", c.MM, q.Value, 1e-12*c.MM)
	}
	r.set("fraction of an inch typed into a cell", "1/16 to 1 in", w, "mm")
	var round worst
	for i := range 200 {
		v := 0.1 + 0.37*float64(i)
		for k := unit.Thickness; k <= unit.Slope; k++ {
			back := k.In(unit.US, v) * k.Factor(unit.US)
			round.hold(fmt.Sprintf("%v", v), v, back, 1e-12*v)
		}
	}
	r.from("the method, section 1: conversions are exact", derived)
	r.set("to US units and back", "each kind of quantity, 0.1 to 73.7", round, "")
	r.text("rounding half away from zero", "2.675 to two decimals", "2.68", unit.Round(2.675, 2))
	r.text("rounding half away from zero", "−0.125 to two decimals", "-0.13", unit.Round(-0.125, 2))
}

func serials(r *record) {
	type date struct {
		Date   string  `json:"date"`
		Serial float64 `json:"serial"`
		S1900  float64 `json:"serial_1900"`
		S1904  float64 `json:"serial_1904"`
	}
	var set struct {
		P1900 []date `json:"published_1900"`
		P1904 []date `json:"published_1904"`
		Both  []date `json:"both"`
	}
	r.read("dates/excel_serials.json", &set)
	ecma := "ECMA-376 1st ed. Part 4, 3.17.4.1"
	one := func(d date, serial float64, since1904 bool) {
		system := "1900 system"
		if since1904 {
			system = "1904 system"
		}
		got := "refused"
		if read, p := cell.ParseDate(cell.Raw{Type: cell.Number, Format: cell.Date, Number: serial}, since1904); p == nil {
			got = read.Value.String()
		}
		r.from(ecma, published)
		want := d.Date
		if want > "2101" {
			r.from(ecma+"; a date that no inspection has is refused", derived)
			want = "refused"
		}
		r.text("spreadsheet date", fmt.Sprintf("serial %.0f, %s (%s)", serial, system, d.Date), want, got)
	}
	for _, d := range set.P1900 {
		one(d, d.Serial, false)
	}
	_, p := cell.ParseDate(cell.Raw{Type: cell.Number, Format: cell.Date, Number: 60}, false)
	r.from(ecma, published)
	r.text("a day that never was", "serial 60, 1900 system (1900-02-29)", "no number", known(p == nil))
	for _, d := range set.P1904 {
		one(d, d.Serial, true)
	}
	r.from("derived from ECMA-376 1st ed. Part 4, 3.17.4.1; two libraries agree", reference)
	var w worst
	for _, d := range set.Both {
		for _, system := range []bool{false, true} {
			serial := d.S1900
			if system {
				serial = d.S1904
			}
			got := math.NaN()
			if read, p := cell.ParseDate(cell.Raw{Type: cell.Number, Format: cell.Date, Number: serial}, system); p == nil {
				got = float64(read.Value)
			}
			if d.Date < "2101" {
				w.hold(d.Date, float64(day(d.Date)), got, 0.5)
			}
		}
	}
	r.set("spreadsheet dates in both systems, as days", "1904 to 2100", w, "")
}
