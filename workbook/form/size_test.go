package form

import (
	"math"
	"testing"
)

func TestParseSize(t *testing.T) {
	for _, c := range []struct {
		text string
		want []float64 // mm; none: refused
	}{
		{"30m", []float64{30000}},
		{"30 m", []float64{30000}},
		{"100ft", []float64{30480}},
		{"100'", []float64{30480}},
		{"50mm", []float64{50}},
		{"2in", []float64{50.8}},
		{`2"`, []float64{50.8}},
		{"70cm", []float64{700}},
		{"1.8x6m", []float64{1800, 6000}},
		{"1.8mx6m", []float64{1800, 6000}},
		{"1800mm x 6m", []float64{1800, 6000}},
		{"6x20ft", []float64{1828.8, 6096}},
		{"6X20FT", []float64{1828.8, 6096}},
		{"1.8×6m", []float64{1800, 6000}},
		{"30", nil},
		{"1.8x6", nil},
		{"1.8mx6", nil},
		{"", nil},
		{"m", nil},
		{"x", nil},
		{"0m", nil},
		{"-3m", nil},
		{"infm", nil},
		{"1,8m", nil},
		{"1x2x3m", nil},
		{"thirty m", nil},
	} {
		got, err := ParseSize(c.text)
		if (err == nil) != (c.want != nil) || len(got) != len(c.want) {
			t.Errorf("%q: %v, %v; want %v", c.text, got, err, c.want)
			continue
		}
		for i := range got {
			if math.Abs(float64(got[i])-c.want[i]) > 1e-9 {
				t.Errorf("%q: %v, want %v", c.text, got, c.want)
			}
		}
	}
}

func TestParsePlateTakesEitherOrder(t *testing.T) {
	for _, text := range []string{"1.8x6m", "6x1.8m"} {
		w, l, err := ParsePlate(text)
		if err != nil || w != 1800 || l != 6000 {
			t.Errorf("%s: %v × %v, %v", text, w, l, err)
		}
	}
	if _, _, err := ParsePlate("6m"); err == nil {
		t.Error("one side taken for a plate")
	}
	if _, err := ParseLength("1x2m"); err == nil {
		t.Error("two sides taken for a length")
	}
}
