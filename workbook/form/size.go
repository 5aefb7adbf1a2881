package form

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"platebook/rules/unit"
)

var sizeUnits = []struct {
	suffix string
	length unit.Length
}{
	{"mm", 1},
	{"cm", 10},
	{"m", unit.Metre},
	{"ft", unit.Foot},
	{"in", unit.Inch},
	{"'", unit.Foot},
	{"\"", unit.Inch},
}

// ParseSize reads a size as an option gives it: one length such as 30m, 100ft
// or 50mm, or two divided by x such as 1.8x6m or 6x20ft, where the last unit
// also counts for the first number. A number without any unit is refused:
// 30 could be metres or feet.
func ParseSize(text string) ([]unit.Length, error) {
	parts := strings.FieldsFunc(strings.ToLower(strings.Join(strings.Fields(text), "")), func(r rune) bool { return r == 'x' || r == '×' })
	if len(parts) == 0 || len(parts) > 2 {
		return nil, fmt.Errorf("size %q is not of the form 30m or 1.8x6m", text)
	}
	sizes := make([]unit.Length, len(parts))
	var factor unit.Length
	for i := len(parts) - 1; i >= 0; i-- {
		number := parts[i]
		for _, u := range sizeUnits {
			if n, ok := strings.CutSuffix(number, u.suffix); ok {
				number, factor = n, u.length
				break
			}
		}
		if factor == 0 {
			return nil, fmt.Errorf("size %q has no unit: write 30m, 30000mm or 100ft", text)
		}
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || math.IsInf(v, 0) || math.IsNaN(v) || v <= 0 {
			return nil, fmt.Errorf("size %q: %q is not a number above 0", text, number)
		}
		sizes[i] = unit.Length(v) * factor
	}
	return sizes, nil
}

// ParseLength is ParseSize for exactly one length.
func ParseLength(text string) (unit.Length, error) {
	sizes, err := ParseSize(text)
	if err != nil {
		return 0, err
	}
	if len(sizes) != 1 {
		return 0, fmt.Errorf("size %q: one length such as 30m is wanted", text)
	}
	return sizes[0], nil
}

// ParsePlate is ParseSize for the two sides of a plate, in either order. The
// lesser is its width.
func ParsePlate(text string) (width, length unit.Length, err error) {
	sizes, err := ParseSize(text)
	if err != nil {
		return 0, 0, err
	}
	if len(sizes) != 2 {
		return 0, 0, fmt.Errorf("plate %q: two sides such as 1.8x6m are wanted", text)
	}
	return min(sizes[0], sizes[1]), max(sizes[0], sizes[1]), nil
}
