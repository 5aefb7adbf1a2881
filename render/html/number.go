package html

import (
	"math"
	"strconv"

	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// number is a JSON number rounded to a millionth, so that what is typed in a
// filter meets what was typed in a workbook; null when unknown.
type number struct {
	v     float64
	known bool
}

func some(v float64) number { return number{v, true} }

func maybe[T ~float64](m unit.Maybe[T]) number { return number{float64(m.V), m.Known} }

func typed[T ~float64](f inspection.Field[T]) number { return number{float64(f.Value), f.OK()} }

// MarshalJSON writes the fewest digits; an unknown or endless number is null.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.known || math.IsNaN(n.v) || math.IsInf(n.v, 0) {
		return []byte("null"), nil
	}
	v := n.v
	if math.Abs(v) < 1e9 {
		v = math.Round(v*1e6) / 1e6
	}
	if v == 0 {
		return []byte("0"), nil // not -0
	}
	return strconv.AppendFloat(nil, v, 'f', -1, 64), nil
}

// place is a plan coordinate to a tenth of a millimetre.
func place(v float64) number { return number{math.Round(v*10) / 10, true} }

// kind is how the script prints a quantity.
type kind struct {
	Unit     string  `json:"unit"`
	Factor   float64 `json:"factor"`
	Decimals int     `json:"decimals"`
}

func kinds(sys unit.System) map[string]kind {
	out := map[string]kind{}
	for name, k := range map[string]unit.Kind{
		"thickness": unit.Thickness, "position": unit.Position, "size": unit.Size, "height": unit.Height,
		"share": unit.Share, "points": unit.Points, "bearing": unit.Bearing, "area": unit.AreaKind, "time": unit.Time,
	} {
		out[name] = kind{k.Unit(sys), k.Factor(sys), k.Decimals(sys)}
	}
	return out
}
