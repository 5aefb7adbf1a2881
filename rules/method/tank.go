package method

import (
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// tank is an invented inspection that shows formulas at work, built as a
// reader of workbooks would leave it.
type tank struct {
	in   *inspection.Inspection
	rows map[string]int
	col  int
}

func given[T any](t *tank, sheet string, v T) inspection.Field[T] {
	t.col++
	text, _ := any(v).(string)
	return inspection.Field[T]{
		Value: v, State: inspection.Given, Text: text, Plain: true, Scale: 1,
		Ref: finding.Ref{Sheet: sheet, Col: t.col, Row: t.rows[sheet] + 1},
	}
}

// on is a day written as a literal.
func on(iso string) unit.Date {
	d, err := unit.ParseDate(iso)
	if err != nil {
		panic("method: " + err.Error())
	}
	return d
}

func (t *tank) length(sheet string, v float64) inspection.Length {
	return given(t, sheet, unit.Length(v))
}

func (t *tank) day(sheet string, d unit.Date) inspection.Date { return given(t, sheet, d) }

func (t *tank) row(sheet, key string) inspection.Row {
	t.rows[sheet]++
	t.col = 0
	return inspection.Row{Sheet: sheet, Number: t.rows[sheet] + 1, Key: key}
}

// bare is the tank of the examples without plates: 6 m across, nominal 6.35,
// floor of 2001-05-01 inspected until 2026-05-01, 9131 days.
func bare() *tank {
	t := &tank{in: &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}, rows: map[string]int{}}
	n := &t.in.Tank
	n.Diameter, n.ShellHeight = t.length("Tank", 6000), t.length("Tank", 5500)
	n.MaximumFillHeight = t.length("Tank", 5000)
	n.SpecificGravity = given(t, "Tank", unit.Ratio(0.85))
	n.NominalThickness, n.Lap = t.length("Tank", 6.35), t.length("Tank", 50)
	n.FloorInstalled = t.day("Tank", on("2001-05-01"))
	n.InspectionStart = t.day("Tank", on("2026-04-20"))
	n.InspectionEnd = t.day("Tank", on("2026-05-01"))
	n.ReportDate = t.day("Tank", on("2026-05-02"))
	n.FirstCourseAsBuilt, n.FirstCourseNow = t.length("Tank", 8), t.length("Tank", 7.2)
	n.Projection = t.length("Tank", 60)
	t.in.AsOf = on("2026-05-02")
	return t
}

// floor is the bare tank with seven scanned plates and one reading.
func seven() *tank {
	t := bare()
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
		t.plate(p.label, p.row, p.position, p.length, 1800)
	}
	return t.reading("3-2", 1500, 900, 6.30)
}

func (t *tank) plate(label, row, position string, length, width float64) *tank {
	p := inspection.Plate{Row: t.row("Plates", label)}
	p.Label, p.Type = given(t, "Plates", label), given(t, "Plates", "rectangular")
	p.RowNo, p.Position = given(t, "Plates", row), given(t, "Plates", position)
	p.Length, p.Width = t.length("Plates", length), t.length("Plates", width)
	p.MFLScanned = given(t, "Plates", unit.Percent(100))
	t.in.Plates = append(t.in.Plates, p)
	return t
}

// spot is one indication with what was found there; 0 is not measured.
type spot struct {
	id, plate      string
	x, y           float64
	side, method   string
	loss           float64
	rest, depth    float64
	length, width  float64
	ut, pit, sound float64 // of the prove-up at the same place
}

func (t *tank) at(spots ...spot) *tank {
	for _, s := range spots {
		i := inspection.Indication{Row: t.row("Indications", s.plate+"/"+s.id)}
		i.ID, i.Plate = given(t, "Indications", s.id), given(t, "Indications", s.plate)
		i.X, i.Y = t.length("Indications", s.x), t.length("Indications", s.y)
		i.Side, i.Method = given(t, "Indications", s.side), given(t, "Indications", s.method)
		if s.loss > 0 {
			i.Loss = given(t, "Indications", unit.Percent(s.loss))
		}
		if s.rest > 0 {
			i.Remaining = t.length("Indications", s.rest)
		}
		if s.depth > 0 {
			i.Depth = t.length("Indications", s.depth)
		}
		if s.length > 0 {
			i.Length, i.Width = t.length("Indications", s.length), t.length("Indications", s.width)
		}
		t.in.Indications = append(t.in.Indications, i)
		if s.ut == 0 && s.pit == 0 {
			continue
		}
		u := inspection.ProveUp{Row: t.row("Prove-ups", s.plate+"/U"+s.id)}
		u.ID, u.Plate = given(t, "Prove-ups", "U"+s.id), given(t, "Prove-ups", s.plate)
		u.Indication, u.Side = given(t, "Prove-ups", s.id), given(t, "Prove-ups", s.side)
		u.X, u.Y = t.length("Prove-ups", s.x), t.length("Prove-ups", s.y)
		if s.ut > 0 {
			u.Remaining = t.length("Prove-ups", s.ut)
		}
		if s.pit > 0 {
			u.Depth = t.length("Prove-ups", s.pit)
		}
		if s.sound > 0 {
			u.Sound = t.length("Prove-ups", s.sound)
		}
		t.in.ProveUps = append(t.in.ProveUps, u)
	}
	return t
}

