package check

import (
	"platebook/rules/finding"
	"platebook/rules/floor"
)

// Key is the name of a finding that stays the same from run to run: code,
// sheet and what the rule's findings stand for, never a row number.
func Key(h finding.Hit) string {
	at := h.Rule + ":" + h.Kind + ":"
	switch byCode[h.Rule].Per {
	case PerCell:
		if h.Column == "" {
			return at + h.Subject
		}
		return at + h.Subject + ":" + h.Column
	case PerValue:
		return at + "[" + h.Subject + "]"
	case PerColumn:
		return at + "[" + h.Column + "]"
	case PerSheet:
		return at + "*"
	case PerFile:
		return h.Rule + "::"
	}
	return at + h.Subject
}

// Pair is the subject of a finding about two rows: their keys in natural order.
func Pair(a, b string) string {
	if c := floor.NaturalOrder(a, b); c > 0 || c == 0 && a > b {
		a, b = b, a
	}
	return a + " ~ " + b
}
