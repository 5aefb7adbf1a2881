package workbook

import (
	"cmp"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/xlsx"
)

const (
	recordPrintsTitle = "Fingerprints of the input cells"
	recordPrintsWhy   = "Three letters for each cell, by which a review finds the cells that changed since."
	recordPrints      = "Fingerprints of "

	mostPrinted = 32000 // letters of fingerprints in one cell
)

// ofRecord says that a row of the Record sheet tells of a sheet of the
// person's, which is no result: an earlier version wrote no fingerprints, and
// a sheet of notes may have come since.
func ofRecord(sheet, name string) bool {
	return strings.HasPrefix(sheet, "Record") && (name == recordPrintsWhy || strings.HasPrefix(name, recordPrints) || strings.HasPrefix(name, recordSheet))
}

// writeFingerprints writes those of the person's sheets into the Record. A
// sheet with a row too long for a cell is left out: its hash stands alone.
func writeFingerprints(s *xlsx.NewSheet, b *Book) {
	s.Skip(1)
	s.Row(xlsx.Text(recordPrintsTitle, xlsx.Heading))
	s.Row(xlsx.Text(recordPrintsWhy, xlsx.Muted))
	for _, own := range b.File.Sheets {
		if slices.Contains(b.Results, own.Name) {
			continue
		}
		all, err := own.Fingerprints()
		if err != nil {
			continue
		}
		parts, whole := cutPrints(all)
		if !whole {
			continue
		}
		for _, p := range parts { // what follows the letters keeps them from running over the sheet
			s.Row(xlsx.Text(recordPrints+own.Name, xlsx.Normal), xlsx.Text(p, xlsx.Muted), xlsx.Text(count(strings.Count(p, " ")+1, "row"), xlsx.Muted))
		}
	}
}

// cutPrints cuts fingerprints between rows, to lengths that a cell holds.
func cutPrints(all string) (parts []string, ok bool) {
	for len(all) > mostPrinted {
		at := strings.LastIndexByte(all[:mostPrinted], ' ')
		if at < 0 {
			return nil, false
		}
		parts, all = append(parts, all[:at]), all[at+1:]
	}
	if all != "" {
		parts = append(parts, all)
	}
	return parts, !slices.ContainsFunc(parts, func(p string) bool { return len(p) > mostPrinted })
}

// recordedPrints are the fingerprints in a Record sheet, sheet by sheet.
func recordedPrints(g *xlsx.Grid) map[string][]string {
	prints := map[string][]string{}
	for i := range g.Rows {
		sheet, ok := strings.CutPrefix(g.Rows[i].Cell(1).Text, recordPrints)
		if text := g.Rows[i].Cell(2).Text; ok && text != "" {
			prints[sheet] = append(prints[sheet], text)
		}
	}
	return prints
}

// printed takes the fingerprints of a sheet apart; one whose own are damaged
// has none.
func (r *Recorded) printed(sheet string) (rows []xlsx.Printed, known bool) {
	for _, text := range r.Prints[sheet] {
		part, err := xlsx.ParseFingerprints(text)
		if err != nil {
			return nil, false
		}
		rows = append(rows, part...)
	}
	return rows, len(r.Prints[sheet]) > 0
}

// changedInputs finds the sheets and the cells that are not those the results
// were made from.
func changedInputs(in *review.Inputs, b *Book, was *Recorded) error {
	names, now, err := sheetHashes(b)
	if err != nil {
		return err
	}
	for _, n := range names {
		if was.Sheets[n] == now[n] {
			continue
		}
		in.Sheets = append(in.Sheets, n)
		prints, err := b.File.Sheet(n).Fingerprints()
		if err != nil {
			return err
		}
		rows, err := xlsx.ParseFingerprints(prints)
		if err != nil {
			return err
		}
		before, known := was.printed(n)
		if !known {
			in.Untold = append(in.Untold, n)
			continue
		}
		d := comparePrints(before, rows)
		in.Cells += len(d.places) + d.gone
		in.Gone += d.gone
		for _, ref := range d.places {
			ref.Sheet = n
			in.Places = append(in.Places, ref)
		}
		switch {
		case d.elsewhere:
			in.Elsewhere = append(in.Elsewhere, n)
		case len(d.places)+d.gone == 0: // one of those that go unseen
			in.Untold = append(in.Untold, n)
		}
	}
	var gone []string
	for n := range was.Sheets {
		if now[n] == "" {
			gone = append(gone, n+" (gone)")
		}
	}
	slices.Sort(gone)
	in.Sheets, in.Untold = append(in.Sheets, gone...), append(in.Untold, gone...)
	return nil
}

// printsDiffer is what differs between two states of a sheet.
type printsDiffer struct {
	places    []finding.Ref // cells of the new state, without the sheet
	gone      int           // cells of rows that are gone
	elsewhere bool          // equal rows stand in another order, or only further up or down
}

// comparePrints pairs equal rows in their order, then equal ones wherever they
// stand, then those that have most cells alike, and compares cell by cell.
func comparePrints(was, now []xlsx.Printed) printsDiffer {
	text := func(rows []xlsx.Printed) []string {
		list := make([]string, len(rows))
		for i, r := range rows {
			list[i] = strings.Join(r.Cells, ".")
		}
		return list
	}
	a, b := text(was), text(now)
	var d printsDiffer
	var gone, came []int
	shifted := false
	for _, p := range align(a, b) {
		switch {
		case p.b < 0:
			gone = append(gone, p.a)
		case p.a < 0:
			came = append(came, p.b)
		default:
			shifted = shifted || was[p.a].Row != now[p.b].Row
		}
	}
	left := map[string][]int{}
	for _, i := range gone {
		left[a[i]] = append(left[a[i]], i)
	}
	taken := map[int]bool{}
	came = slices.DeleteFunc(came, func(j int) bool {
		list := left[b[j]]
		if len(list) == 0 {
			return false
		}
		taken[list[0]], left[b[j]] = true, list[1:]
		d.elsewhere = true
		return true
	})
	gone = slices.DeleteFunc(gone, func(i int) bool { return taken[i] })
	like := likeness{was: was, now: now, gone: gone, came: came}
	pairs := like.pairs()
	for _, j := range like.came {
		pairs = append(pairs, pair{-1, j})
	}
	for _, p := range pairs {
		var old []string
		if p.a >= 0 {
			old = was[p.a].Cells
		}
		row := now[p.b]
		for col := range max(len(old), len(row.Cells)) {
			if cellOf(old, col) != cellOf(row.Cells, col) {
				d.places = append(d.places, finding.Ref{Row: row.Row, Col: col + 1})
			}
		}
	}
	for _, i := range like.gone {
		for _, c := range was[i].Cells {
			if c != "" {
				d.gone++
			}
		}
	}
	d.elsewhere = d.elsewhere || shifted && len(d.places)+d.gone == 0
	slices.SortFunc(d.places, func(a, b finding.Ref) int { return cmp.Or(a.Row-b.Row, a.Col-b.Col) })
	return d
}

func cellOf(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return ""
}
