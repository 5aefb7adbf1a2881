package pdf

import (
	"slices"

	"platebook/render/report"
)

// closing sets the last text of a section, where a drawing sheet, a new page
// or the end of the report follows it. Where that leaves little on the last
// page, it is set once more with smaller gaps, if these do away with the page.
// Where they do not, a whole section of two pages' ends is set on the second,
// if the first keeps enough without it.
func (t *setter) closing(whole bool, set func()) {
	const (
		little = 0.45 // of a page
		enough = 0.5
		most   = 12 // pages: more are not worth a second setting
	)
	filled := t.filled()
	before := t.mark()
	set()
	pages := len(t.sheets)
	own := pages - before.sheets
	if before.open {
		own++
	}
	if own < 2 || own > most || t.filled() >= little {
		return
	}
	for _, gaps := range [...]float64{0.7, 0.4, 1} {
		t.back(before)
		t.gaps = gaps
		set()
		if len(t.sheets) < pages {
			t.gaps = 1
			return
		}
	}
	if !whole || own > 2 || filled < enough {
		return
	}
	t.back(before)
	t.open = false
	set()
	if len(t.sheets) > pages {
		t.back(before)
		set()
	}
}

// mark is a state of the setting that it can go back to.
type mark struct {
	page                     *sheet
	open                     bool
	y                        float64
	held                     [][]piece
	sheets, entries, figures int
	runs, under, links       int // of the page
}

func (t *setter) mark() mark {
	m := mark{
		page: t.page, open: t.open, y: t.y, held: slices.Clone(t.held),
		sheets: len(t.sheets), entries: len(t.entries), figures: len(t.figures),
	}
	if t.page != nil {
		m.runs, m.under, m.links = len(t.page.runs), t.page.under.Len(), len(t.page.links)
	}
	return m
}

func (t *setter) back(m mark) {
	t.page, t.open, t.y, t.held = m.page, m.open, m.y, slices.Clone(m.held)
	t.sheets, t.entries, t.figures = t.sheets[:m.sheets], t.entries[:m.entries], t.figures[:m.figures]
	if t.page != nil {
		t.page.runs, t.page.links = t.page.runs[:m.runs], t.page.links[:m.links]
		t.page.under.Truncate(m.under)
	}
}

// parted divides a section at its drawing sheets: what stands before its last
// text, that text, and the sheets after it with their headings.
func parted(blocks []report.Block) (before, text, sheets []report.Block) {
	sheet := func(b report.Block) bool {
		f, ok := b.(report.Figure)
		return ok && f.Sheet
	}
	end := len(blocks)
	for end > 0 {
		if _, heading := blocks[end-1].(report.Heading); !heading && !sheet(blocks[end-1]) {
			break
		}
		end--
	}
	from := end
	for from > 0 && !sheet(blocks[from-1]) {
		from--
	}
	return blocks[:from], blocks[from:end], blocks[end:]
}
