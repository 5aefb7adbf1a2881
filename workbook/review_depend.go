package workbook

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/review"
	"platebook/workbook/xlsx"
)

// dependence follows the formulas of the result sheets down to the person's
// cells.
type dependence struct {
	cells map[finding.Ref]string // formulas of the result cells
	links map[string]map[int][]string
	order map[string]int // sheets of the workbook as they stand
}

func newDependence(d *xlsx.Draft, file *xlsx.Book) *dependence {
	p := &dependence{cells: map[finding.Ref]string{}, links: map[string]map[int][]string{}, order: map[string]int{}}
	for i, s := range file.Sheets {
		p.order[s.Name] = i + 1
	}
	for _, name := range d.Sheets() {
		s := d.NewSheet(name)
		p.links[name] = s.RowLinks()
		for _, row := range s.Written() {
			for _, c := range row.Cells {
				if c.Formula != "" {
					p.cells[finding.Ref{Sheet: name, Col: c.Col, Row: row.Number}] = c.Formula
				}
			}
		}
	}
	return p
}

// mostFollowed bounds how many cells are looked at behind one result.
const mostFollowed = 200_000

// of gives the person's cells that a result rests on, as they stand in the
// workbook. A result without a formula rests on what its row leads to.
func (p *dependence) of(ref finding.Ref) []finding.Ref {
	seen := map[finding.Ref]bool{ref: true}
	var inputs []finding.Ref
	queue := []finding.Ref{ref}
	look := func(r finding.Ref) {
		if len(seen) < mostFollowed && !seen[r] {
			seen[r] = true
			queue = append(queue, r)
		}
	}
	for len(queue) > 0 {
		r := queue[0]
		queue = queue[1:]
		own := p.links[r.Sheet]
		formula := p.cells[r]
		switch {
		case own == nil:
			inputs = append(inputs, r)
		case formula != "":
			references(formula, r.Sheet, look)
		default:
			for _, target := range own[r.Row] {
				references(target, r.Sheet, func(to finding.Ref) {
					if p.links[to.Sheet] == nil {
						look(to)
					}
				})
			}
		}
	}
	slices.SortFunc(inputs, func(a, b finding.Ref) int {
		if d := p.order[a.Sheet] - p.order[b.Sheet]; d != 0 {
			return d
		}
		if d := strings.Compare(a.Sheet, b.Sheet); d != 0 {
			return d
		}
		if a.Row != b.Row {
			return a.Row - b.Row
		}
		return a.Col - b.Col
	})
	return inputs
}

// named is the first of the inputs in words, and how many more there are.
func (p *dependence) inWords(ref finding.Ref) (list []string, more int) {
	all := p.of(ref)
	for _, r := range all[:min(len(all), review.MostInputs)] {
		list = append(list, r.String())
	}
	return list, len(all) - len(list)
}

// reference is a text in quotes, or a cell or a range, with its sheet.
var reference = regexp.MustCompile(`"(?:[^"]|"")*"|(?:('(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!)?\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?`)

// named is a cell or a range in a formula, with its place in the text.
type named struct {
	from, to     int
	prefix       string // the sheet as written, with its exclamation mark
	sheet        string // "" for the formula's own
	col, lastCol string // lastCol "" for a cell
	row, lastRow int
}

// namedIn lists the cells and ranges of a formula.
func namedIn(formula string) []named {
	var out []named
	for _, m := range reference.FindAllStringSubmatchIndex(formula, -1) {
		if m[4] < 0 || m[0] > 0 && isWord(formula[m[0]-1]) || m[1] < len(formula) && (isWord(formula[m[1]]) || formula[m[1]] == '(') {
			continue // a text, a part of a name or of a number, or a function
		}
		part := func(i int) string {
			if m[2*i] < 0 {
				return ""
			}
			return formula[m[2*i]:m[2*i+1]]
		}
		n := named{from: m[0], to: m[1], col: part(2), row: number(part(3)), lastCol: part(4), lastRow: number(part(5))}
		if s := part(1); s != "" {
			n.prefix = s + "!"
			n.sheet = strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(s, "'"), "'"), "''", "'")
		}
		out = append(out, n)
	}
	return out
}

// references calls f for each cell that a formula names; a range is each of
// its cells.
func references(formula, home string, f func(finding.Ref)) {
	for _, n := range namedIn(formula) {
		sheet := n.sheet
		if sheet == "" {
			sheet = home
		}
		col := columnNumber(n.col)
		lastCol, lastRow := col, n.row
		if n.lastCol != "" {
			lastCol, lastRow = columnNumber(n.lastCol), n.lastRow
		}
		for r := n.row; r <= lastRow; r++ {
			for c := col; c <= lastCol; c++ {
				f(finding.Ref{Sheet: sheet, Col: c, Row: r})
			}
		}
	}
}

func isWord(c byte) bool {
	return c == '_' || c == '.' || c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z'
}

func columnNumber(letters string) int {
	n := 0
	for i := range len(letters) {
		n = 26*n + int(letters[i]-'A') + 1
	}
	return n
}

func number(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}
