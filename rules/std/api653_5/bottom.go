package api653_5

import (
	"math"

	"platebook/rules/unit"
)

// Rate is the corrosion rate of a place, loss positive; a negative result says
// that the place measures thicker than it was.
//
//	rate = (t0 − r)/N
//
// t0 original thickness, mm; r remaining thickness, mm; N age of the metal,
// years, above 0 (at 0 or below there is no rate).
//
// Source: API Std 653, 4.4.5.1 (linear rate).
// Check: (6.35 − 3.4925) mm in 24.99932 years is 0.114303 mm/year, TestRate.
func Rate(t0, r unit.Length, n unit.Years) unit.Maybe[unit.Rate] {
	if !(n > 0) {
		return unit.Maybe[unit.Rate]{}
	}
	return unit.Some(unit.Rate(float64(t0-r) / float64(n)))
}

// MinimumRemaining is the minimum remaining thickness at the end of the
// interval.
//
//	MRT = min(RTbc, RTip) − Or·(StPr + UPr)
//
// RTbc least remaining thickness from bottom-side corrosion, mm; RTip from
// internal pitting, mm; Or interval, years; StPr and UPr rates of the product
// and the soil side, mm/year. All may be any number; rates are not negative
// where a caller follows the method.
//
// Source: API Std 653, 4.4.5.1.
// Check: 0.190 and 0.210 in, 0.002 + 0.005 in/year, 10 years give 0.120 in,
// TestMinimumRemaining.
func MinimumRemaining(rtbc, rtip unit.Length, or unit.Years, stpr, upr unit.Rate) unit.Length {
	return min(rtbc, rtip) - unit.Length(float64(or)*float64(stpr+upr))
}

// Interval is the time until the least remaining thickness reaches the
// required one: MinimumRemaining solved for the interval.
//
//	Or = (RT − t_req)/(StPr + UPr)
//
// RT least remaining thickness, mm; t_req required thickness, mm; StPr, UPr
// rates, mm/year. A numerator at or below 0 gives 0 years whatever the rates;
// rates of 0 give no number (unlimited by corrosion, never an infinite life).
//
// Source: derived from API Std 653, 4.4.5.1.
// Check: 0.190 in, 0.10 in, 0.007 in/year give 12.857 years, TestInterval.
func Interval(rt, required unit.Length, stpr, upr unit.Rate) unit.Maybe[unit.Years] {
	if rt-required <= noLength {
		return unit.Some(unit.Years(0))
	}
	if stpr+upr <= NoRate {
		return unit.Maybe[unit.Years]{}
	}
	return unit.Some(unit.Years(float64(rt-required) / float64(stpr+upr)))
}

// What counts as nothing: the last digits of a double are no thickness and no
// rate, so that SI and US twins of one workbook agree.
//
// Source: derived.
const (
	noLength unit.Length = 1e-9
	NoRate   unit.Rate   = 1e-9
)

// CriticalZoneRequired is the required thickness of the bottom in the critical
// zone.
//
//	t_cz = max(0.10 in, min(½(t_nom − CA), ½·t_min))
//
// t_nom nominal thickness of the bottom plate, mm; CA its corrosion allowance,
// mm; t_min required thickness of the lower shell course, mm; unknown, half
// the bottom alone decides, which is never less. A release-prevention barrier
// does not lower it.
//
// Source: API Std 653, 4.4.5.4; the allowance from memory, verify.
// Check: 0.25 in with t_min 0.218, 0.36, 0.15 in gives 0.109, 0.125, 0.100 in,
// TestCriticalZoneRequired.
func CriticalZoneRequired(nominal, allowance unit.Length, shell unit.Maybe[unit.Length]) unit.Length {
	t := (nominal - allowance) / 2
	if shell.Known {
		t = min(t, shell.V/2)
	}
	return max(CriticalZoneFloor, t)
}

// CriticalZoneFloor is the least required thickness in the critical zone.
//
// Source: API Std 653, 4.4.5.4.
const CriticalZoneFloor = unit.Length(0.10 * 25.4)

// InitialInterval is the longest first interval, before the caps of the
// standard.
//
//	I = base + credits + (CA − 150)/15 when CA > 150
//
// base and credits in years; CA corrosion allowance of the bottom in mils.
//
// Source: API Std 653, 6.4.2, interval slides.
// Check: 10 + 5 + 5 with 0.200 in gives 23.33 years, TestInitialInterval.
func InitialInterval(base, credits unit.Years, allowance unit.Length) unit.Years {
	mils := float64(allowance) / float64(unit.Mil)
	return base + credits + unit.Years(math.Max(0, (mils-150)/15))
}
