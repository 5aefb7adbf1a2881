package unit

import (
	"encoding/json"
	"math"
	"os"
	"testing"
	"time"
)

// NIST SP 811 (2008), Appendix B; the source stands in the file.
func TestFactorsAreExact(t *testing.T) {
	var set struct {
		Linear []struct {
			Frm, To string
			Factor  float64
		}
		Tolerance struct{ Relative float64 }
	}
	read(t, "../../testdata/units/conversions.json", &set)
	have := map[[2]string]float64{
		{"in", "mm"}: float64(Inch), {"ft", "m"}: float64(Foot / Metre), {"mil", "mm"}: float64(Mil), {"ft2", "m2"}: float64(SqFoot),
		{"lb", "kg"}: float64(Pound), {"psi", "MPa"}: float64(PSI), {"mpy", "mm/a"}: float64(MilYear),
	}
	found := 0
	for _, l := range set.Linear {
		got, ok := have[[2]string{l.Frm, l.To}]
		if !ok {
			continue
		}
		found++
		if math.Abs(got/l.Factor-1) > set.Tolerance.Relative {
			t.Errorf("%s to %s: %v, want %v", l.Frm, l.To, got, l.Factor)
		}
	}
	if found != len(have) {
		t.Errorf("%d of %d factors are in the reference", found, len(have))
	}
	for k, want := range map[Kind]float64{
		Thickness: 25.4, Position: 25.4, Height: 304.8, Coating: 0.0254, RateKind: 0.0254, AreaKind: 0.09290304,
		StressKind: float64(PSI), MassKind: 0.45359237,
	} {
		if got := k.Factor(US); math.Abs(got/want-1) > 1e-15 {
			t.Errorf("kind %d: %v per US unit, want %v", k, got, want)
		}
	}
}

// ECMA-376 1st ed. Part 4, 3.17.4.1; the source stands in the file.
func TestDateSerials(t *testing.T) {
	var set struct {
		Both []struct {
			Date   string
			Serial float64 `json:"serial_1900"`
		}
		WithTime []struct {
			Serial float64 `json:"serial_1900"`
			ISO    string
		} `json:"with_time"`
	}
	read(t, "../../testdata/dates/excel_serials.json", &set)
	if len(set.Both) < 5 {
		t.Fatalf("%d dates", len(set.Both))
	}
	for _, d := range set.Both {
		got, err := ParseDate(d.Date)
		if err != nil || float64(got) != d.Serial {
			t.Errorf("%s: %v (%v), want %v", d.Date, got, err, d.Serial)
		}
		if DateOf(d.Serial).String() != d.Date || DateOf(d.Serial+0.999) != got {
			t.Errorf("serial %v is %v, want %s", d.Serial, DateOf(d.Serial), d.Date)
		}
	}
	if _, err := ParseDate("2026-02-30"); err == nil {
		t.Error("30 February is a date")
	}
	if Date(0).String() != "" {
		t.Error("no date prints")
	}
}

// Derived: method section 1.
func TestYearsBetweenDates(t *testing.T) {
	a, b := NewDate(2001, time.May, 1), NewDate(2026, time.May, 1)
	if b-a != 9131 {
		t.Errorf("%d days, want 9131", b-a)
	}
	if n := b.YearsSince(a); math.Abs(float64(n)-24.99932) > 5e-6 {
		t.Errorf("N = %v, want 24.99932", n)
	}
	if got := b.AddYears(11.0514); got-b != 4036 || got.String() != "2037-05-19" {
		t.Errorf("%v, %d days, want 4036, 2037-05-19", got, got-b)
	}
	// a whole number of years of days is not lost to the last digit
	if got := b.AddYears(Years(float64(4036) / 365.25)); got-b != 4036 {
		t.Errorf("%d days, want 4036", got-b)
	}
}

// Derived: method section 1, half away from zero, intervals down.
func TestPrinting(t *testing.T) {
	for v, want := range map[float64]string{2.675: "2.68", -2.675: "-2.68", 0.004: "0.00", -0.004: "0.00", 9.995: "10.00", 1.005: "1.01"} {
		if got := Round(v, 2); got != want {
			t.Errorf("Round(%v) = %s, want %s", v, got, want)
		}
	}
	for v, want := range map[Years]string{5.65938: "5.6", 12.0 - 1e-10: "12.0", 11.99: "11.9", 11.0514: "11.0", 0: "0.0"} {
		if got := IntervalText(v); got != want {
			t.Errorf("IntervalText(%v) = %s, want %s", v, got, want)
		}
	}
	for _, c := range []struct {
		k    Kind
		s    System
		v    float64
		want string
	}{
		{Thickness, SI, 2.54, "2.54 mm"},
		{Thickness, US, 2.54, "0.100 in"},
		{Settlement, US, 0.375 * float64(Inch), "0.38 in"}, // a tie, although stored as 9.524999999999999 mm
		{Position, US, 47.85 * float64(Inch), "47.9 in"},
		{RateKind, US, 0.1143, "4.5 mils/year"},
		{StressKind, US, float64(23600 * PSI), "23600 psi"},
		{Height, US, 30000, "98.43 ft"},
		{Thickness, SI, math.NaN(), "– mm"},
	} {
		if got := c.k.TextUnit(c.s, c.v, 0); got != c.want {
			t.Errorf("%v: %q, want %q", c, got, c.want)
		}
	}
}

// The parts are the votes of a table of seats by largest remainder and the
// quota of Hare, ten seats to share.
// Source: Wikipedia, “Largest remainder method”, example with the Hare quota:
// 47,000, 16,000, 15,800, 12,000, 6,100, 3,100 votes → 5, 2, 1, 1, 1, 0 seats.
func TestParts(t *testing.T) {
	for _, c := range []struct{ parts, want []float64 }{
		{[]float64{0.47, 0.16, 0.158, 0.12, 0.061, 0.031}, []float64{0.5, 0.2, 0.1, 0.1, 0.1, 0}},
		{[]float64{0.46, 0.26, 0.28}, []float64{0.5, 0.2, 0.3}}, // derived: each alone rounds to 1.1 together
		{[]float64{91.1, 8.3, 0.6}, []float64{91.1, 8.3, 0.6}},
		{[]float64{0.1, 0.2, 99.7}, []float64{0.1, 0.2, 99.7}}, // their sum is 100 only nearly
		{nil, nil},
	} {
		got := Share.Parts(SI, c.parts)
		if len(got) != len(c.want) {
			t.Fatalf("%v: %v", c.parts, got)
		}
		for i, v := range c.want {
			if got[i] != Round(v, 1) {
				t.Errorf("%v: %v, want %v", c.parts, got, c.want)
			}
		}
	}
}

func TestUnknownIsNoZero(t *testing.T) {
	var none Maybe[Length]
	if m := none.Min(Some(Length(3))); m.V != 3 || !m.Known {
		t.Errorf("min with unknown: %v", m)
	}
	if m := Some(Length(-3)).Max(none); m.V != -3 {
		t.Errorf("max with unknown: %v", m)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		if Some(Length(v)).Known {
			t.Errorf("%v is known", v)
		}
	}
}

func read(t *testing.T, file string, into any) {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatal(err)
	}
}
