package spelling

import "testing"

func TestEdits(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"Width", "Witdh", 1},
		{"3-4", "3-4", 0},
		{"J. Roe", "J. Rowe", 1},
		{"Soil", "soil", 0},
		{"", "ab", 2},
		{"kitten", "sitting", 3},
		{"abc", "xyz", 3},
		{"soil", "bottm", 3},
	} {
		if got := Edits(c.a, c.b, 2); got != c.want {
			t.Errorf("%s, %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}
