package repair

import (
	"math"
	"testing"
	"time"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// builder makes an inspection as a reader would.
type builder struct {
	in  *inspection.Inspection
	row int
}

func given[T any](b *builder, v T) inspection.Field[T] {
	b.row++
	return inspection.Field[T]{Value: v, State: inspection.Given, Plain: true, Scale: 1, Ref: finding.Ref{Sheet: "S", Col: 1, Row: b.row}}
}

func label(b *builder, v string) inspection.Label {
	f := given(b, v)
	f.Text = v
	return f
}

func (b *builder) mm(v float64) inspection.Length { return given(b, unit.Length(v)) }

func (b *builder) day(y int, m time.Month, d int) inspection.Date {
	return given(b, unit.NewDate(y, m, d))
}

// bare is a tank without plates: t_nom 6.35, in place 2001-05-01 to 2026-05-01.
func bare(diameter float64) *builder {
	b := &builder{in: &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}}
	t := &b.in.Tank
	t.Diameter, t.MaximumFillHeight = b.mm(diameter), b.mm(5000)
	t.SpecificGravity = given(b, unit.Ratio(0.85))
	t.NominalThickness, t.Lap = b.mm(6.35), b.mm(50)
	t.FloorInstalled = b.day(2001, time.May, 1)
	t.InspectionStart, t.InspectionEnd = b.day(2026, time.April, 20), b.day(2026, time.May, 1)
	return b
}

func (b *builder) plate(name, row, position string, length, width float64) *builder {
	p := inspection.Plate{Label: label(b, name), Type: given(b, "rectangular"), RowNo: given(b, row), Position: given(b, position)}
	p.Length, p.Width, p.MFLScanned = b.mm(length), b.mm(width), given(b, unit.Percent(100))
	b.in.Plates = append(b.in.Plates, p)
	return b
}

// seven is the floor of the method's example: seven plates, 6 m across.
func seven() *builder {
	b := bare(6000)
	for _, p := range []struct {
		name, row, position string
		length              float64
	}{
		{"1-1", "1", "1", 5000},
		{"2-1", "2", "1", 3050},
		{"2-2", "2", "2", 3050},
		{"3-1", "3", "1", 1550},
		{"3-2", "3", "2", 3000},
		{"3-3", "3", "3", 1550},
		{"4-1", "4", "1", 5000},
	} {
		b.plate(p.name, p.row, p.position, p.length, 1800)
	}
	r := inspection.Reading{Plate: label(b, "3-2"), Thickness: b.mm(6.30), X: b.mm(1500), Y: b.mm(900)}
	b.in.Readings = append(b.in.Readings, r)
	return b
}

// wide is a floor of four large plates, 20 m across, so that patches stand
// alone.
func wide() *builder {
	b := bare(20000)
	for _, r := range []string{"1", "2", "3", "4"} {
		b.plate(r+"-1", r, "1", 10025, 5000).plate(r+"-2", r, "2", 10025, 5000)
	}
	r := inspection.Reading{Plate: label(b, "2-1"), Thickness: b.mm(6.30)}
	b.in.Readings = append(b.in.Readings, r)
	return b
}

// pit is a soil-side indication proved up by UT.
func (b *builder) pit(id, plate string, x, y, length, width, rest float64) *builder {
	return b.spot(id, plate, x, y, length, width, rest, "soil")
}

func (b *builder) spot(id, plate string, x, y, length, width, rest float64, side string) *builder {
	i := inspection.Indication{ID: label(b, id), Plate: label(b, plate), X: b.mm(x), Y: b.mm(y), Side: given(b, side), Method: given(b, "UT"), Remaining: b.mm(rest)}
	i.Key = plate + "/" + id
	if length > 0 {
		i.Length, i.Width = b.mm(length), b.mm(width)
	}
	b.in.Indications = append(b.in.Indications, i)
	return b
}

func (b *builder) repair(name, kind, plate string, x, y, l, w, t float64, shape string, ids ...string) *builder {
	r := inspection.Repair{Label: label(b, name), Kind: given(b, kind), Plate: label(b, plate)}
	if l > 0 {
		r.X, r.Y, r.Length, r.Width = b.mm(x), b.mm(y), b.mm(l), b.mm(w)
	}
	if t > 0 {
		r.Thickness = b.mm(t)
	}
	if shape != "" {
		r.Shape = given(b, shape)
	}
	if len(ids) > 0 {
		r.Indications = given(b, ids)
	}
	b.in.Repairs = append(b.in.Repairs, r)
	return b
}

func (b *builder) old(name, plate string, x, y, l, w float64) *builder {
	p := inspection.Patch{Label: label(b, name), Plate: label(b, plate), X: b.mm(x), Y: b.mm(y), Length: b.mm(l), Width: b.mm(w)}
	b.in.Patches = append(b.in.Patches, p)
	return b
}

func (b *builder) desired(years float64) *builder {
	b.in.Tank.DesiredInterval = given(b, unit.Years(years))
	return b
}

func (b *builder) set(n criteria.Name, text string) *builder {
	d, ok := criteria.Find(n)
	if !ok {
		panic(n)
	}
	v, err := d.Parse(b.in.Criteria.System, text)
	if err != nil {
		panic(err)
	}
	b.in.Criteria.Put(n, v)
	return b
}

func (b *builder) assess() (*assess.Result, *Result) { return Assess(b.in, floor.Place(b.in)) }

func near1(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tol)
	}
}

func check(t *testing.T, it *Item, id string) *Check {
	t.Helper()
	for i := range it.Checks {
		if it.Checks[i].ID == id {
			return &it.Checks[i]
		}
	}
	t.Fatalf("%s has no check %s", it.Label, id)
	return nil
}

func passes(t *testing.T, it *Item, want map[string]bool) {
	t.Helper()
	for id, ok := range want {
		if c := check(t, it, id); !c.Known || c.OK != ok {
			t.Errorf("%s %s: known %v, ok %v, value %v, limit %v, %s; want %v", it.Label, id, c.Known, c.OK, c.Value.V, c.Limit.V, c.Note, ok)
		}
	}
}
