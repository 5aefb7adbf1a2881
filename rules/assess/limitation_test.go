package assess

import (
	"strings"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/inspection"
)

// What the numbers leave out is said.
func TestLimitations(t *testing.T) {
	for what, build := range map[string]func(*builder){
		"1 estimate without a prove-up is left out": func(b *builder) {
			b.set(criteria.UnprovedIndications, "exclude").indication("1", "2-1", 900, 900, "soil", "MFL", b.loss(30))
		},
		"1 indication or prove-up has no value that can be used and is in no minimum": func(b *builder) {
			b.indication("1", "2-1", 900, 900, "soil", "MFL", func(i *inspection.Indication) { i.Loss.State = inspection.Wrong })
		},
		"Plate 4-1 has no value": func(b *builder) {
			b.change("4-1", func(p *inspection.Plate) { p.MFLScanned = inspection.Percent{} })
		},
		"2 plates have no value": func(b *builder) {
			b.change("4-1", func(p *inspection.Plate) { p.MFLScanned = inspection.Percent{} })
			b.change("1-1", func(p *inspection.Plate) { p.MFLScanned = inspection.Percent{} })
		},
		"shorter than the one calculated":          func(b *builder) { half(b).indication("1", "2-1", 900, 900, "soil", "UT", b.rest(3)) },
		"Corrosion rates are not known":            func(b *builder) { b.in.Tank.FloorInstalled = inspection.Date{} },
		"although Unproved indications says block": func(b *builder) { b.set(criteria.UnprovedIndications, "block") },
		"half the bottom thickness alone decides":  func(b *builder) { b.in.Tank.SpecificGravity = inspection.Ratio{} },
		"The annular ring is not judged":           func(b *builder) { b.in.Tank.AnnularRing = word(b, "Tank", "yes") },
		"Nothing was measured in the critical":     func(*builder) {},
		"floor outside the shell is not part":      func(*builder) {},
		"after repair rest on the repairs that the program proposes": func(b *builder) {
			b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(2))
		},
		"The Jurisdiction limit cannot be read": func(b *builder) {
			b.in.Tank.JurisdictionLimit = inspection.Years{State: inspection.Wrong, Text: "ten"}
		},
		"1 existing patch has no thickness that can be used and is in no minimum": func(b *builder) {
			b.patch("P", "2-1", 900, 900, 300, 300, 0, "")
			b.in.Patches[0].Thickness.State = inspection.Wrong
		},
		"1 location has no place in plan": func(b *builder) {
			b.in.Tank.Diameter = inspection.Length{}
			b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(4))
		},
	} {
		b := tank()
		build(b)
		r := b.assess()
		checkSteps(t, b, r)
		if got := strings.Join(r.Limitations, "\n"); !strings.Contains(got, what) {
			t.Errorf("no %q in:\n%s", what, got)
		}
	}
}

// half leaves out too much of the floor for a rate.
func half(b *builder) *builder {
	return b.set(criteria.LeastExaminedForARate, "95").change("4-1", func(p *inspection.Plate) { p.MFLScanned = inspection.Percent{} })
}

// Where too little was examined for a rate, a pit that would not last to the
// limit is told with the years that it gives; one that would is not.
func TestLessExaminedIsNotMoreTime(t *testing.T) {
	for _, rest := range []float64{2.6, 3, 3.6, 4.2, 6} {
		pit := func(b *builder) *Result {
			return b.indication("1", "2-1", 900, 900, "soil", "UT", b.rest(rest)).assess()
		}
		unknown := pit(half(tank())).AsFound
		known := pit(half(tank()).set(criteria.LeastExaminedForARate, "0")).AsFound
		if unknown.GovernedBy != GovCapUnknown || unknown.Interval.V != 10 || unknown.SoilRate.Known {
			t.Fatalf("%g mm: %+v", rest, unknown)
		}
		switch want := known.Interval; {
		case want.V >= 10 && unknown.ReadAlone.Known:
			t.Errorf("%g mm: told %v years, longer than the limit", rest, unknown.ReadAlone.V)
		case want.V < 10 && unknown.ReadAlone != want:
			t.Errorf("%g mm: told %+v, want %v", rest, unknown.ReadAlone, want.V)
		}
		told := strings.Count(strings.Join(pit(half(tank())).Limitations, "\n"), "The rates of what was read")
		if want := map[bool]int{true: 1}[unknown.ReadAlone.Known]; told != want {
			t.Errorf("%g mm: %d limitations", rest, told)
		}
		if known.ReadAlone.Known {
			t.Errorf("%g mm: told although the rates are known", rest)
		}
	}
}
