package workbook

import (
	"fmt"
	"sort"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/layout"
	"platebook/workbook/xlsx"
)

// itemHeaders are the headers of an item list, whose layout.Columns are items.
var itemHeaders = layout.Sheet{Columns: []layout.Column{
	{Header: "Item", Required: true},
	{Header: "Value", Required: true},
	{Header: "Unit", Also: []string{"Units"}},
	{Header: "Note", Also: []string{"Notes", "Remarks"}},
}}

// language is the vocabulary of every kind of sheet.
type language struct {
	sheets map[string]vocabulary // by contract name
	items  vocabulary            // headers of an item list
}

func newLanguage() language {
	l := language{sheets: make(map[string]vocabulary, len(layout.Sheets)), items: newVocabulary(&itemHeaders)}
	for i := range layout.Sheets {
		l.sheets[layout.Sheets[i].Name] = newVocabulary(&layout.Sheets[i])
	}
	return l
}

// header finds the header row of a sheet that is to be read as def.
func (l language) header(def *layout.Sheet, g *xlsx.Grid) header {
	if def.Items {
		return findHeader(g, l.items)
	}
	return findHeader(g, l.sheets[def.Name])
}

// tab is one sheet of the person's workbook with what it was recognised as.
type tab struct {
	sheet  *xlsx.Sheet
	grid   *xlsx.Grid
	def    *layout.Sheet // nil: not an input sheet
	header header
	unread bool // taken note of already, or not meant to be read
}

// recognise says which tab is which input sheet: by name, else by headers.
func (r *reader) recognise(tabs []tab) {
	contested := map[string]bool{}
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		var named []int
		for n := range tabs {
			if !tabs[n].unread && foldHeader(tabs[n].sheet.Name) == foldHeader(def.Name) {
				named = append(named, n)
			}
		}
		switch {
		case len(def.Columns) == 0: // the Guide
			for _, n := range named {
				tabs[n].unread = true
			}
		case len(named) == 1:
			tabs[named[0]].def = def
		case len(named) > 1:
			contested[def.Name] = true
			r.twoCandidates(def, tabs, named, "are both called")
		}
	}
	r.recogniseByHeaders(tabs, contested)
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		if def.Required && !contested[def.Name] && tabOf(tabs, def) == nil {
			r.hit(finding.Hit{
				Rule: "S101", Kind: def.Name,
				Message: fmt.Sprintf("no sheet %s; found: %s", def.Name, strings.Join(tabNames(tabs), ", ")),
			})
		}
	}
	r.inspectionOrNot(tabs, contested)
}

// recogniseByHeaders gives sheets of other names the kind that most of their
// headers speak for, when that kind is missing; a sheet that looks like one
// that is there is reported, since it is not read.
func (r *reader) recogniseByHeaders(tabs []tab, contested map[string]bool) {
	missing := map[string][]int{}
	for n := range tabs {
		t := &tabs[n]
		if t.unread || t.def != nil || len(t.grid.Rows) == 0 {
			continue
		}
		def := r.looksLike(t.grid)
		switch {
		case def == nil || contested[def.Name]:
		case tabOf(tabs, def) == nil:
			missing[def.Name] = append(missing[def.Name], n)
		default:
			if rows := filledRows(t.grid, r.words.header(def, t.grid).last); rows > 0 {
				t.unread = true
				r.hit(finding.Hit{
					Rule: "S104", Kind: def.Name, Ref: finding.Ref{Sheet: t.sheet.Name}, Value: t.sheet.Name,
					Message: fmt.Sprintf("“%s” looks like %s: %s not read", t.sheet.Name, def.Name, count(rows, "row")),
				})
			}
		}
	}
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		switch like := missing[def.Name]; {
		case len(like) == 1:
			t := &tabs[like[0]]
			t.def = def
			r.hit(finding.Hit{
				Rule: "S102", Kind: def.Name, Ref: finding.Ref{Sheet: t.sheet.Name}, Value: t.sheet.Name,
				Message: fmt.Sprintf("“%s” read as %s", t.sheet.Name, def.Name),
			})
		case len(like) > 1:
			contested[def.Name] = true
			r.twoCandidates(def, tabs, like, "both look like")
		}
	}
}

