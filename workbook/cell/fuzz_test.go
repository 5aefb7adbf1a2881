package cell

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// wanted is a kind of column with the scales its headers may give.
var wanted = []Want{
	{Kind: unit.Thickness, Scale: 1},
	{Kind: unit.Thickness, Scale: 25.4},
	{Kind: unit.Height, Scale: 1000},
	{Kind: unit.Height, Scale: 304.8},
	{Kind: unit.Share, Scale: 1},
	{Kind: unit.Time, Scale: 1},
	{Kind: unit.Bearing, Scale: 1},
	{Kind: unit.StressKind, Scale: float64(unit.PSI)},
	{Kind: unit.RateKind, Scale: 0.0254},
	{Kind: unit.Statistic},
}

// FuzzNumber reads a text as a number under every kind of column. A value is
// finite, has digits to come from, and is read the same when it is printed and
// read again, as text with its unit and as a stored number.
func FuzzNumber(f *testing.F) {
	for n, s := range []string{
		"6.35", "1,250", `3'-6"`, "1 1/4 in", "¼", "5.2/5.4", "-", "1e9", "−3", "45 %", "\u00a0", "1.250,5", "1 250,5", "250 mil", "1e308 in",
		"-0", "NaN", "Inf", "0x1p-2", "1_000", ".5", "5.", "- 3", "+-3", "n/a", "TBC", "6,35 mm", "3 ft 6 in", "=1+1",
	} {
		f.Add(s, byte(n), n%2 == 0)
	}
	f.Fuzz(func(t *testing.T, s string, kind byte, commas bool) {
		w := wanted[int(kind)%len(wanted)]
		w.Commas = commas
		q, p := ParseNumber(text(s), w)
		if (p != nil) != (q.State == Wrong) {
			t.Fatalf("%q: state %v with problem %v", s, q.State, p)
		}
		if p != nil && (p.Rule == "" || p.Message == "" || p.Rule == "C103" && len(p.Readings) != 2) {
			t.Fatalf("%q: problem %+v", s, p)
		}
		if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) || math.IsNaN(q.Cell) || math.IsInf(q.Cell, 0) {
			t.Fatalf("%q: value %v of %v", s, q.Value, q.Cell)
		}
		if q.State != Given {
			if q.Value != 0 {
				t.Fatalf("%q: %v although state %v", s, q.Value, q.State)
			}
			return
		}
		if !strings.ContainsAny(s, "0123456789¼½¾⅛⅜⅝⅞⅓⅔⅕⅖⅗⅘⅙⅚") {
			t.Fatalf("%q: %v out of nothing", s, q.Value)
		}
		w.Commas = false
		printed := strconv.FormatFloat(q.Cell, 'f', -1, 64)
		own := q.Own
		if q.Scaled == Signed {
			own = "%"
		}
		again, p := ParseNumber(text(printed+" "+own), w)
		if p != nil || again.Value != q.Value || again.Own != q.Own || again.Scaled != q.Scaled {
			t.Fatalf("%q: %v, printed %q and read %+v %v", s, q, printed+" "+own, again, p)
		}
		if own != "" {
			return
		}
		stored, p := ParseNumber(Raw{Type: Number, Number: q.Cell, Text: printed}, w)
		if p != nil || stored.Value != q.Value {
			t.Fatalf("%q: %v, stored %v %v", s, q.Value, stored.Value, p)
		}
	})
}

// slashed is every way to write a fraction of an inch: sign, whole, above and
// below the line, and a unit.
var slashed = regexp.MustCompile(`^(-?)\s*(?:(\d+)[ -]+)?(\d{1,2})\s*/\s*(2|4|8|16|32|64)\s*(?i:"|''|in\.?|inch|inches|[µu]?mm?|cm|met(?:re|er)s?|milli.*|mils?|thou|microns?)?$`)

// feetBefore is a whole number of feet in front of it.
var feetBefore = regexp.MustCompile(`(?i)['f]`)

// FuzzFraction holds whatever is read from a text with one stroke against a
// second way to work it out: the value is the whole plus the one number over
// the other, or there is none.
func FuzzFraction(f *testing.F) {
	for _, s := range []string{"1/4", "1 1/4", "1-1/4", `-1 3/8"`, "5/4", "0/4", "1/3", "17/64 in", "1/4/2", "5.2/5.4", "1 1 1/4", "12 / 16"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, p := ParseNumber(text(s), Want{Kind: unit.Thickness, Scale: 25.4})
		clean := tidy(trim(s))
		if p != nil || q.State != Given || strings.Count(clean, "/") != 1 || feetBefore.MatchString(clean) {
			return
		}
		clean = strings.TrimSpace(strings.ReplaceAll(clean, "\u00a0", " "))
		m := slashed.FindStringSubmatch(clean)
		if m == nil {
			t.Fatalf("%q is read as %v, by no rule for fractions", s, q.Cell)
		}
		number := func(s string) float64 {
			n, _ := strconv.ParseFloat(s, 64)
			return n
		}
		want := number(m[2]) + number(m[3])/number(m[4])
		if m[1] == "-" {
			want = -want
		}
		if q.Cell != want {
			t.Fatalf("%q is read as %v, not %v", s, q.Cell, want)
		}
	})
}

