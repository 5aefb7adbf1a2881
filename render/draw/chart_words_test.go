package draw

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"platebook/rules/unit"
)

// wordsKeepOff holds that no word of a class lies on a line or a mark of the
// chart, and that each of the wanted ones is there.
func wordsKeepOff(t *testing.T, s *Scene, words string, want int, lines ...string) {
	t.Helper()
	on := newOccupied(rect{0, 0, s.Width, s.Height})
	for _, it := range s.Items {
		p, ok := it.(Path)
		if !ok {
			continue
		}
		for _, class := range lines {
			if p.Class != class {
				continue
			}
			var last point
			for _, q := range p.Segments {
				at := point{q.X, q.Y}
				if q.Op != Move && q.Op != Close {
					for r := range (segment{last, at}).boxes(0) {
						on.add(r)
					}
				}
				last = at
			}
		}
	}
	n := 0
	for _, it := range s.Items {
		if l, ok := it.(Label); ok && l.Class == words {
			n++
			if on.overlap(l.box(), 1) > 0 {
				t.Errorf("%s: %s %q lies on a line or a point", s.Name, words, l.Text)
			}
		}
	}
	if n != want {
		t.Errorf("%s: %d of %d numbers", s.Name, n, want)
	}
}

func TestSettlementNumbersKeepOffLines(t *testing.T) {
	a := small.assessment()
	for _, n := range []int{8, 16, 32} {
		var levels []Level
		for i := range n {
			b := 360 * float64(i) / float64(n)
			off := 9 * math.Sin(float64(i*i)) // far off the plane, either way
			levels = append(levels, Level{Point: fmt.Sprint(i + 1), Bearing: b, Elevation: 3 + 14*math.Cos(b*math.Pi/180) + off})
		}
		s := SettlementChart(a, Sheet{}, levels, 3, 14, 0, true)
		wordsKeepOff(t, s, "point", n, "residual", "fit", "level")
		for _, want := range []string{"surveyed point", "fitted plane", "off the plane"} {
			if !strings.Contains(textOf(t, s), want) {
				t.Errorf("no %q in the key", want)
			}
		}
	}
}

// The interval changes in steps: the chart says nothing of thresholds that were
// not worked out but that the shorter interval of both neighbours is drawn.
func TestThresholdChartGoesInSteps(t *testing.T) {
	a := small.assessment()
	var levels []Threshold
	years := []float64{4, 4, 7, 7, 15, 15, 12, 20}
	for i, y := range years {
		levels = append(levels, Threshold{RepairBelow: unit.Length(3 + 0.25*float64(i)), Interval: unit.Some(unit.Years(y)), Repairs: 7 * i * i})
	}
	s := ThresholdChart(a, Sheet{}, levels, unit.Some(unit.Years(10)), unit.Some(unit.Length(3.75)))
	wordsKeepOff(t, s, "count", len(levels), "interval", "level", "wanted", "chosen")
	var points []point
	var treads []segment
	for _, it := range s.Items {
		p, ok := it.(Path)
		switch {
		case ok && p.Class == "level":
			points = append(points, point{p.Segments[0].X - 0.7, p.Segments[0].Y})
		case ok && p.Class == "interval" && len(p.Segments) > 2:
			for i, q := range p.Segments[1:] {
				from := p.Segments[i]
				switch dx, dy := math.Abs(q.X-from.X), math.Abs(q.Y-from.Y); {
				case dx > 1e-9 && dy > 1e-9:
					t.Errorf("a slope from %.1f, %.1f to %.1f, %.1f", from.X, from.Y, q.X, q.Y)
				case dx > 1e-9:
					treads = append(treads, segment{point{from.X, from.Y}, point{q.X, q.Y}})
				}
			}
		}
	}
	if len(points) != len(levels) || len(treads) != len(levels)-1 {
		t.Fatalf("%d points and %d treads for %d thresholds", len(points), len(treads), len(levels))
	}
	for i, w := range treads {
		if low := max(points[i].y, points[i+1].y); math.Abs(w.a.y-low) > 1e-9 {
			t.Errorf("between thresholds %d and %d the line stands at %.2f, the shorter interval at %.2f", i+1, i+2, w.a.y, low)
		}
	}
}