func (r *reader) twoCandidates(def *layout.Sheet, tabs []tab, which []int, what string) {
	var names []string
	var related []finding.Related
	for _, n := range which {
		tabs[n].unread = true
		names = append(names, tabs[n].sheet.Name)
		related = append(related, finding.Related{Ref: finding.Ref{Sheet: tabs[n].sheet.Name}, Text: "candidate"})
	}
	if len(names) > 2 {
		what = strings.Replace(what, "both", "all", 1)
	}
	r.hit(finding.Hit{
		Rule: "S103", Kind: def.Name, Ref: related[0].Ref, Related: related[1:],
		Message: fmt.Sprintf("%s %s %s", andList(names), what, def.Name),
		Do:      fmt.Sprintf("Name one %s.", def.Name),
	})
}

// looksLike is the kind of sheet whose required headers are all here together
// with six tenths of all its headers; of several the one with most headers,
// then the one of which most are here.
func (r *reader) looksLike(g *xlsx.Grid) *layout.Sheet {
	var best *layout.Sheet
	most, share := 0, 0.0
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		known, ok := r.fits(def, g)
		part := float64(known) / float64(max(1, len(def.Columns)))
		if ok && (known > most || known == most && part > share) {
			best, most, share = def, known, part
		}
	}
	return best
}

func (r *reader) fits(def *layout.Sheet, g *xlsx.Grid) (known int, ok bool) {
	if len(def.Columns) == 0 {
		return 0, false
	}
	h := r.words.header(def, g)
	if h.known < 2 {
		return 0, false
	}
	have := map[*layout.Column]bool{}
	if def.Items {
		for _, head := range h.headings {
			if head.def == nil || head.def.Header != "Item" {
				continue
			}
			for _, row := range g.Rows {
				if c := r.words.sheets[def.Name].read(0, headerText(row.Cell(head.col).Raw)); row.Number > h.last && c.def != nil {
					have[c.def] = true
				}
			}
		}
	} else {
		for _, head := range h.headings {
			if head.def != nil {
				have[head.def] = true
			}
		}
	}
	for i := range def.Columns {
		if def.Columns[i].Required && !have[&def.Columns[i]] {
			return 0, false
		}
	}
	return len(have), 10*len(have) >= 6*len(def.Columns)
}

// inspectionOrNot refuses a file that has nothing of an inspection.
func (r *reader) inspectionOrNot(tabs []tab, contested map[string]bool) {
	for i := range layout.Sheets {
		def := &layout.Sheets[i]
		if def.Required && (contested[def.Name] || tabOf(tabs, def) != nil) {
			return
		}
	}
	if r.unusable = ownOutput(r.book); r.unusable != nil {
		return
	}
	r.unusable = &finding.Unusable{
		Rule:    "F108",
		Message: "holds no inspection; sheets found: " + strings.Join(tabNames(tabs), ", "),
		Do:      "Start from `platebook new`.",
	}
}

func tabOf(tabs []tab, def *layout.Sheet) *tab {
	for n := range tabs {
		if tabs[n].def == def {
			return &tabs[n]
		}
	}
	return nil
}

func tabNames(tabs []tab) []string {
	var names []string
	for _, t := range tabs {
		names = append(names, t.sheet.Name)
	}
	return names
}

// filledRows counts the rows below a header that hold something.
func filledRows(g *xlsx.Grid, header int) int {
	first := sort.Search(len(g.Rows), func(i int) bool { return g.Rows[i].Number > header })
	n := 0
	for _, row := range g.Rows[first:] {
		for i := range row.Cells {
			if !row.Cells[i].IsBlank() {
				n++
				break
			}
		}
	}
	return n
}

// count is "1 row", "31 rows".
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// andList is "A", "A and B", "A, B and C".
func andList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
