package recount_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"testing"

	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/invented"
)

// judged is what the program makes of a tank.
func judged(t *testing.T, tank *invented.Tank, system unit.System) *rules.Assessment {
	t.Helper()
	data, err := tank.Bytes(system)
	if err != nil {
		t.Fatal(err)
	}
	book, err := workbook.OpenBytes(context.Background(), "invented.xlsx", data, workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return rules.Assess(book.Inspection, book.Hits, nil)
}

// flat is a result's JSON document by path; members of a list go by their
// name: plates[3-4].interval_years.
func flat(t *testing.T, a *rules.Assessment) map[string]any {
	t.Helper()
	var data bytes.Buffer
	if err := text.JSON(&data, a, text.Program{}, text.Made(), false, false); err != nil {
		t.Fatal(err)
	}
	var doc any
	if err := json.NewDecoder(&data).Decode(&doc); err != nil {
		t.Fatal(err)
	}
	out := map[string]any{}
	flatten(out, "", doc)
	return out
}

func flatten(out map[string]any, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, m := range v {
			flatten(out, trimmed(path+"."+k), m)
		}
	case []any:
		for i, m := range v {
			flatten(out, path+"["+nameOf(m, i)+"]", m)
		}
	default:
		out[path] = v
	}
}

func trimmed(p string) string {
	if p[0] == '.' {
		return p[1:]
	}
	return p
}

func nameOf(v any, i int) string {
	m, ok := v.(map[string]any)
	if !ok {
		return strconv.Itoa(i)
	}
	word := func(k string) string { s, _ := m[k].(string); return s }
	switch {
	case word("bearing_deg") != "" || m["plan_x_mm"] != nil || word("id") != "" && word("plate") != "":
		return word("plate") + "/" + word("id")
	case m["net_area_m2"] != nil || m["worst_at"] != nil || m["nominal_mm"] != nil && word("plate") != "":
		return word("plate")
	case m["repair_below_mm"] != nil:
		return strconv.FormatFloat(m["repair_below_mm"].(float64), 'f', 3, 64)
	case word("change") != "":
		return word("input") + " " + word("change")
	case m["from_pct"] != nil:
		return strconv.FormatFloat(m["from_pct"].(float64), 'f', -1, 64)
	}
	for _, k := range []string{"plate", "id", "name", "point", "repair"} {
		if word(k) != "" {
			return word(k)
		}
	}
	return strconv.Itoa(i)
}

// differ says how two values of a result differ, "" when they agree.
func differ(got, want any, tol float64) string {
	g, gn := got.(float64)
	w, wn := want.(float64)
	if gn && wn {
		if math.Abs(g-w) <= tol*max(1, math.Abs(w)) {
			return ""
		}
	} else if got == want {
		return ""
	}
	return fmt.Sprintf("got %v, want %v", got, want)
}
