package workbook

import (
	"fmt"
	"strconv"
	"strings"

	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// coverageSteps are the shares of the plate area, in the order of the report.
var coverageSteps = [...]string{"coverage.mfl", "coverage.hand", "coverage.ut", "coverage.not_examined"}

// shares are the shares of coverage as the report prints them: in tenths that
// make up the whole, live from their steps.
func (rs *results) shares() []xlsx.Entry {
	out := make([]xlsx.Entry, len(coverageSteps))
	for i := range out {
		out[i] = notKnown()
	}
	p := rs.a.Plan
	if p == nil || !p.Coverage.MFL.Known {
		return out
	}
	exact := p.Coverage.Shares()
	live := true
	cells := make([]string, len(exact))
	for i, id := range coverageSteps {
		st := rs.a.Result.Steps.Find(id)
		live = live && st != nil && st.Known && close9(st.Value, exact[i])
		cells[i] = rs.cells[id]
	}
	for i, text := range unit.Share.Parts(rs.sys, exact) {
		v, err := strconv.ParseFloat(text, 64)
		switch {
		case err != nil:
		case live:
			out[i] = xlsx.Live(partOfWhole(cells, i), v, xlsx.Fixed1)
		default:
			out[i] = xlsx.Number(v, xlsx.Fixed1)
		}
	}
	return out
}

// partOfWhole is the formula of part i in tenths: each part is rounded down, and
// the tenths that are missing to the rounded whole go to the largest rests, the
// first among equals, as unit.Kind.Parts gives them.
func partOfWhole(cells []string, i int) string {
	down := func(k int) string { return "INT(10*" + cells[k] + "+1E-09)" }
	rest := func(k int) string { return "10*" + cells[k] + "-" + down(k) }
	var ahead, given []string
	for k := range cells {
		given = append(given, down(k))
		switch {
		case k < i: // ahead of i with a larger rest or an equal one
			ahead = append(ahead, fmt.Sprintf("(%s-(%s)>-1E-09)", rest(k), rest(i)))
		case k > i:
			ahead = append(ahead, fmt.Sprintf("(%s-(%s)>=1E-09)", rest(k), rest(i)))
		}
	}
	missing := "INT(10*(" + strings.Join(cells, "+") + ")+0.5+1E-09)-" + strings.Join(given, "-")
	return "(" + down(i) + "+IF(" + strings.Join(ahead, "+") + "<" + missing + ",1,0))/10"
}
