package criteria

import (
	"testing"

	"platebook/rules/unit"
)

func TestDefaultsParseInBothSystems(t *testing.T) {
	for _, s := range []unit.System{unit.SI, unit.US} {
		set := Defaults(s)
		for _, d := range Table {
			if v := set.Get(d.Name); v.Set != (d.Default(s) != "") {
				t.Errorf("%s %v: set = %v", d.Name, s, v.Set)
			}
		}
	}
}
