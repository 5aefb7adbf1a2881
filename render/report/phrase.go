package report

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// none is printed where a value does not exist or is not known.
const none = "–"

func count(n int, noun string) string { return strconv.Itoa(n) + " " + plural(n, noun) }

// plural is a noun in the number of n.
func plural(n int, noun string) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "y") && !strings.HasSuffix(noun, "ay"):
		return strings.TrimSuffix(noun, "y") + "ies"
	}
	return noun + "s"
}

func stand(n int) string {
	if n == 1 {
		return "stands"
	}
	return "stand"
}

func was(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

func date(f inspection.Date) string {
	if !f.OK() {
		return none
	}
	return f.Value.String()
}

// and joins items as a sentence does.
func and(items []string) string {
	switch n := len(items); n {
	case 0:
		return ""
	case 1:
		return items[0]
	default:
		return strings.Join(items[:n-1], ", ") + " and " + items[n-1]
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

var negative = regexp.MustCompile(`(^|[ (])-(\d)`)

// Minus prints the signs of negative numbers as long as a plus.
func Minus(numbers string) string {
	if strings.IndexByte(numbers, '-') < 0 {
		return numbers
	}
	return negative.ReplaceAllString(numbers, "$1−$2")
}

// bare prints a known value without its unit, for tables with the unit in
// the head.
func bare[T ~float64](w *writer, k unit.Kind, m unit.Maybe[T]) string {
	if !m.Known {
		return none
	}
	return Minus(k.Text(w.sys, float64(m.V), 0))
}

// full prints a known value with its unit.
func full[T ~float64](w *writer, k unit.Kind, m unit.Maybe[T]) string {
	if !m.Known {
		return "not known"
	}
	return Minus(k.TextUnit(w.sys, float64(m.V), 0))
}

// field prints a typed value with its unit, "–" when blank, and as typed when
// it could not be read.
func field[T ~float64](w *writer, k unit.Kind, f inspection.Field[T]) string {
	switch f.State {
	case inspection.Given:
		return Minus(k.TextUnit(w.sys, float64(f.Value), 0))
	case inspection.Wrong:
		if f.Text == "" {
			return "missing"
		}
		return fmt.Sprintf("“%s” (not readable)", f.Text)
	}
	return none
}

func fieldBare[T ~float64](w *writer, k unit.Kind, f inspection.Field[T]) string {
	if f.OK() {
		return Minus(k.Text(w.sys, float64(f.Value), 0))
	}
	if f.State == inspection.Wrong && f.Text != "" {
		return "“" + f.Text + "”"
	}
	return none
}

func text(f inspection.Text) string {
	if s := f.Or(""); s != "" {
		return s
	}
	if f.State == inspection.Wrong && f.Text != "" {
		return "“" + f.Text + "”"
	}
	return none
}

func (w *writer) unit(k unit.Kind) string { return k.Unit(w.sys) }

// head is a column head with its unit underneath.
func (w *writer) head(name string, k unit.Kind) string {
	if u := w.unit(k); u != "" {
		return name + "\n" + u
	}
	return name
}

func intervalText(m unit.Maybe[unit.Years]) string {
	if !m.Known {
		return none
	}
	return unit.IntervalText(m.V)
}

// missed tells of a plate that nothing was found on what stands for it.
const missed = ", what the scan may have missed"

// whereOf is where, for the value found there: a plate's sound metal and what
// the scan may have missed on it have one label.
func (w *writer) whereOf(label string, v unit.Maybe[unit.Length]) string {
	switch l := w.res.At(label, v); {
	case l == nil:
		return w.where(label)
	case l.Kind == assess.ThresholdAt:
		return "plate " + label + missed
	case l.Estimated():
		return w.where(label) + ", estimated"
	}
	return w.where(label)
}

// where names a location as a reader looks for it: plate, and what it is on
// the plate.
func (w *writer) where(label string) string {
	if label == "" {
		return none
	}
	if w.kinds == nil {
		w.kinds = map[string]assess.Kind{}
		for i := range w.res.Locations {
			l := &w.res.Locations[i]
			if k, ok := w.kinds[l.Label]; !ok || l.Kind < k {
				w.kinds[l.Label] = l.Kind
			}
		}
	}
	plate, id, ok := strings.Cut(label, "/")
	kind, known := w.kinds[label]
	switch {
	case !ok && known && kind == assess.ThresholdAt:
		return "plate " + plate + missed
	case !ok:
		return "plate " + plate + ", sound metal"
	case kind == assess.ProveUpAt:
		return "plate " + plate + ", prove-up " + id
	case kind == assess.PatchAt:
		return "plate " + plate + ", patch " + id
	case known:
		return "plate " + plate + ", indication " + id
	}
	// A reading has no number of its own, only its place.
	if x, y, ok := strings.Cut(id, ","); ok {
		return fmt.Sprintf("plate %s, reading at X %s, Y %s", plate, x, y)
	}
	return "plate " + plate + ", " + id
}
