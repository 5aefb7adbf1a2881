package nest

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

type set struct {
	Cases     []instance
	Instances []instance
}

type instance struct {
	ID, Name   string
	Plate      []float64
	StripWidth float64 `json:"strip_width"`
	Rotation   bool
	Kerf       float64
	Items      [][]float64
	Expected   struct {
		MinPlates *int    `json:"min_plates"`
		FitsOne   bool    `json:"fits_one_plate"`
		Lower     int     `json:"lower_bound"`
		Upper     int     `json:"guillotine_upper_bound"`
		Optimum   *int    `json:"optimum"`
		Height    int64   `json:"optimal_height"`
		Straight  string  `json:"guillotine_zero_waste_no_rotation"`
		Square    string  `json:"guillotine_200_no_rotation"`
		MaxArea   float64 `json:"unconstrained_guillotine_max_area"`
	}
}

func load(t *testing.T, name string) []instance {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "..", "testdata", "packing", name))
	if err != nil {
		t.Fatal(err)
	}
	var s set
	if err := json.Unmarshal(raw, &s); err != nil {
		t.Fatal(err)
	}
	return append(s.Cases, s.Instances...)
}

func (i instance) sizes() []Size {
	var out []Size
	for _, it := range i.Items {
		out = append(out, Size{it[0], it[1]})
	}
	return out
}

// Source: small_exact_guillotine.json, exhaustive dynamic programming over
// subsets, own work.
func TestSmallExact(t *testing.T) {
	for _, i := range load(t, "small_exact_guillotine.json") {
		stock := []Size{{i.Plate[0], i.Plate[1]}}
		l, err := Cut(i.sizes(), stock, Rules{Kerf: i.Kerf, Turn: i.Rotation})
		if err != nil {
			t.Fatalf("%s: %v", i.ID, err)
		}
		if i.Expected.MinPlates == nil {
			if len(l.TooLarge) == 0 {
				t.Errorf("%s: a piece that fits no sheet was placed", i.ID)
			}
			continue
		}
		if got := len(l.Sheets); got != *i.Expected.MinPlates || len(l.TooLarge) > 0 {
			t.Errorf("%s: %d sheets, exact optimum %d", i.ID, got, *i.Expected.MinPlates)
		}
		if b := max(l.BoundArea, l.BoundDual); b > *i.Expected.MinPlates {
			t.Errorf("%s: bound %d over the optimum %d", i.ID, b, *i.Expected.MinPlates)
		}
	}
}

// Source: bins_oriented_guillotine.json, Berkey and Wang (1987), Martello and
// Vigo (1998), Bengtsson (1982), Beasley (1985), Christofides and Whitlock
// (1977); best known guillotine layouts.
func TestBinsOriented(t *testing.T) {
	for _, i := range load(t, "bins_oriented_guillotine.json") {
		l, err := Cut(i.sizes(), []Size{{i.Plate[0], i.Plate[1]}}, Rules{})
		if err != nil {
			t.Fatalf("%s: %v", i.Name, err)
		}
		got := len(l.Sheets)
		if got > i.Expected.Upper {
			t.Errorf("%s: %d sheets, best known %d, bounds %d %d", i.Name, got, i.Expected.Upper, l.BoundArea, l.BoundDual)
		}
		if b := max(l.BoundArea, l.BoundDual); b > i.Expected.Upper || got < i.Expected.Lower {
			t.Errorf("%s: bound %d, %d sheets, best known %d, lower bound %d", i.Name, b, got, i.Expected.Upper, i.Expected.Lower)
		}
	}
}
