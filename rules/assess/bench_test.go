package assess

import (
	"math/rand/v2"
	"strconv"
	"testing"

	"platebook/rules/floor"
)

// large is an invented floor of 150 plates of the given size.
func large(indications, proveUps int) *builder {
	b := bare()
	b.in.Tank.Diameter = b.metres("Tank", 40)
	for r := range 22 {
		for c := range 7 {
			b.plate(strconv.Itoa(r+1)+"-"+strconv.Itoa(c+1), strconv.Itoa(r+1), strconv.Itoa(c+1), 6000, 1800)
		}
	}
	rng := rand.New(rand.NewPCG(3, 4))
	for i := range indications {
		p := b.in.Plates[30+rng.IntN(90)].Label.Value
		x, y := 200+5600*rng.Float64(), 200+1400*rng.Float64()
		side := []string{"soil", "soil", "product"}[rng.IntN(3)]
		id := strconv.Itoa(i + 1)
		b.indication(id, p, x, y, side, "MFL", b.loss(20+40*rng.Float64()), b.sized(60, 40))
		if i < proveUps {
			link := id
			if i%3 == 0 {
				link = ""
			}
			b.proveUp("U"+id, link, p, x, y, b.ut(3+2*rng.Float64()))
		}
	}
	for range 1000 {
		b.reading(b.in.Plates[rng.IntN(len(b.in.Plates))].Label.Value, 1000, 900, 6.1+0.3*rng.Float64())
	}
	return b
}

func benchmark(b *testing.B, indications, proveUps int) {
	t := large(indications, proveUps)
	plan := floor.Place(t.in)
	b.ReportAllocs()
	for b.Loop() {
		Assess(t.in, plan)
	}
}

func BenchmarkAssess5000(b *testing.B)  { benchmark(b, 5000, 1000) }
func BenchmarkAssess50000(b *testing.B) { benchmark(b, 50000, 10000) }
