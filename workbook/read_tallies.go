package workbook

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/spelling"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// spots counts cells of which the first and the last row are remembered.
type spots struct {
	first finding.Ref
	last  int
	n     int
}

func (s *spots) add(ref finding.Ref) {
	if s.n == 0 {
		s.first = ref
	}
	s.last = ref.Row
	s.n++
}

func (s *spots) hit(h finding.Hit) finding.Hit {
	h.Ref, h.LastRow, h.Cells = s.first, s.last, s.n
	return h
}

// tally gathers what is told once for a whole column.
type tally struct {
	texts, bareDates, struck, bySystem spots

	own   []ownUnit
	small []int   // records whose plain percentage is above 0 and at most 1
	large float64 // the first plain percentage above 1
	shown float64 // the first percentage above 1, in whatever form
}

// ownUnit is a unit that cells carry in place of the column's.
type ownUnit struct {
	unit string
	spots
}

func (t *tally) ownUnit(u string, ref finding.Ref) {
	for i := range t.own {
		if t.own[i].unit == u {
			t.own[i].add(ref)
			return
		}
	}
	t.own = append(t.own, ownUnit{unit: u})
	t.own[len(t.own)-1].add(ref)
}

func (t *tally) percent(record int, v float64, plain bool) {
	if v > 1 && t.shown == 0 {
		t.shown = v
	}
	switch {
	case !plain:
	case v > 0 && v <= 1:
		t.small = append(t.small, record)
	case v > 1 && t.large == 0:
		t.large = v
	}
}

// noticeCell looks at a read cell for what its value does not show.
func (t *table) noticeCell(c *column, x *xlsx.Cell, ref finding.Ref) {
	if x.Strike {
		c.tally.struck.add(ref)
	}
	if t.unprinted != nil && x.Type == cell.String {
		t.noticeLetters(x.Text, ref)
	}
	if x.Formula == "" || !strings.Contains(x.Formula, "[") {
		return
	}
	if m := linkNumber.FindStringSubmatch(x.Formula); m != nil {
		if n, err := strconv.Atoi(m[1]); err == nil && n > 0 {
			t.links = append(t.links, link{ref: ref, number: n})
		}
		return
	}
	if m := linkFile.FindStringSubmatch(x.Formula); m != nil {
		t.links = append(t.links, link{ref: ref, file: m[1]})
	}
}

// mostLetters is how many letters are named that no font has.
const mostLetters = 12

// noticeLetters looks for letters that the report cannot print, in as much of a
// text as a person types.
func (t *table) noticeLetters(text string, ref finding.Ref) {
	const enough = 4096
	if len(text) > enough {
		text = strings.ToValidUTF8(text[:enough], "")
	}
	lost := t.unprinted(text)
	if len(lost) == 0 {
		return
	}
	t.lettered.add(ref)
	for _, r := range lost {
		if len(t.letters) <= mostLetters && !slices.Contains(t.letters, r) {
			t.letters = append(t.letters, r)
		}
	}
}

// finish reports what was gathered while the cells were read.
func (t *table) finish() {
	for i := range t.columns {
		t.finishColumn(&t.columns[i])
	}
	t.finishOrphans()
	t.finishHidden()
	t.finishLetters()
}

func (t *table) finishColumn(c *column) {
	tell := func(s *spots, rule, message string) {
		if s.n > 0 {
			t.hit(s.hit(finding.Hit{Rule: rule, Column: c.def.Header, Message: message}))
		}
	}
	name := c.def.Header
	if c.tally.bySystem.n > 0 {
		t.hit(finding.Hit{
			Rule: "S206", Ref: t.headRef(c.head), Column: name,
			Message: fmt.Sprintf("%s read as %s (Units: %s)", name, c.def.Kind.Unit(t.units), t.units),
		})
	}
	tell(&c.tally.texts, "C102", fmt.Sprintf("%s stored as text read", count(c.tally.texts.n, "number")))
	date := "dates"
	if c.tally.bareDates.n == 1 {
		date = "a date"
	}
	tell(&c.tally.bareDates, "C102", fmt.Sprintf("%s without a date format read as %s", count(c.tally.bareDates.n, "whole number"), date))
	for i := range c.tally.own {
		own := &c.tally.own[i]
		under := c.head.unit
		if under == "" {
			under = c.def.Kind.Unit(t.units)
		}
		h := own.hit(finding.Hit{
			Rule: "C108", Column: name,
			Message: fmt.Sprintf("%s in %s under %s", count(own.n, "cell"), unitName(own.unit), under),
		})
		if !t.def.Items {
			h.Related = []finding.Related{{Ref: t.headRef(c.head), Text: "unit"}}
		}
		t.hit(h)
	}
	struck := "values were"
	if c.tally.struck.n == 1 {
		struck = "value was"
	}
	tell(&c.tally.struck, "S306", fmt.Sprintf("%d struck-through %s read", c.tally.struck.n, struck))
}

