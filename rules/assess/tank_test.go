package assess

import (
	"math"
	"testing"
	"time"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// builder makes an inspection as a reader would, every value with a cell.
type builder struct {
	in   *inspection.Inspection
	rows map[string]int
	col  int
}

func given[T any](b *builder, sheet string, v T) inspection.Field[T] {
	b.col++
	return inspection.Field[T]{
		Value: v, State: inspection.Given, Plain: true, Scale: 1,
		Ref: finding.Ref{Sheet: sheet, Col: b.col, Row: b.rows[sheet] + 1},
	}
}

func word(b *builder, sheet, v string) inspection.Word { return given(b, sheet, v) }

func mm(b *builder, sheet string, v float64) inspection.Length {
	return given(b, sheet, unit.Length(v))
}

func day(b *builder, sheet, iso string) inspection.Date {
	d, err := unit.ParseDate(iso)
	if err != nil {
		panic(err)
	}
	return given(b, sheet, d)
}

// tank is the example tank of the method on a floor of seven plates, 6 m
// across, all scanned: t_nom 6.35, 2001-05-01 to 2026-05-01 (9131 days, N
// 24.99932). It has one reading, so that a rate can be known.
func tank() *builder {
	b := bare()
	for _, p := range []struct {
		label, row, position string
		length               float64
	}{
		{"1-1", "1", "1", 5000},
		{"2-1", "2", "1", 3050},
		{"2-2", "2", "2", 3050},
		{"3-1", "3", "1", 1550},
		{"3-2", "3", "2", 3000},
		{"3-3", "3", "3", 1550},
		{"4-1", "4", "1", 5000},
	} {
		b.plate(p.label, p.row, p.position, p.length, 1800)
	}
	return b.reading("3-2", 1500, 900, 6.30)
}

// bare is the tank without plates.
func bare() *builder {
	b := &builder{in: &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}, rows: map[string]int{}}
	t := &b.in.Tank
	t.Diameter = b.metres("Tank", 6)
	t.MaximumFillHeight = b.metres("Tank", 5)
	t.SpecificGravity = given(b, "Tank", unit.Ratio(0.85))
	t.NominalThickness = mm(b, "Tank", 6.35)
	t.Lap = mm(b, "Tank", 50)
	t.FloorInstalled = day(b, "Tank", "2001-05-01")
	t.InspectionStart = day(b, "Tank", "2026-04-20")
	t.InspectionEnd = day(b, "Tank", "2026-05-01")
	t.ReportDate = day(b, "Tank", "2026-05-02")
	b.in.AsOf = unit.NewDate(2026, time.May, 2)
	return b
}

func (b *builder) metres(sheet string, v float64) inspection.Length {
	f := mm(b, sheet, v*1000)
	f.Scale = 1000
	return f
}

func (b *builder) row(sheet, key string) inspection.Row {
	b.rows[sheet]++
	b.col = 0
	return inspection.Row{Sheet: sheet, Number: b.rows[sheet] + 1, Key: key}
}

func (b *builder) plate(label, row, position string, length, width float64, more ...func(*inspection.Plate)) *builder {
	p := inspection.Plate{Row: b.row("Plates", label)}
	p.Label, p.Type = word(b, "Plates", label), word(b, "Plates", "rectangular")
	p.RowNo, p.Position = word(b, "Plates", row), word(b, "Plates", position)
	p.Length, p.Width = mm(b, "Plates", length), mm(b, "Plates", width)
	p.MFLScanned = given(b, "Plates", unit.Percent(100))
	for _, m := range more {
		m(&p)
	}
	b.in.Plates = append(b.in.Plates, p)
	return b
}

// change edits the plate of a label.
func (b *builder) change(label string, edit func(*inspection.Plate)) *builder {
	for i := range b.in.Plates {
		if b.in.Plates[i].Label.Value == label {
			edit(&b.in.Plates[i])
		}
	}
	return b
}

