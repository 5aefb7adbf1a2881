package criteria

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"platebook/rules/unit"
)

// Parse reads a value as typed in the Criteria sheet, in the unit the sheet
// shows. Blank text is "no such limit".
func (d Definition) Parse(s unit.System, text string) (Value, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Value{}, nil
	}
	switch d.Shape {
	case Choice:
		for _, w := range d.Words {
			if strings.EqualFold(w, text) {
				return Value{Text: w, Set: true}, nil
			}
		}
		return Value{}, fmt.Errorf("%q is none of %s", text, strings.Join(d.Words, ", "))
	case List:
		return d.parseList(s, text)
	}
	n, err := strconv.ParseFloat(strings.Replace(strings.TrimSuffix(text, "%"), ",", ".", 1), 64)
	if err != nil {
		return Value{}, fmt.Errorf("%q is not a number", text)
	}
	return d.Number(s, n)
}

// Number checks a plain number in the sheet's unit and stores it.
func (d Definition) Number(s unit.System, n float64) (Value, error) {
	if math.IsNaN(n) || math.IsInf(n, 0) {
		return Value{}, fmt.Errorf("%v is not a number", n)
	}
	if d.Shape == Whole && n != math.Trunc(n) {
		return Value{}, fmt.Errorf("%v is not a whole number", n)
	}
	v := n * d.Kind.Factor(s)
	const slack = 1e-9
	if v < d.Low-slack || v > d.High+slack {
		return Value{}, fmt.Errorf("%s, range %s to %s", d.Kind.TextUnit(s, v, 1),
			trim(d.Kind.In(s, d.Low)), trim(d.Kind.In(s, d.High)))
	}
	return Value{Number: v, Text: strconv.FormatFloat(n, 'f', -1, 64), Set: true}, nil
}

func trim(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

func (d Definition) parseList(s unit.System, text string) (Value, error) {
	v := Value{Text: text, Set: true}
	last := math.Inf(-1)
	for _, part := range strings.Split(text, ";") {
		part = strings.TrimSpace(part)
		if d.Name == StockSheets {
			a, b, ok := strings.Cut(strings.ToLower(part), "x")
			w, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
			h, err2 := strconv.ParseFloat(strings.TrimSpace(b), 64)
			f := unit.Size.Factor(s)
			if !ok || err1 != nil || err2 != nil || !(w*f >= 100 && h*f >= 100 && w*f <= 30000 && h*f <= 30000) {
				return Value{}, fmt.Errorf("%q is no sheet size such as %s", part, firstOf(d.Default(s)))
			}
			v.Numbers = append(v.Numbers, w*f, h*f)
			continue
		}
		n, err := strconv.ParseFloat(part, 64)
		if err != nil || !(n > last && n > 0 && n < 100) {
			return Value{}, fmt.Errorf("%q: numbers between 0 and 100 that rise, divided by semicolons", text)
		}
		last = n
		v.Numbers = append(v.Numbers, n)
	}
	return v, nil
}

func firstOf(list string) string {
	first, _, _ := strings.Cut(list, ";")
	return first
}