func unitName(u string) string {
	switch w, ok := findUnit(u); {
	case ok && w == writtenUnits["in"]:
		return "inches"
	case ok && w == writtenUnits["ft"]:
		return "feet"
	}
	return u
}

func (t *table) finishOrphans() {
	last := 0
	for col := range t.orphans {
		last = max(last, col)
	}
	for col := 1; col <= last; col++ {
		s := t.orphans[col]
		if s == nil {
			continue
		}
		t.hit(s.hit(finding.Hit{
			Rule: "S204", Column: finding.ColumnName(col),
			Message: count(s.n, "value") + " under an empty header",
		}))
	}
}

// finishHidden counts aloud what was read though nobody sees it.
func (t *table) finishHidden() {
	var what []string
	if t.visibility != xlsx.Visible {
		what = append(what, "the hidden sheet")
	}
	rows := 0
	first := finding.Ref{Sheet: t.name}
	for i := range t.rows {
		if t.rows[i].Hidden {
			rows++
		}
	}
	if rows > 0 {
		word := "hidden row"
		if t.grid.Filtered {
			word = "filtered-out row"
		}
		what = append(what, count(rows, word))
	}
	if n := t.hiddenColumns(); n > 0 {
		what = append(what, count(n, "hidden column"))
	}
	if len(what) == 0 {
		return
	}
	verb := "was"
	if len(what) > 1 || strings.HasSuffix(what[0], "s") {
		verb = "were"
	}
	t.hit(finding.Hit{Rule: "S303", Ref: first, Message: fmt.Sprintf("%s %s read", andList(what), verb)})
}

// finishLetters tells of letters that stand in the report as their numbers.
func (t *table) finishLetters() {
	n := t.lettered.n
	if n == 0 {
		return
	}
	var shown []string
	for _, r := range t.letters[:min(mostLetters, len(t.letters))] {
		shown = append(shown, string(r))
	}
	letters := strings.Join(shown, " ")
	if len(t.letters) > mostLetters {
		letters += " and others"
	}
	t.hit(finding.Hit{
		Rule: "S307", Ref: t.lettered.first, Cells: n,
		Message: fmt.Sprintf("%s %s letters that the report prints as their Unicode numbers: %s", count(n, "cell"), spelling.Choose(n, "holds", "hold"), letters),
	})
}

// hiddenColumns counts hidden columns that hold something in the records; the
// template folds seldom-used ones away, which is nothing to tell.
func (t *table) hiddenColumns() int {
	n := 0
	for i := range t.columns {
		col := t.columns[i].col
		if col == 0 || t.def.Items && i > 0 {
			continue
		}
		for _, span := range t.grid.HiddenCols {
			if col < span.First || col > span.Last {
				continue
			}
			for r := range t.rows {
				if c := t.rows[r].Cell(col); !c.IsBlank() {
					n++
					break
				}
			}
			break
		}
	}
	return n
}

// learnCommas finds out whether texts of a number column use decimal commas.
func (t *table) learnCommas(x *xlsx.Row) {
	for i := range x.Cells {
		c := &x.Cells[i]
		if c.Type != cell.String || !strings.Contains(c.Text, ",") {
			continue
		}
		if at := t.byCol[c.Col]; at > 0 && !t.columns[at-1].want.Commas {
			t.columns[at-1].want.Commas = cell.UsesDecimalComma(c.Text)
		}
	}
}
