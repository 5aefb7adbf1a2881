package workbook

import (
	"math"
	"strconv"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// scaled is a field that knows the stored value of one in its cell.
type scaled interface {
	PerNumber() (finding.Ref, float64)
}

// scalesOf are the stored values of one in each cell that holds a plain number.
func scalesOf(in *inspection.Inspection) map[finding.Ref]float64 {
	at := map[finding.Ref]float64{}
	scaleRows(at, []inspection.Tank{in.Tank}, tankSlots)
	scaleRows(at, in.Plates, plateSlots)
	scaleRows(at, in.Indications, indicationSlots)
	scaleRows(at, in.ProveUps, proveUpSlots)
	scaleRows(at, in.Readings, readingSlots)
	scaleRows(at, in.Tracks, trackSlots)
	scaleRows(at, in.Photos, photoSlots)
	scaleRows(at, in.Visual, visualSlots)
	scaleRows(at, in.Welds, weldSlots)
	scaleRows(at, in.Fixtures, fixtureSlots)
	scaleRows(at, in.Patches, patchSlots)
	scaleRows(at, in.Repairs, repairSlots)
	scaleRows(at, in.Settlement, surveySlots)
	scaleRows(at, in.Instruments, instrumentSlots)
	scaleRows(at, in.Checks, checkSlots)
	for _, d := range criteria.Table {
		if v := in.Criteria.Get(d.Name); v.Plain {
			at[v.Ref] = v.Scale
		}
	}
	return at
}

func scaleRows[T any](at map[finding.Ref]float64, rows []T, slots []slot[T]) {
	for i := range rows {
		for _, s := range slots {
			if f, ok := s.of(&rows[i]).(scaled); ok {
				if ref, scale := f.PerNumber(); scale > 0 {
					at[ref] = scale
				}
			}
		}
	}
}

// places are the decimals of a number as a cell stores it.
func places(c xlsx.Cell) int {
	_, digits, _ := strings.Cut(strconv.FormatFloat(c.Number, 'f', -1, 64), ".")
	return len(digits)
}

// finest are the most decimals in each column of a table: 0.2 in a column of
// thousandths is 0.200.
func (s *side) finest() map[int]int {
	most := map[int]int{}
	for i := range s.grid.Rows {
		for _, c := range s.grid.Rows[i].Cells {
			if c.Type == cell.Number && s.scales[s.ref(c.Col, s.grid.Rows[i].Number)] > 0 {
				most[c.Col] = max(most[c.Col], places(c))
			}
		}
	}
	return most
}

func (s *side) ref(col, row int) finding.Ref { return changeRef(s.sheet, col, row) }

// measured is a number with what one of it is, and with the room that the
// digits typed leave, in stored units.
type measured struct{ value, scale, room float64 }

func (s *side) measured(row *xlsx.Row, col int) (m measured, ok bool) {
	c := row.Cell(col)
	scale := s.scales[s.ref(col, row.Number)]
	if c.Type != cell.Number || scale == 0 {
		return m, false
	}
	digits := max(1, places(c)) // of one number alone: 44 ft may be exact
	if s.table {
		digits = s.decimals[col]
	}
	return measured{c.Number * scale, scale, scale * math.Pow(10, -float64(digits)) / 2}, true
}

// inOtherUnits says that two cells differ only by their unit: a number that is
// the same in both to the digits typed, the unit itself, or what a blank
// workbook says of it. differ says that they are other numbers, however alike
// their digits are.
func inOtherUnits(a, b *side, old, new *xlsx.Row, from, to int) (alike, differ bool) {
	x, okX := a.measured(old, from)
	y, okY := b.measured(new, to)
	if okX && okY {
		if close9(x.scale, y.scale) {
			return false, false
		}
		room := min(x.room, y.room)
		if a.table {
			room = max(x.room, y.room)
		}
		alike = math.Abs(x.value-y.value) <= room*(1+1e-9) || close9(x.value, y.value)
		return alike, !alike
	}
	was, now := old.Cell(from).Text, new.Cell(to).Text
	switch {
	case old.Number == 0 || new.Number == 0 || old.Cell(from).Type != cell.String || new.Cell(to).Type != cell.String:
	case old.Number <= a.last && new.Number <= b.last:
		nameA, unitA := cutUnit(oneLine(was))
		nameB, unitB := cutUnit(oneLine(now))
		return foldHeader(nameA) == foldHeader(nameB) && sameMeasure(unitA, unitB), false
	case b.heads[to] == "Unit":
		return sameMeasure(was, now), false
	case b.heads[to] == "Default":
		for _, d := range criteria.Table {
			if foldHeader(string(d.Name)) == foldHeader(b.names[b.at[new.Number]]) {
				return was == d.Default(a.units) && now == d.Default(b.units), false
			}
		}
	}
	return false, false
}

// sameMeasure says that two texts are units of one quantity.
func sameMeasure(a, b string) bool {
	x, okX := findUnit(a)
	y, okY := findUnit(b)
	return okX && okY && x.of == y.of
}

// unit is the unit that a cell is in, as it is written: beside an item, in the
// header of a column.
func (s *side) unit(row *xlsx.Row, col int) string {
	for c, head := range s.heads {
		if head == "Unit" && c != col {
			return strings.TrimSpace(row.Cell(c).Text)
		}
	}
	return s.written[col]
}

func inUnit(text, unit string) string {
	if text == "" || unit == "" {
		return text
	}
	return text + " " + unit
}
