package form

import (
	"fmt"
	"math"
	"testing"

	"platebook/rules/unit"
)

// netArea of a layout is summed over thin vertical strips: in each strip the
// plates of a row are cut at the rim, and a lap counts once.
func netArea(o Options, slots []Slot) float64 {
	rim := float64(o.Diameter)/2 - float64(o.AnnularWidth)
	lap := float64(o.Lap)
	rows := map[int][]Slot{}
	last := 0
	for _, s := range slots {
		if s.Type != "annular" {
			rows[s.Row] = append(rows[s.Row], s)
			last = max(last, s.Row)
		}
	}
	w := float64(o.PlateWidth)
	stack := float64(last)*w - float64(last-1)*lap
	const n = 4000
	area := 0.0
	for k := range n {
		y := -rim + (float64(k)+0.5)*2*rim/n
		half := math.Sqrt(rim*rim - y*y)
		row := int((y+stack/2)/(w-lap)) + 1
		row = min(row, last)
		length := 0.0
		for _, s := range rows[row] {
			length += s.Length
		}
		length -= float64(len(rows[row])-1) * lap
		area += 2 * min(half, length/2) * 2 * rim / n
	}
	for _, s := range slots {
		if s.Type == "annular" {
			r := float64(o.Diameter) / 2
			area += (s.End - s.Start) / 360 * math.Pi * (r*r - rim*rim)
		}
	}
	return area
}

func TestLayoutCoversTheFloor(t *testing.T) {
	for _, d := range []float64{3000, 6000, 12190, 24384, 25000, 30000, 48000, 90000} {
		for _, plate := range [][2]float64{{1800, 6000}, {1500, 3000}, {1828.8, 6096}, {2500, 2500}} {
			for _, lap := range []float64{0, 50} {
				for _, ring := range []float64{0, 700} {
					o := Options{Diameter: unit.Length(d), PlateWidth: unit.Length(plate[0]), PlateLength: unit.Length(plate[1]), Lap: unit.Length(lap), AnnularWidth: unit.Length(ring)}
					name := fmt.Sprintf("%g %v lap %g ring %g", d, plate, lap, ring)
					if plate[1] > d {
						continue
					}
					slots, err := Layout(o)
					if err != nil {
						t.Errorf("%s: %v", name, err)
						continue
					}
					floor := math.Pi * d * d / 4
					if off := netArea(o, slots)/floor - 1; math.Abs(off) > 0.01 {
						t.Errorf("%s: plates cover %.2f %% of the floor too much", name, 100*off)
					}
					checkSlots(t, name, o, slots)
				}
			}
		}
	}
}

func checkSlots(t *testing.T, name string, o Options, slots []Slot) {
	t.Helper()
	labels := map[string]bool{}
	arc := 0.0
	for _, s := range slots {
		if labels[s.Label] {
			t.Errorf("%s: label %s twice", name, s.Label)
		}
		labels[s.Label] = true
		if s.Length < float64(o.PlateLength)/6 || s.Length > float64(o.PlateLength)+1e-9 {
			if s.Type != "annular" || s.Length > float64(o.PlateLength)+1 {
				t.Errorf("%s: plate %s is %g long", name, s.Label, s.Length)
			}
		}
		if s.Type == "annular" {
			arc += s.Length
		}
	}
	if o.AnnularWidth > 0 {
		if full := math.Pi * float64(o.Diameter); math.Abs(arc-full) > 60 {
			t.Errorf("%s: ring of %g, circumference %g", name, arc, full)
		}
	}
}

// The check of the method's section 2: D 6 m, lap 50, widths 1800. Its rows
// of 5000, 6050, 6000 and 5000 are one choice; ours has the same bottoms.
func TestLayoutOfTheMethodsExample(t *testing.T) {
	slots, err := Layout(Options{Diameter: 6000, PlateLength: 5000, PlateWidth: 1800, Lap: 50})
	if err != nil {
		t.Fatal(err)
	}
	if got := slots[len(slots)-1].Row; got != 4 {
		t.Errorf("%d rows, want 4", got)
	}
}

func TestLayoutRefusesNonsense(t *testing.T) {
	good := Options{Diameter: 30_000, PlateLength: 6000, PlateWidth: 1800, Lap: 50, AnnularWidth: 700}
	if _, err := Layout(good); err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(*Options){
		"no diameter":     func(o *Options) { o.Diameter = 0 },
		"diameter in mm":  func(o *Options) { o.Diameter *= 1000 },
		"no plate":        func(o *Options) { o.PlateLength, o.PlateWidth = 0, 0 },
		"plate too long":  func(o *Options) { o.PlateLength = 40_000 },
		"lap below 0":     func(o *Options) { o.Lap = -1 },
		"lap too large":   func(o *Options) { o.Lap = 500 },
		"ring too wide":   func(o *Options) { o.AnnularWidth = 16_000 },
		"ring too narrow": func(o *Options) { o.AnnularWidth = 10 },
	} {
		o := good
		change(&o)
		if _, err := Layout(o); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}
