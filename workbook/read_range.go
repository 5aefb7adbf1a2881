package workbook

import (
	"fmt"
	"math"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook/layout"
)

// outOfRange holds a value against what can be.
func (t *table) outOfRange(c *column, v float64) (finding.Hit, bool) {
	def, k := c.def, c.def.Kind
	const slack = 1e-9
	text := func(v float64) string { return quantityText(k, t.units, v) }
	h := finding.Hit{Rule: "C107"}
	switch bounded := def.Low != 0 || def.High != 0; {
	case v == 0 && def.ZeroOK, v < 0 && def.Signed && !bounded:
		return h, false
	case bounded && (v < def.Low-slack*max(1, math.Abs(def.Low)) || v > def.High+slack*max(1, math.Abs(def.High))):
		h.Message = fmt.Sprintf("%s %s, range %s–%s", def.Header, text(v),
			limitText(k.In(t.units, def.Low)), withUnit(limitText(k.In(t.units, def.High)), k.Unit(t.units)))
	case v == 0 && !def.Signed:
		h.Message = fmt.Sprintf("%s 0 is no %s", def.Header, strings.ToLower(sizeWord(k)))
	case v < 0 && !def.Signed:
		h.Message = fmt.Sprintf("%s %s is below 0", def.Header, text(v))
	default:
		return h, false
	}
	return h, true
}

func sizeWord(k unit.Kind) string {
	switch k {
	case unit.Thickness, unit.Coating:
		return "thickness"
	case unit.Size, unit.Position, unit.Height, unit.Settlement:
		return "size"
	}
	return "value"
}

// worth orders values out of range by how far out they are.
func worth(def *layout.Column, v float64) float64 {
	if v > def.High {
		return v - def.High
	}
	return def.Low - v
}
