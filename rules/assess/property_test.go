package assess

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// orInf is an interval, unlimited when there is no number.
func orInf(m unit.Maybe[unit.Years]) float64 {
	if !m.Known {
		return math.Inf(1)
	}
	return float64(m.V)
}

// Derived: metal found thicker never gives a shorter life, as found and, with
// rates as found, as planned.
func TestThickerNeverShortens(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for n := range 150 {
		b := anyTank(rng).set(criteria.SizingMinimumPairs, "1000").set(criteria.RateAfterRepair, "as found")
		before := b.assess()
		for range 5 {
			i := rng.IntN(len(b.in.Indications))
			thicken(&b.in.Indications[i])
			if len(b.in.ProveUps) > 0 {
				u := &b.in.ProveUps[rng.IntN(len(b.in.ProveUps))]
				if u.Remaining.OK() {
					u.Remaining.Value += 0.2
				}
			}
			after := b.assess()
			if before.AsFound.RateUnknown != after.AsFound.RateUnknown {
				t.Fatalf("floor %d: rates %q, then %q", n, before.AsFound.RateUnknown, after.AsFound.RateUnknown)
			}
			if orInf(after.AsFound.Interval) < orInf(before.AsFound.Interval)-1e-9 {
				t.Fatalf("floor %d: thicker, %v years after %v", n, after.AsFound.Interval, before.AsFound.Interval)
			}
			if after.AsFound.SoilMin.V < before.AsFound.SoilMin.V-1e-9 {
				t.Fatalf("floor %d: thicker, least %v after %v", n, after.AsFound.SoilMin, before.AsFound.SoilMin)
			}
			before = after
		}
	}
}

func thicken(i *inspection.Indication) {
	if i.Loss.OK() {
		i.Loss.Value = max(0, i.Loss.Value-3)
	}
	if i.Remaining.OK() {
		i.Remaining.Value += 0.19
	}
	if i.Depth.OK() {
		i.Depth.Value = max(0, i.Depth.Value-0.19)
	}
}

// Derived: a larger rate never lengthens.
func TestFasterNeverLengthens(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for range 60 {
		b := anyTank(rng)
		b.in.Tank.DesiredInterval = inspection.Years{}
		last := math.Inf(1)
		for _, rate := range []string{"0", "0.05", "0.1", "0.3", "1"} {
			b.set(criteria.MinimumSoilSideRate, rate).set(criteria.MinimumProductSideRate, rate)
			a := b.assess().AsFound
			if got := orInf(a.Interval); got > last+1e-9 {
				t.Fatalf("at least %s mm/y: %v years after %v", rate, got, last)
			} else {
				last = got
			}
		}
	}
}

// twin is the same inspection as a US workbook holds it, its criteria
// converted exactly: every length went through inches and back.
func twin(b *builder) *builder {
	out := &builder{rows: map[string]int{}}
	in := *b.in
	in.Units = unit.US
	inches(reflect.ValueOf(&in).Elem())
	set := criteria.Defaults(unit.US)
	for _, d := range criteria.Table {
		v := b.in.Criteria.Get(d.Name)
		if d.Shape == criteria.Quantity && v.Set {
			v.Number = v.Number / d.Kind.Factor(unit.US) * d.Kind.Factor(unit.US)
		}
		set.Put(d.Name, v)
	}
	in.Criteria = set
	out.in = &in
	return out
}

// inches copies slices and sends each length through inches and back.
func inches(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		if f, ok := v.Addr().Interface().(*inspection.Length); ok {
			f.Value = f.Value / 25.4 * 25.4
			f.Scale *= 25.4
			return
		}
		for i := range v.NumField() {
			inches(v.Field(i))
		}
	case reflect.Slice:
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(c, v)
		v.Set(c)
		for i := range v.Len() {
			inches(v.Index(i))
		}
	}
}

// Derived: SI and US twins give one verdict.
func TestTwinsAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for n := range 200 {
		b := anyTank(rng)
		// values at the limits, where a last digit could decide
		b.indication("L1", "3-3", 300, 300, "soil", "UT", b.rest(2.54)).indication("L2", "3-3", 300, 900, "product", "UT", b.rest(3.175))
		si, us := b.assess(), twin(b).assess()
		for i := range si.Locations {
			l, u := &si.Locations[i], &us.Locations[i]
			if l.Verdict != u.Verdict || l.Zone != u.Zone || l.Basis != u.Basis || l.Counts != u.Counts || math.Abs(float64(l.Remaining.V-u.Remaining.V)) > 1e-9 {
				t.Fatalf("floor %d, %s: %s %s %v, twin %s %s %v", n, l.Label, l.Verdict, l.Basis, l.Remaining, u.Verdict, u.Basis, u.Remaining)
			}
		}
		for _, s := range States {
			a, c := si.State(s), us.State(s)
			if (a == nil) != (c == nil) {
				t.Fatalf("floor %d, %v: only one of the twins", n, s)
			}
			if a == nil {
				continue
			}
			if a.GovernedBy != c.GovernedBy || a.NextDate != c.NextDate || math.Abs(float64(a.Interval.V-c.Interval.V)) > 1e-6 || a.MRT.Known != c.MRT.Known {
				t.Fatalf("floor %d, %v: %s %v %v, twin %s %v %v", n, s, a.GovernedBy, a.Interval, a.NextDate, c.GovernedBy, c.Interval, c.NextDate)
			}
		}
		if si.CriticalZone.OK != us.CriticalZone.OK || si.CriticalZone.OKKnown != us.CriticalZone.OKKnown {
			t.Fatalf("floor %d: zone %v, twin %v", n, si.CriticalZone, us.CriticalZone)
		}
	}
}

// Derived: a harmless row – thick metal, far from everything – changes nothing
// else.
func TestHarmlessRowChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for n := range 100 {
		b := anyTank(rng)
		before := b.assess()
		b.indication("H", "3-3", 150, 1700, "product", "UT", b.rest(6.34))
		after := b.assess()
		for i := range before.Locations {
			l := &before.Locations[i]
			m := &after.Locations[i]
			if i >= len(b.in.Indications)-1 {
				m = &after.Locations[i+1]
			}
			if l.Label != m.Label || l.Remaining != m.Remaining || l.Verdict != m.Verdict || l.Repair != m.Repair {
				t.Fatalf("floor %d: %s %v %s, then %s %v %s", n, l.Label, l.Remaining, l.Verdict, m.Label, m.Remaining, m.Verdict)
			}
		}
		a, c := before.AsFound, after.AsFound
		if a.GovernedBy != c.GovernedBy || a.Interval != c.Interval || a.SoilMin != c.SoilMin || a.SoilRate != c.SoilRate || a.MRT != c.MRT {
			t.Fatalf("floor %d: %+v, then %+v", n, a.Interval, c.Interval)
		}
	}
}

// Same input, same result, twice and from several callers at once.
func TestSameInputSameResult(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	for range 20 {
		b := anyTank(rng)
		first := b.assess()
		done := make(chan *Result, 4)
		for range 4 {
			go func() { done <- b.assess() }()
		}
		for range 4 {
			if r := <-done; !reflect.DeepEqual(first, r) {
				t.Fatal("two results of one inspection")
			}
		}
	}
}
