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

// millionth rounds a number as it is written.
func millionth(v float64) float64 {
	if math.Abs(v) < 1e9 {
		v = math.Round(v*1e6) / 1e6
	}
	if v == 0 {
		return 0 // not -0
	}
	return v
}

// MarshalJSON writes the fewest digits; an unknown or endless number is null.
func (n number) MarshalJSON() ([]byte, error) { return n.append(nil), nil }

func (n number) append(b []byte) []byte {
	if !n.known || math.IsNaN(n.v) || math.IsInf(n.v, 0) {
		return append(b, "null"...)
	}
	v := millionth(n.v)
	if v == math.Trunc(v) && math.Abs(v) < 1e15 {
		return strconv.AppendInt(b, int64(v), 10)
	}
	return strconv.AppendFloat(b, v, 'f', -1, 64)
}

// place is a plan coordinate to a tenth of a millimetre.
func place(v float64) number { return number{math.Round(v*10) / 10, true} }

// numbers is a column, one number a row. Where four of five rows have one
// value, that is written once, and then the rows that differ.
type numbers []number

// MarshalJSON writes the column, or {"most": value, "but": {row: value}}.
func (c numbers) MarshalJSON() ([]byte, error) {
	return sparse(c, func(b []byte, n number) []byte { return n.append(b) }), nil
}

// indices is a column of whole numbers, written like numbers.
type indices []int

// MarshalJSON writes the column as numbers does.
func (c indices) MarshalJSON() ([]byte, error) {
	return sparse(c, func(b []byte, n int) []byte { return strconv.AppendInt(b, int64(n), 10) }), nil
}

func sparse[T comparable](c []T, put func([]byte, T) []byte) []byte {
	most, n := majority(c)
	if len(c) == 0 || 5*n < 4*len(c) {
		b := append(make([]byte, 0, 8*len(c)+2), '[')
		for i, v := range c {
			if i > 0 {
				b = append(b, ',')
			}
			b = put(b, v)
		}
		return append(b, ']')
	}
	b := put([]byte(`{"most":`), most)
	b = append(b, `,"but":{`...)
	first := true
	for i, v := range c {
		if v == most {
			continue
		}
		if !first {
			b = append(b, ',')
		}
		first = false
		b = append(b, '"')
		b = strconv.AppendInt(b, int64(i), 10)
		b = append(b, `":`...)
		b = put(b, v)
	}
	return append(b, "}}"...)
}

// majority is the one value that more than half of the rows can have, and how
// many have it.
func majority[T comparable](c []T) (most T, n int) {
	lead := 0
	for _, v := range c {
		switch {
		case lead == 0:
			most, lead = v, 1
		case v == most:
			lead++
		default:
			lead--
		}
	}
	for _, v := range c {
		if v == most {
			n++
		}
	}
	return most, n
}

// list is a column of words: the words once, then their numbers.
type list struct {
	Words []string `json:"words"`
	Of    indices  `json:"of"`
	known map[string]int
}

// start puts words in their usual order before the rows bring theirs.
func start(words ...string) list {
	l := list{Words: []string{}, Of: indices{}, known: map[string]int{}}
	for _, w := range words {
		l.index(w)
	}
	return l
}

func (l *list) index(word string) int {
	i, ok := l.known[word]
	if !ok {
		i = len(l.Words)
		l.known[word] = i
		l.Words = append(l.Words, word)
	}
	return i
}

func (l *list) add(word string) { l.Of = append(l.Of, l.index(word)) }

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
		"share": unit.Share, "points": unit.Points, "bearing": unit.Bearing, "area": unit.AreaKind, "time": unit.Time, "rate": unit.RateKind,
	} {
		out[name] = kind{k.Unit(sys), k.Factor(sys), k.Decimals(sys)}
	}
	return out
}