// FuzzDate reads a text and a serial as dates. A date is between 1900 and 2100
// and is the same when it is printed or stored and read again.
func FuzzDate(f *testing.F) {
	for _, s := range []string{
		"2026-05-01", "03/04/2026", "1987", "3.4.26", "2026-05-01T10:00", "1/1/1", "", "1 Mai 2026", "May 1, 2026", "2026-02-30",
		"1900-02-29", "2100-12-31", "2101-01-01", "46143", "2026-05-01 25:99", "-2026-05-01",
	} {
		f.Add(s, 46143.5, false)
	}
	for _, v := range []float64{0, 1, 59, 60, 61, 73415, 73416, -1, 1e308, math.NaN(), math.Inf(1), 0.5} {
		f.Add("", v, true)
	}
	f.Fuzz(func(t *testing.T, s string, serial float64, since1904 bool) {
		for _, raw := range []Raw{text(s), {Type: Number, Format: Date, Number: serial}, {Type: Number, Number: serial}} {
			d, p := ParseDate(raw, since1904)
			if (p != nil) != (d.State == Wrong) {
				t.Fatalf("%+v: state %v with problem %v", raw, d.State, p)
			}
			if d.State != Given {
				continue
			}
			if d.Value < firstDay || d.Value > lastDay {
				t.Fatalf("%+v: %v", raw, d.Value)
			}
			again, p := ParseDate(text(d.Value.String()), since1904)
			if p != nil || again.Value != d.Value {
				t.Fatalf("%+v: %v, read again %v %v", raw, d.Value, again.Value, p)
			}
			back := float64(d.Value)
			switch {
			case since1904:
				back -= 1462
			case back < 61:
				back--
			}
			if back < 0 {
				continue
			}
			stored, p := ParseDate(Raw{Type: Number, Format: Date, Number: back}, since1904)
			if p != nil || stored.Value != d.Value {
				t.Fatalf("%+v: %v, stored as %v it is %v %v", raw, d.Value, back, stored.Value, p)
			}
		}
	})
}

// FuzzWord reads a text as a word of a list, as a label, as several labels and
// as free text. A word is one of the list, or a mistake the list explains; a
// label is what was typed and stays so when it is read again.
func FuzzWord(f *testing.F) {
	for _, s := range []string{"soil", "bottm", " SOIL ", "S", "n/a", "TBC", "=cmd|'/c calc'!A1", "3-4; 3-5,17", "\u200b", "12.0", "xxx", "-", "so il"} {
		f.Add(s)
	}
	words := []string{"product", "soil", "unknown"}
	aliases := map[string]string{"underside": "soil", "topside": "product"}
	f.Fuzz(func(t *testing.T, s string) {
		said, p := ParseWord(text(s), words, aliases)
		if (p != nil) != (said.State == Wrong) {
			t.Fatalf("%q: state %v with problem %v", s, said.State, p)
		}
		if said.State == Given != slices.Contains(words, said.Value) {
			t.Fatalf("%q is read as %q", s, said.Value)
		}
		label, p := ParseLabel(text(s), false)
		if (p != nil) != (label.State == Wrong) {
			t.Fatalf("%q: label of state %v with problem %v", s, label.State, p)
		}
		if label.State == Given {
			if !strings.Contains(s, label.Value) || label.Value == "" {
				t.Fatalf("%q became %q", s, label.Value)
			}
			if again, p := ParseLabel(text(label.Value), false); p != nil || again != label {
				t.Fatalf("%q: %q, read again %q %v", s, label.Value, again.Value, p)
			}
		}
		list, state, _ := ParseLabels(text(s), false)
		if (state == Given) != (len(list) > 0) {
			t.Fatalf("%q: %d labels in state %v", s, len(list), state)
		}
		for _, l := range list {
			if l == "" || strings.ContainsAny(l, ";,\n\r") || !strings.Contains(s, l) {
				t.Fatalf("%q holds the label %q", s, l)
			}
		}
		if list != nil {
			again, _, _ := ParseLabels(text(strings.Join(list, "; ")), false)
			if len(list) > 1 && !slices.Equal(again, list) {
				t.Fatalf("%q: %q, read again %q", s, list, again)
			}
		}
		if n := spelling.Edits(s, "underside", 2); n < 0 || n > 3 {
			t.Fatalf("%q: %d edits", s, n)
		}
	})
}
