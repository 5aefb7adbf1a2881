package check

import (
	"fmt"
	"strconv"
	"testing"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// The small inspection of these tests: one tank of 10 m, plates of 3000 × 1800
// placed by Left and Bottom about the centre, nominal 6.35. Numbers are
// invented: they test the rules' limits, not a result.

func at(sheet string, col, row int) finding.Ref {
	return finding.Ref{Sheet: sheet, Col: col, Row: row}
}

func text(s string, ref finding.Ref) inspection.Text {
	if s == "" {
		return inspection.Text{Ref: ref}
	}
	return inspection.Text{Value: s, State: inspection.Given, Text: s, Ref: ref}
}

func length(v float64, ref finding.Ref) inspection.Length {
	return inspection.Length{
		Value: unit.Length(v), State: inspection.Given, Text: strconv.FormatFloat(v, 'f', -1, 64), Ref: ref, Plain: true, Scale: 1,
	}
}

func share100(v float64, ref finding.Ref) inspection.Percent {
	return inspection.Percent{
		Value: unit.Percent(v), State: inspection.Given, Text: strconv.FormatFloat(v, 'f', -1, 64), Ref: ref, Plain: true, Scale: 1,
	}
}

func date(s string, ref finding.Ref) inspection.Date {
	d, err := unit.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return inspection.Date{Value: d, State: inspection.Given, Text: s, Ref: ref}
}

func builder() *inspection.Inspection {
	in := &inspection.Inspection{Criteria: criteria.Defaults(unit.SI)}
	for _, kind := range []string{
		"Tank", "Criteria", "Plates", "Indications", "Prove-ups", "Readings", "Tracks", "Photos", "Visual", "Welds", "Fixtures",
		"Existing patches", "Planned repairs", "Settlement", "Crew", "Instruments", "Checks", "Report", "Answers",
	} {
		in.Sheets = append(in.Sheets, inspection.Sheet{Kind: kind, Name: kind, Header: 1})
	}
	t := &in.Tank
	t.ReportStatus = text("preliminary", at("Tank", 2, 2))
	t.Diameter = length(10000, at("Tank", 2, 3))
	t.ShellHeight = length(8000, at("Tank", 2, 4))
	t.MaximumFillHeight = length(7600, at("Tank", 2, 5))
	t.NominalThickness = length(6.35, at("Tank", 2, 6))
	t.Lap = length(50, at("Tank", 2, 7))
	t.InspectionStart = date("2026-04-20", at("Tank", 2, 8))
	t.InspectionEnd = date("2026-04-28", at("Tank", 2, 9))
	t.ReportDate = date("2026-05-04", at("Tank", 2, 10))
	in.AsOf = t.ReportDate.Value
	plate(in, "2-1", -3000, -900)
	plate(in, "2-2", -50, -900)
	return in
}

func plate(in *inspection.Inspection, label string, left, bottom float64) *inspection.Plate {
	n := len(in.Plates) + 2
	in.Plates = append(in.Plates, inspection.Plate{
		Row:   inspection.Row{Sheet: "Plates", Number: n, Key: label},
		Label: text(label, at("Plates", 1, n)), Type: text("rectangular", at("Plates", 2, n)),
		Length: length(3000, at("Plates", 5, n)), Width: length(1800, at("Plates", 6, n)),
		Left: length(left, at("Plates", 15, n)), Bottom: length(bottom, at("Plates", 16, n)),
		MFLScanned: share100(100, at("Plates", 8, n)),
	})
	return &in.Plates[len(in.Plates)-1]
}

func indication(in *inspection.Inspection, id, on string, x, y, loss float64) *inspection.Indication {
	n := len(in.Indications) + 2
	in.Indications = append(in.Indications, inspection.Indication{
		Row: inspection.Row{Sheet: "Indications", Number: n, Key: on + "/" + id},
		ID:  text(id, at("Indications", 1, n)), Plate: text(on, at("Indications", 2, n)),
		X: length(x, at("Indications", 3, n)), Y: length(y, at("Indications", 4, n)),
		Side: text("soil", at("Indications", 7, n)), Method: text("MFL", at("Indications", 8, n)),
		Loss: share100(loss, at("Indications", 9, n)), Kind: text("pit", at("Indications", 12, n)),
	})
	return &in.Indications[len(in.Indications)-1]
}

func proveUp(in *inspection.Inspection, id, of, on string, x, y, remaining float64) *inspection.ProveUp {
	n := len(in.ProveUps) + 2
	in.ProveUps = append(in.ProveUps, inspection.ProveUp{
		Row: inspection.Row{Sheet: "Prove-ups", Number: n, Key: on + "/" + id},
		ID:  text(id, at("Prove-ups", 1, n)), Indication: text(of, at("Prove-ups", 2, n)), Plate: text(on, at("Prove-ups", 3, n)),
		X: length(x, at("Prove-ups", 4, n)), Y: length(y, at("Prove-ups", 5, n)), Remaining: length(remaining, at("Prove-ups", 6, n)),
		Side: text("soil", at("Prove-ups", 9, n)), By: text("", at("Prove-ups", 11, n)),
	})
	return &in.ProveUps[len(in.ProveUps)-1]
}

func reading(in *inspection.Inspection, on string, x, y, thickness float64) *inspection.Reading {
	n := len(in.Readings) + 2
	in.Readings = append(in.Readings, inspection.Reading{
		Row:   inspection.Row{Sheet: "Readings", Number: n, Key: fmt.Sprintf("%s/%g,%g", on, x, y)},
		Plate: text(on, at("Readings", 1, n)), X: length(x, at("Readings", 2, n)), Y: length(y, at("Readings", 3, n)),
		Thickness: length(thickness, at("Readings", 4, n)), By: text("K. Lund", at("Readings", 5, n)),
	})
	return &in.Readings[len(in.Readings)-1]
}

// judged is the hits of all checks before the result, by code.
func judged(in *inspection.Inspection) map[string][]finding.Hit {
	hits := Values(in)
	plan := floor.Place(in)
	hits = append(hits, Rows(in, plan, nil, hits...)...)
	by := make(map[string][]finding.Hit)
	for _, h := range silence(hits) {
		by[h.Rule] = append(by[h.Rule], h)
	}
	return by
}

// limit is a rule held at its limit and just beyond.
type limit struct {
	rule string
	name string
	good func(in *inspection.Inspection)
	bad  func(in *inspection.Inspection)
}

func hold(t *testing.T, cases []limit) {
	t.Helper()
	for _, c := range cases {
		in := builder()
		c.good(in)
		if h := judged(in)[c.rule]; len(h) > 0 {
			t.Errorf("%s %s at its limit: %s", c.rule, c.name, h[0].Message)
		}
		in = builder()
		c.bad(in)
		if h := judged(in)[c.rule]; len(h) == 0 {
			t.Errorf("%s %s beyond its limit is silent", c.rule, c.name)
		}
	}
}
