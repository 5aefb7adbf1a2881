package report

import (
	"regexp"
	"strings"
)

// revisionHistory is the section's name, which the Report sheet uses too.
const revisionHistory = "Revision history and open questions"

// earlier is a line of the firm's own on a revision before this one: its name,
// its date, and what it changed, as in “A | 2026-05-04 | first issue”.
var earlier = regexp.MustCompile(`^\s*(?i:rev(?:ision)?\.?\s+)?([^\s|,;:]{1,12})\s*[|,;:]?\s+(\d{4}-\d{2}-\d{2})\s*[|,;:–-]?\s*(.*)$`)

// revisions is the table's rows: those the firm tells in lines of the Revision
// note or of its own text for the section, then this one.
func (w *writer) revisions() []Row {
	t := w.in.Tank
	var rows []Row
	take := func(lines []string) (rest []string) {
		for _, line := range lines {
			if m := earlier.FindStringSubmatch(line); m != nil {
				rows = append(rows, Row{Cells: []string{m[1], m[2], orDash(m[3])}})
			} else if line = strings.TrimSpace(line); line != "" {
				rest = append(rest, line)
			}
		}
		return rest
	}
	own, _ := w.choice(revisionHistory, false)
	take(strings.Split(own, "\n"))
	note := strings.Join(take(strings.Split(t.RevisionNote.Or(""), "\n")), "\n")
	// A line on this revision itself stands for its row.
	for i := range rows {
		if strings.EqualFold(rows[i].Cells[0], t.Revision.Or("")) && note == "" {
			rows[i].Bold = true
			return rows
		}
	}
	return append(rows, Row{Bold: len(rows) > 0, Cells: []string{text(t.Revision), date(t.ReportDate), orDash(note)}})
}

// unlisted is the firm's own text without the lines that stand in the table of
// revisions.
func unlisted(own string) string {
	var rest []string
	for _, line := range strings.Split(own, "\n") {
		if !earlier.MatchString(line) {
			rest = append(rest, line)
		}
	}
	return strings.Join(rest, "\n")
}
