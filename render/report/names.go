package report

import (
	"reflect"
	"slices"
	"strings"

	"platebook/render/lettering"
	"platebook/rules/inspection"
)

// rightToLeft is what the workbook says in letters that read from right to
// left, each text once: labels, names, remarks, whichever sheet they stand on.
func rightToLeft(in *inspection.Inspection) []string {
	found := map[string]bool{}
	gather(reflect.ValueOf(in).Elem(), found)
	out := make([]string, 0, len(found))
	for t := range found {
		out = append(out, t)
	}
	slices.Sort(out)
	return out
}

func gather(v reflect.Value, found map[string]bool) {
	switch v.Kind() {
	case reflect.String:
		if t := v.String(); strings.ContainsFunc(t, lettering.RightToLeft) {
			found[t] = true
		}
	case reflect.Struct:
		for i := range v.NumField() {
			gather(v.Field(i), found)
		}
	case reflect.Slice:
		switch v.Type().Elem().Kind() {
		case reflect.Struct, reflect.String:
			for i := range v.Len() {
				gather(v.Index(i), found)
			}
		}
	}
}