func (b *builder) indication(id, plate string, x, y float64, side, method string, more ...func(*inspection.Indication)) *builder {
	i := inspection.Indication{Row: b.row("Indications", plate+"/"+id)}
	i.ID, i.Plate = word(b, "Indications", id), word(b, "Indications", plate)
	i.X, i.Y = mm(b, "Indications", x), mm(b, "Indications", y)
	i.Side, i.Method = word(b, "Indications", side), word(b, "Indications", method)
	for _, m := range more {
		m(&i)
	}
	b.in.Indications = append(b.in.Indications, i)
	return b
}

func (b *builder) loss(v float64) func(*inspection.Indication) {
	return func(i *inspection.Indication) { i.Loss = given(b, "Indications", unit.Percent(v)) }
}

func (b *builder) rest(v float64) func(*inspection.Indication) {
	return func(i *inspection.Indication) { i.Remaining = mm(b, "Indications", v) }
}

func (b *builder) deep(v float64) func(*inspection.Indication) {
	return func(i *inspection.Indication) { i.Depth = mm(b, "Indications", v) }
}

func (b *builder) sized(l, w float64) func(*inspection.Indication) {
	return func(i *inspection.Indication) {
		i.Length, i.Width = mm(b, "Indications", l), mm(b, "Indications", w)
	}
}

func (b *builder) kind(k string) func(*inspection.Indication) {
	return func(i *inspection.Indication) { i.Kind = word(b, "Indications", k) }
}

func (b *builder) proveUp(id, indication, plate string, x, y float64, more ...func(*inspection.ProveUp)) *builder {
	u := inspection.ProveUp{Row: b.row("Prove-ups", plate+"/"+id)}
	u.ID, u.Plate = word(b, "Prove-ups", id), word(b, "Prove-ups", plate)
	if indication != "" {
		u.Indication = word(b, "Prove-ups", indication)
	}
	if x != 0 || y != 0 {
		u.X, u.Y = mm(b, "Prove-ups", x), mm(b, "Prove-ups", y)
	}
	for _, m := range more {
		m(&u)
	}
	b.in.ProveUps = append(b.in.ProveUps, u)
	return b
}

func (b *builder) ut(v float64) func(*inspection.ProveUp) {
	return func(u *inspection.ProveUp) { u.Remaining = mm(b, "Prove-ups", v) }
}

func (b *builder) gauge(v float64) func(*inspection.ProveUp) {
	return func(u *inspection.ProveUp) { u.Depth = mm(b, "Prove-ups", v) }
}

func (b *builder) sound(v float64) func(*inspection.ProveUp) {
	return func(u *inspection.ProveUp) { u.Sound = mm(b, "Prove-ups", v) }
}

func (b *builder) on(side string) func(*inspection.ProveUp) {
	return func(u *inspection.ProveUp) { u.Side = word(b, "Prove-ups", side) }
}

func (b *builder) reading(plate string, x, y, t float64) *builder {
	r := inspection.Reading{Row: b.row("Readings", plate)}
	r.Plate, r.Thickness = word(b, "Readings", plate), mm(b, "Readings", t)
	if x != 0 || y != 0 {
		r.X, r.Y = mm(b, "Readings", x), mm(b, "Readings", y)
	}
	b.in.Readings = append(b.in.Readings, r)
	return b
}

func (b *builder) patch(label, plate string, x, y, l, w, t float64, installed string) *builder {
	p := inspection.Patch{Row: b.row("Existing patches", plate+"/"+label)}
	p.Label, p.Plate = word(b, "Existing patches", label), word(b, "Existing patches", plate)
	p.X, p.Y = mm(b, "Existing patches", x), mm(b, "Existing patches", y)
	p.Length, p.Width = mm(b, "Existing patches", l), mm(b, "Existing patches", w)
	if t > 0 {
		p.Thickness = mm(b, "Existing patches", t)
	}
	if installed != "" {
		p.Installed = day(b, "Existing patches", installed)
	}
	b.in.Patches = append(b.in.Patches, p)
	return b
}

