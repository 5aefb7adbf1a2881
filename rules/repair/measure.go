package repair

import (
	"math"

	"platebook/rules/unit"
)

// WeldLength is the length of the fillet weld around a patch.
//
//	2(a + b) − (8 − 2π)c
//
// a, b sides, mm; c corner radius, mm, at most half the lesser side. Without
// sides 0.
//
// Source: derived, plane geometry. Check: 150 × 160, radius 50 → 534.159 mm
// (TestPrintedMeasures).
func WeldLength(a, b, c unit.Length) unit.Length {
	if a <= 0 || b <= 0 {
		return 0
	}
	c = max(0, min(c, min(a, b)/2))
	return 2*(a+b) - (8-2*math.Pi)*c
}

// TombstoneWeld is the same of a tombstone, less the side that meets the shell.
//
//	2(a + b) − (8 − 2π)c − a
//
// a along the shell, b inward from it, c corner radius; mm.
//
// Source: derived, method section 10. Check: TestPrintedMeasures.
func TombstoneWeld(a, b, c unit.Length) unit.Length {
	if a <= 0 || b <= 0 {
		return 0
	}
	return WeldLength(a, b, c) - a
}

// CircleWeld is the length of the weld around a round patch.
//
//	π·d
//
// d diameter, mm.
//
// Source: derived, plane geometry. Check: 300 → 942.478 mm
// (TestPrintedMeasures).
func CircleWeld(d unit.Length) unit.Length { return math.Pi * max(0, d) }

// density of carbon steel, kg for each m² and mm of thickness.
//
// Source: handbooks of mechanical engineering, 7850 kg/m³.
const density = 7.85

// BlankMass is the mass of a rectangular steel blank.
//
//	7.85·a·b·t/10⁶
//
// a, b sides and t thickness, mm; the result in kg.
//
// Source: density of carbon steel, 7850 kg/m³. Check: 150 × 160 × 6.35 →
// 1.19634 kg (TestPrintedMeasures).
func BlankMass(a, b, t unit.Length) unit.Mass {
	return unit.Mass(density * float64(a) * float64(b) * float64(t) / 1e6)
}
