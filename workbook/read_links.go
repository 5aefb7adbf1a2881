package workbook

import (
	"fmt"
	"regexp"
	"strings"

	"platebook/rules/finding"
)

// A formula names another workbook by a number, [1]Sheet1!A1, or by its name,
// [last-year.xlsx]Sheet1!A1.
var (
	linkNumber = regexp.MustCompile(`(?:^|[^A-Za-z0-9_\]])\[(\d+)\][^\[\]!]*!`)
	linkFile   = regexp.MustCompile(`\[([^\[\]]+\.[xX][lL][sS][xXmMbB]?)\]`)
)

// otherWorkbooks reports formulas of read cells that point to other files.
func (r *reader) otherWorkbooks(links []link) {
	var names []string
	cells := map[string][]finding.Ref{}
	for _, l := range links {
		name := l.file
		if l.number > 0 {
			name = fmt.Sprintf("link %d", l.number)
			if l.number <= len(r.book.Links) {
				name = baseName(r.book.Links[l.number-1])
			}
		}
		if cells[name] == nil {
			names = append(names, name)
		}
		cells[name] = append(cells[name], l.ref)
	}
	for _, name := range names {
		refs := cells[name]
		h := finding.Hit{
			Rule: "F202", Subject: name, Ref: refs[0], Value: name, Cells: len(refs),
			Message: fmt.Sprintf("%s from %s", comeFrom(len(refs)), name),
		}
		for _, ref := range refs[1:] {
			h.Related = append(h.Related, finding.Related{Ref: ref})
		}
		r.hit(h)
	}
}

func comeFrom(n int) string {
	if n == 1 {
		return "1 value comes"
	}
	return fmt.Sprintf("%d values come", n)
}

func baseName(target string) string {
	if at := strings.LastIndexAny(target, `/\`); at >= 0 {
		target = target[at+1:]
	}
	return strings.ReplaceAll(target, "%20", " ")
}
