package check

import (
	"fmt"
	"testing"

	"platebook/rules/floor"
	"platebook/rules/inspection"
)

// large is a floor of 150 plates with the given numbers of rows.
func large(indications, proveUps, readings int) *inspection.Inspection {
	in := builder()
	in.Plates = nil
	in.Tank.Diameter.Value = 40000
	for r := range 10 {
		for c := range 15 {
			plate(in, fmt.Sprintf("%d-%d", r+1, c+1), -22000+float64(c)*2950, -8750+float64(r)*1750)
		}
	}
	on := func(i int) string { return in.Plates[i%150].Label.Value }
	spread := func(i, by, most int) float64 { return float64((i*by)%most) + 20 }
	for i := range indications {
		indication(in, fmt.Sprint(i), on(i), spread(i, 379, 2900), spread(i, 223, 1700), 20+float64(i*7%50))
	}
	for i := range proveUps {
		o := &in.Indications[i%indications]
		proveUp(in, fmt.Sprintf("U%d", i), o.ID.Value, o.Plate.Value, float64(o.X.Value), float64(o.Y.Value), 3+float64(i*3%200)/100)
	}
	for i := range readings {
		reading(in, on(i), spread(i, 371, 2900), spread(i, 227, 1700), 6.2+float64(i*13%29)/100)
	}
	return in
}

func benchmark(b *testing.B, indications, proveUps, readings int) {
	for range b.N {
		b.StopTimer()
		in := large(indications, proveUps, readings)
		b.StartTimer()
		hits := Values(in)
		b.StopTimer()
		plan := floor.Place(in)
		b.StartTimer()
		hits = append(hits, Rows(in, plan, nil)...)
		list := Arrange(in, hits)
		b.ReportMetric(float64(len(list)), "findings")
	}
}

// The budget is 0.3 s for the first, and in proportion for the second.
func BenchmarkRows5000(b *testing.B)  { benchmark(b, 5000, 1000, 20000) }
func BenchmarkRows50000(b *testing.B) { benchmark(b, 50000, 10000, 200000) }
