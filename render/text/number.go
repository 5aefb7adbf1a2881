// Package text prints an assessment for terminals and programs: findings as
// lines, results as JSON and CSV.
package text

import (
	"encoding/json"
	"math"
	"strconv"

	"platebook/rules/unit"
)

// number is a JSON number with the fewest digits that restore it, or null.
type number struct {
	v     float64
	known bool
}

func some(v float64) number { return number{v, !math.IsNaN(v) && !math.IsInf(v, 0)} }

func maybe[T ~float64](m unit.Maybe[T]) number { return number{float64(m.V), m.Known} }

// in converts a known value to another unit.
func (n number) in(perUnit float64) number { return number{n.v / perUnit, n.known} }

// MarshalJSON writes null for an unknown number.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.known {
		return []byte("null"), nil
	}
	if n.v == 0 {
		return []byte("0"), nil // not -0
	}
	if a := math.Abs(n.v); a >= 1e-6 && a < 1e15 {
		return strconv.AppendFloat(nil, n.v, 'f', -1, 64), nil
	}
	return strconv.AppendFloat(nil, n.v, 'e', -1, 64), nil
}

// verdict is true, false, or null when not judged.
type verdict struct{ ok, known bool }

// MarshalJSON writes null for a verdict that was not reached.
func (v verdict) MarshalJSON() ([]byte, error) {
	if !v.known {
		return []byte("null"), nil
	}
	return strconv.AppendBool(nil, v.ok), nil
}

// words is a string, or null when empty.
type words string

// MarshalJSON writes null for an empty text.
func (w words) MarshalJSON() ([]byte, error) {
	if w == "" {
		return []byte("null"), nil
	}
	return json.Marshal(string(w))
}