func (b *builder) repair(label, kind, plate string, x, y, l, w, t float64, status string) *builder {
	r := inspection.Repair{Row: b.row("Planned repairs", label)}
	r.Label, r.Kind, r.Plate = word(b, "Planned repairs", label), word(b, "Planned repairs", kind), word(b, "Planned repairs", plate)
	if l > 0 {
		r.X, r.Y = mm(b, "Planned repairs", x), mm(b, "Planned repairs", y)
		r.Length, r.Width = mm(b, "Planned repairs", l), mm(b, "Planned repairs", w)
	}
	if t > 0 {
		r.Thickness = mm(b, "Planned repairs", t)
	}
	r.Status = word(b, "Planned repairs", status)
	b.in.Repairs = append(b.in.Repairs, r)
	return b
}

// set gives a criterion as a person would type it.
func (b *builder) set(n criteria.Name, text string) *builder {
	d, ok := criteria.Find(n)
	if !ok {
		panic(n)
	}
	v, err := d.Parse(b.in.Criteria.System, text)
	if err != nil {
		panic(err)
	}
	v.Given, v.Plain, v.Scale = true, d.Shape != criteria.Choice, d.Kind.Factor(b.in.Criteria.System)
	b.rows["Criteria"]++
	v.Ref = finding.Ref{Sheet: "Criteria", Col: 2, Row: b.rows["Criteria"]}
	b.in.Criteria.Put(n, v)
	return b
}

func (b *builder) tank(edit func(*inspection.Tank)) *builder {
	edit(&b.in.Tank)
	return b
}

func (b *builder) desired(years float64) *builder {
	b.in.Tank.DesiredInterval = given(b, "Tank", unit.Years(years))
	return b
}

func (b *builder) jurisdiction(years float64) *builder {
	b.in.Tank.JurisdictionLimit = given(b, "Tank", unit.Years(years))
	return b
}

func (b *builder) lining(what, installed string, life float64) *builder {
	t := &b.in.Tank
	t.Lining, t.LiningInstalled = word(b, "Tank", what), day(b, "Tank", installed)
	t.LiningExpectedLife = given(b, "Tank", unit.Years(life))
	return b
}

func (b *builder) protected() *builder {
	t := &b.in.Tank
	t.CathodicProtection, t.CathodicProtectionEvidence = word(b, "Tank", "recorded effective"), word(b, "Tank", "survey 2025-11")
	return b
}

func (b *builder) barrier() *builder {
	b.in.Tank.ReleasePreventionBarrier = word(b, "Tank", "yes")
	return b
}

func (b *builder) assess() *Result { return Assess(b.in, floor.Place(b.in)) }

// example is the example tank of the method, section 1: soil pits UT 3.60 and
// 4.40, product pit 1.30 deep in 6.30 sound, soil MFL 35 % unproved.
func example() *builder {
	b := tank()
	return b.
		indication("1", "2-2", 500, 500, "soil", "MFL", b.loss(44)).
		proveUp("U1", "1", "2-2", 500, 500, b.ut(3.60), b.on("soil")).
		indication("2", "2-2", 1200, 800, "soil", "MFL", b.loss(32)).
		proveUp("U2", "2", "2-2", 1200, 800, b.ut(4.40), b.on("soil")).
		indication("3", "3-2", 600, 700, "product", "visual", b.deep(1.30)).
		proveUp("U3", "3", "3-2", 600, 700, b.gauge(1.30), b.sound(6.30), b.on("product")).
		indication("4", "2-1", 1500, 900, "soil", "MFL", b.loss(35))
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

func known[T ~float64](t *testing.T, what string, m unit.Maybe[T]) float64 {
	t.Helper()
	if !m.Known {
		t.Errorf("%s is not known", what)
		return math.NaN()
	}
	return float64(m.V)
}

func unknown[T ~float64](t *testing.T, what string, m unit.Maybe[T]) {
	t.Helper()
	if m.Known {
		t.Errorf("%s = %v, want unknown", what, m.V)
	}
}

func find(t *testing.T, r *Result, label string) *Location {
	t.Helper()
	for i := range r.Locations {
		if r.Locations[i].Label == label && r.Locations[i].Kind <= ProveUpAt {
			return &r.Locations[i]
		}
	}
	t.Fatalf("no location %s", label)
	return nil
}
