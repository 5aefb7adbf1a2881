package compare

import (
	"math"
	"testing"
	"time"

	"platebook/rules/unit"
)

// Derived by hand: x̄ 28/3, Σ(x − x̄)² 608/3, Σ(x − x̄)(r − r̄) −19.2; t(0.975, 1)
// is 12.7062 (NIST/SEMATECH e-Handbook, table 1.3.6.7.2).
func TestTrendLine(t *testing.T) {
	first := unit.NewDate(2000, time.January, 1)
	l := FitLine([]unit.Date{first, first + 2922, first + 7305}, []unit.Length{6.0, 5.2, 4.1}, 0.5)
	for _, c := range []struct {
		name string
		got  unit.Maybe[unit.Rate]
		want float64
	}{{"rate", l.Rate, 0.0947368}, {"SE", l.SE, 0.00227901}, {"half", l.Half, 0.0289577}, {"reading", l.Reading, 0.0351220}} {
		if !c.got.Known || math.Abs(float64(c.got.V)-c.want) > 1e-6 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
	if l := FitLine([]unit.Date{first, first}, []unit.Length{6, 5}, 0.5); l.Rate.Known {
		t.Error("a rate from one date")
	}
	if l := FitLine([]unit.Date{first, first + 3653}, []unit.Length{6, 5}, 0.5); !l.Rate.Known || l.SE.Known {
		t.Errorf("two readings: %+v", l)
	}
	if l := FitLine([]unit.Date{first}, []unit.Length{6}, 0.5); l.Rate.Known {
		t.Error("a rate from one reading")
	}
}
