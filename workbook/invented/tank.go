// Package invented makes up tanks for tests: from a seed, the rows of a
// workbook that vary rings, barriers, linings, ages, policies, pits, patches,
// repairs and surveys. No real tank, site, firm or person.
//
// Lengths are in mm and rates in mm/year, whatever system a workbook is
// written in; the twin in the other system holds the same tank.
package invented

import (
	"maps"

	"platebook/rules/unit"
)

// Row is one row of a sheet by its headers: a float64, a text or a date. What
// is not there is blank.
type Row map[string]any

// Number is a number of the row, 0 when blank.
func (r Row) Number(header string) float64 {
	v, _ := r[header].(float64)
	return v
}

// Or is a number of the row, or another when blank.
func (r Row) Or(header string, other float64) float64 {
	if v, ok := r[header].(float64); ok {
		return v
	}
	return other
}

// Has says whether the row has a value there.
func (r Row) Has(header string) bool {
	_, ok := r[header]
	return ok
}

// Word is a text of the row, "" when blank.
func (r Row) Word(header string) string {
	v, _ := r[header].(string)
	return v
}

// Day is a date of the row, 0 when blank.
func (r Row) Day(header string) unit.Date {
	v, _ := r[header].(unit.Date)
	return v
}

// Tank is one invented inspection.
type Tank struct {
	Seed     uint64
	Items    Row // the Tank sheet
	Criteria Row // those that differ from their default

	Plates, Indications, ProveUps, Readings, Visual []Row
	Patches, Repairs, Fixtures, Settlement          []Row
}

// Clone is a copy that can be changed by itself.
func (t *Tank) Clone() *Tank {
	out := &Tank{Seed: t.Seed, Items: maps.Clone(t.Items), Criteria: maps.Clone(t.Criteria)}
	for _, s := range []struct {
		to   *[]Row
		from []Row
	}{
		{&out.Plates, t.Plates},
		{&out.Indications, t.Indications},
		{&out.ProveUps, t.ProveUps},
		{&out.Readings, t.Readings},
		{&out.Visual, t.Visual},
		{&out.Patches, t.Patches},
		{&out.Repairs, t.Repairs},
		{&out.Fixtures, t.Fixtures},
		{&out.Settlement, t.Settlement},
	} {
		for _, r := range s.from {
			*s.to = append(*s.to, maps.Clone(r))
		}
	}
	return out
}

// Plate is the row of a plate, nil without one.
func (t *Tank) Plate(label string) Row {
	for _, p := range t.Plates {
		if p.Word("Plate") == label {
			return p
		}
	}
	return nil
}
