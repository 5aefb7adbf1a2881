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

// draw picks results to be checked by hand. The seed is the beginning of the
// file's hash: another reviewer of the same file draws the same.
func (v *reviewer) draw(n int) {
	hash := v.book.Inspection.File.SHA256
	v.r.Seed = hash[:min(16, len(hash))]
	seed, _ := strconv.ParseUint(v.r.Seed, 16, 64)
	type candidate struct {
		sheet string
		row   xlsx.WrittenRow
		c     xlsx.Written
		heads string
	}
	var all []candidate
	for _, name := range v.draft.Sheets() {
		if strings.HasPrefix(name, "Record") || strings.HasPrefix(name, "Findings") {
			continue
		}
		heads := map[int]string{}
		for _, row := range v.draft.NewSheet(name).Written() {
			takeHeads(heads, row)
			for _, c := range row.Cells {
				if c.Formula != "" && c.Type == cell.Number {
					all = append(all, candidate{name, row, c, where(row, heads, c.Col)})
				}
			}
		}
	}
	picked := rand.New(rand.NewPCG(seed, 0)).Perm(len(all))
	picked = picked[:min(n, len(all))]
	slices.Sort(picked)
	for _, i := range picked {
		c := all[i]
		ref := finding.Ref{Sheet: c.sheet, Col: c.c.Col, Row: c.row.Number}
		s := review.Sampled{Ref: ref, What: c.heads, Formula: c.c.Formula, Stored: "nothing"}
		if sheet := v.stored(c.sheet); sheet != nil {
			if g, err := sheet.Read(); err == nil {
				s.Stored = v.printed(g.At(ref.Col, ref.Row).Raw, c.c)
			}
		}
		s.Inputs, s.More = v.on.inWords(ref)
		v.r.Sample = append(v.r.Sample, s)
	}
}