func (t *tank) reading(plate string, x, y, thickness float64) *tank {
	r := inspection.Reading{Row: t.row("Readings", plate)}
	r.Plate, r.X, r.Y = given(t, "Readings", plate), t.length("Readings", x), t.length("Readings", y)
	r.Thickness = t.length("Readings", thickness)
	t.in.Readings = append(t.in.Readings, r)
	return t
}

func (t *tank) patch(label, plate string, x, y, length, width, thickness float64) *tank {
	p := inspection.Patch{Row: t.row("Existing patches", plate+"/"+label)}
	p.Label, p.Plate = given(t, "Existing patches", label), given(t, "Existing patches", plate)
	p.X, p.Y = t.length("Existing patches", x), t.length("Existing patches", y)
	p.Length, p.Width = t.length("Existing patches", length), t.length("Existing patches", width)
	p.Thickness = t.length("Existing patches", thickness)
	t.in.Patches = append(t.in.Patches, p)
	return t
}

func (t *tank) repair(label, kind, plate string, x, y, length, width, thickness float64, status string) *tank {
	r := inspection.Repair{Row: t.row("Planned repairs", label)}
	r.Label, r.Kind, r.Plate = given(t, "Planned repairs", label), given(t, "Planned repairs", kind), given(t, "Planned repairs", plate)
	r.X, r.Y = t.length("Planned repairs", x), t.length("Planned repairs", y)
	r.Length, r.Width = t.length("Planned repairs", length), t.length("Planned repairs", width)
	r.Thickness, r.Status = t.length("Planned repairs", thickness), given(t, "Planned repairs", status)
	t.in.Repairs = append(t.in.Repairs, r)
	return t
}

// set types a criterion.
func (t *tank) set(n criteria.Name, text string) *tank {
	d, ok := criteria.Find(n)
	if !ok {
		panic("method: no criterion " + string(n))
	}
	v, err := d.Parse(t.in.Criteria.System, text)
	if err != nil {
		panic("method: " + err.Error())
	}
	v.Given, v.Plain, v.Scale = true, d.Shape != criteria.Choice, d.Kind.Factor(t.in.Criteria.System)
	t.rows["Criteria"]++
	v.Ref = finding.Ref{Sheet: "Criteria", Col: 2, Row: t.rows["Criteria"]}
	t.in.Criteria.Put(n, v)
	return t
}

func (t *tank) desired(years float64) *tank {
	t.in.Tank.DesiredInterval = given(t, "Tank", unit.Years(years))
	return t
}

func (t *tank) installed(d unit.Date) *tank {
	t.in.Tank.FloorInstalled = t.day("Tank", d)
	return t
}

func (t *tank) lined(what string, since unit.Date, life float64) *tank {
	n := &t.in.Tank
	n.Lining, n.LiningInstalled = given(t, "Tank", what), t.day("Tank", since)
	n.LiningExpectedLife = given(t, "Tank", unit.Years(life))
	return t
}

// thickLined has a reinforced lining that counts with a thickness of its own.
func (t *tank) thickLined(since unit.Date, life float64) *tank {
	t.lined("reinforced", since, life).in.Tank.ReinforcedLining = given(t, "Tank", "yes")
	return t
}

func (t *tank) protected() *tank {
	n := &t.in.Tank
	n.CathodicProtection, n.CathodicProtectionEvidence = given(t, "Tank", "recorded effective"), given(t, "Tank", "survey 2025-11")
	return t
}

func (t *tank) barrier() *tank {
	t.in.Tank.ReleasePreventionBarrier = given(t, "Tank", "yes")
	return t
}

// survey is one row of the settlement survey.
func (t *tank) survey(kind, point string, edit func(*inspection.Survey)) *tank {
	s := inspection.Survey{Row: t.row("Settlement", point)}
	s.Kind, s.Point = given(t, "Settlement", kind), given(t, "Settlement", point)
	edit(&s)
	t.in.Settlement = append(t.in.Settlement, s)
	return t
}
