package workbook

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/cell"
	"platebook/workbook/xlsx"
)

// drawn is a result to be checked by hand.
type drawn struct {
	sheet   string
	row     int
	written xlsx.Written
	what    string
	stored  string
}

// drawnRow is a row of a new sheet of results.
type drawnRow struct {
	sheet  string
	number int
}

// live is how many cells of a row hold a number by a formula.
func live(row xlsx.WrittenRow) (n int) {
	for i := range row.Cells {
		if isLive(&row.Cells[i]) {
			n++
		}
	}
	return n
}

func isLive(c *xlsx.Written) bool { return c.Formula != "" && c.Type == cell.Number }

// draw picks results to be checked by hand. The seed is the beginning of the
// file's hash: another reviewer of the same file draws the same.
func (v *reviewer) draw(n int) error {
	hash := v.book.Inspection.File.SHA256
	v.r.Seed = hash[:min(16, len(hash))]
	seed, _ := strconv.ParseUint(v.r.Seed, 16, 64)
	var names []string
	rows, all := map[string][]rowMark{}, 0
	for _, name := range v.draft.Sheets() {
		if strings.HasPrefix(name, "Record") || strings.HasPrefix(name, "Findings") {
			continue
		}
		now, err := v.nowRows(name)
		if err != nil {
			return err
		}
		for _, m := range now {
			all += m.live
		}
		names = append(names, name)
		rows[name] = now
	}
	picked := rand.New(rand.NewPCG(seed, 0)).Perm(all)
	picked = slices.Clone(picked[:min(n, len(picked))])
	slices.Sort(picked)
	from := 0 // how many come before the row
	for _, name := range names {
		heads := -1
		for i, m := range rows[name] {
			if m.heads {
				heads = i
			}
			for ; len(picked) > 0 && picked[0] < from+m.live; picked = picked[1:] {
				v.pick(name, rows[name], heads, i, picked[0]-from)
			}
			from += m.live
		}
	}
	return nil
}

// nowRows are the new rows of a sheet of results, also of one that is stored
// no more.
func (v *reviewer) nowRows(name string) ([]rowMark, error) {
	if s := v.stored(name); s != nil {
		o, err := v.outline(name, s)
		if err != nil {
			return nil, err
		}
		return o.now, nil
	}
	return nowOutline(v.draft.NewSheet(name)), nil
}

// pick draws one of the live cells of a row; heads is the row of its headers.
func (v *reviewer) pick(name string, rows []rowMark, heads, row, which int) {
	s := v.draft.NewSheet(name)
	over := map[int]string{}
	if heads >= 0 {
		takeHeads(over, s.WrittenRow(rows[heads].number))
	}
	w := s.WrittenRow(rows[row].number)
	for i := range w.Cells {
		c := &w.Cells[i]
		if !isLive(c) {
			continue
		}
		if which--; which < 0 {
			d := drawn{sheet: name, row: w.Number, written: *c, what: where(w, over, c.Col)}
			if v.stored(name) == nil {
				d.stored = "nothing"
			}
			at := drawnRow{name, w.Number}
			v.drawnAt[at] = append(v.drawnAt[at], len(v.drawn))
			v.drawn = append(v.drawn, d)
			return
		}
	}
}

// store takes what is stored of the results drawn out of a row that is read.
func (v *reviewer) store(sheet string, row *xlsx.Row) {
	for _, i := range v.drawnAt[drawnRow{sheet, row.Number}] {
		d := &v.drawn[i]
		d.stored = strings.Clone(v.printed(row.Cell(d.written.Col).Raw, d.written))
	}
}

// tellSample lists what was drawn.
func (v *reviewer) tellSample() {
	for i := range v.drawn {
		d := &v.drawn[i]
		ref := finding.Ref{Sheet: d.sheet, Col: d.written.Col, Row: d.row}
		s := review.Sampled{Ref: ref, What: d.what, Formula: d.written.Formula, Stored: d.stored}
		s.Inputs, s.More = v.on.inWords(ref)
		v.r.Sample = append(v.r.Sample, s)
	}
}
