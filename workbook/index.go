package workbook

import (
	"cmp"
	"context"
	"encoding/csv"
	"io"
	"slices"
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/check"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/save"
	"platebook/workbook/xlsx"
)

// IndexRow is one tank of an index: what an office looks for over all its
// tanks. It is small on purpose, so that an index of many workbooks takes no
// more than its own lines.
type IndexRow struct {
	File     string
	Failed   string // why there are no results, "" when there are
	Tank     string
	Site     string
	Report   string
	Standing string // FINAL, PRELIMINARY: 2 errors …
	Units    unit.System
	Floor    string                  // the state the figures are of: as found, as planned
	AsFound  unit.Maybe[unit.Length] // smallest remaining thickness before repair
	Smallest unit.Maybe[unit.Length] // the same in the state
	At       string                  // where the latter is, "soil side, 3-4/17"
	Interval unit.Maybe[unit.Years]
	Governed string
	Next     unit.Date // 0: none
	Repairs  int
	Counts   check.Counts
	LeftOut  int
}

// FailedIndex is the row of a workbook without results: what failed, and which
// tank it is as far as it was read; a may be nil.
func FailedIndex(file, why string, a *rules.Assessment) IndexRow {
	r := IndexRow{File: file, Failed: why}
	if a != nil {
		t := &a.Inspection.Tank
		r.Tank, r.Site, r.Report = t.Tank.Text, t.Site.Text, t.ReportNumber.Text
	}
	return r
}

// IndexOf is the row of an assessed workbook.
func IndexOf(file string, a *rules.Assessment) IndexRow {
	r := FailedIndex(file, "", a)
	r.Units, r.Counts, r.LeftOut = a.Inspection.Units, a.Counts, len(a.LeftOut)
	r.Standing, _ = a.Standing()
	if a.Repairs != nil {
		r.Repairs = len(a.Repairs.Items)
	}
	if a.Result == nil {
		return r
	}
	r.AsFound, _ = smallest(&a.Result.AsFound)
	if s := a.Result.State(a.Result.PageOne); s != nil {
		r.Floor = a.Result.PageOne.Words()
		r.Smallest, r.At = smallest(s)
		r.Interval, r.Governed, r.Next = s.Interval, s.GovernedBy.Words(), s.NextDate
	}
	return r
}

// smallest is the lesser of a state's two minima; of equal ones that of the
// soil side.
func smallest(s *assess.StateResult) (v unit.Maybe[unit.Length], at string) {
	switch {
	case s.SoilMin.Known && (!s.ProductMin.Known || s.SoilMin.V <= s.ProductMin.V):
		return s.SoilMin, "soil side, " + s.SoilMinAt
	case s.ProductMin.Known:
		return s.ProductMin, "product side, " + s.ProductMinAt
	}
	return v, ""
}

// NaturalPaths compares names of files as a person lists them, folder by
// folder: t2 before t10.
func NaturalPaths(a, b string) int {
	x, y := strings.Split(a, "/"), strings.Split(b, "/")
	for i := range min(len(x), len(y)) {
		if d := cmp.Or(floor.NaturalOrder(x[i], y[i]), strings.Compare(x[i], y[i])); d != 0 {
			return d
		}
	}
	return len(x) - len(y)
}

// SortIndex puts tanks in the order of their next dates, those of one date by
// name. A tank without one
// because it has to be repaired first stands before all; one whose date is not
// known, and last a workbook that could not be used, stand behind.
func SortIndex(rows []IndexRow) {
	rank := func(r IndexRow) int {
		switch {
		case r.Failed != "":
			return 3
		case r.Next != 0:
			return 1
		case r.Interval.Known:
			return 0
		}
		return 2
	}
	slices.SortStableFunc(rows, func(a, b IndexRow) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Next, b.Next), floor.NaturalOrder(a.Tank, b.Tank), NaturalPaths(a.File, b.File))
	})
}

// indexUnits is US when every tank is in US units, else SI: a column has one
// unit.
func indexUnits(rows []IndexRow) unit.System {
	sys := unit.SI
	for _, r := range rows {
		if r.Failed != "" {
			continue
		}
		if r.Units != unit.US {
			return unit.SI
		}
		sys = unit.US
	}
	return sys
}

func indexHeaders(sys unit.System) []string {
	u := " (" + unit.Thickness.Unit(sys) + ")"
	return []string{
		"Next date", "Tank", "Site", "Report", "Status", "Smallest thickness" + u, "At", "Floor", "Smallest as found" + u,
		"Interval (years)", "Governed by", "Repairs", "Errors", "Open warnings", "Notes", "Answered", "Rows left out", "File", "Failure",
	}
}

// next is the date in words where there is none.
func (r IndexRow) next() string {
	switch {
	case r.Failed != "":
		return ""
	case r.Next != 0:
		return r.Next.String()
	case r.Interval.Known:
		return "repair before return to service"
	}
	return "not known"
}

// WriteIndex writes the index of many tanks as a workbook. caution is what
// stands against taking it for all of them, "" for nothing.
func WriteIndex(ctx context.Context, out string, inputs []string, rows []IndexRow, caution string) (path string, err error) {
	sys := indexUnits(rows)
	d := xlsx.NewDraft("Index of tanks")
	d.Properties = []xlsx.Property{{Name: indexProperty, Value: strconv.Itoa(len(rows))}}
	s := d.Sheet("Tanks")
	s.Print = xlsx.Print{Landscape: true, FitWidth: true, Footer: "&L&A&R&P of &N", TitleRows: "4"}
	s.Row(xlsx.Text("Index of tanks", xlsx.Title))
	s.Row(xlsx.Text("Sorted by calculated next date. The figures are those of each report's first page; a date counts only with the status beside it.", xlsx.Quiet))
	if caution == "" {
		s.Skip(1)
	} else {
		s.Row(xlsx.Text(caution, xlsx.Bad))
	}
	var head []xlsx.Entry
	for _, h := range indexHeaders(sys) {
		head = append(head, xlsx.Text(h, xlsx.Header))
	}
	for i, w := range []float64{13, 14, 18, 14, 28, 11, 18, 11, 12, 10, 15, 9, 8, 10, 8, 10, 9, 24, 32} {
		s.Width(i+1, i+1, w)
	}
	first := s.FitRow(head...)
	s.FreezeRow, s.FreezeCol = first, 2
	for _, r := range rows {
		s.FitRow(r.entries(sys)...)
	}
	if len(rows) > 0 {
		s.Filter(xlsx.Area{Col1: 1, Row1: first, Col2: len(head), Row2: first + len(rows)})
	}
	return save.Save(ctx, out, inputs, d.Write, func(path string) error { _, err := xlsx.Open(path); return err })
}

func (r IndexRow) entries(sys unit.System) []xlsx.Entry {
	text := func(s string) xlsx.Entry { return xlsx.Text(s, xlsx.Wrapped) }
	if r.Failed != "" {
		row := make([]xlsx.Entry, 19)
		row[1], row[2], row[3] = text(r.Tank), text(r.Site), text(r.Report)
		row[4], row[17], row[18] = xlsx.Text("no results", xlsx.Bad), text(r.File), text(r.Failed)
		return row
	}
	thick := func(v unit.Maybe[unit.Length]) xlsx.Entry {
		if !v.Known {
			return notKnown()
		}
		return xlsx.Number(unit.Thickness.In(sys, float64(v.V)), fixed(unit.Thickness, sys, 0))
	}
	date := text(r.next())
	if r.Next != 0 {
		date = xlsx.Date(r.Next, xlsx.DateISO)
	}
	interval := notKnown()
	if r.Interval.Known {
		interval = downToTenth(float64(r.Interval.V))
	}
	whole := func(n int) xlsx.Entry { return xlsx.Number(float64(n), xlsx.Whole) }
	errors := whole(r.Counts.Errors)
	if r.Counts.Errors > 0 {
		errors = xlsx.Number(float64(r.Counts.Errors), xlsx.Bad)
	}
	return []xlsx.Entry{
		date, text(r.Tank), text(r.Site), text(r.Report), text(r.Standing), thick(r.Smallest), text(r.At), text(r.Floor), thick(r.AsFound),
		interval, text(r.Governed), whole(r.Repairs), errors, whole(r.Counts.Warnings), whole(r.Counts.Notes), whole(r.Counts.Answered), whole(r.LeftOut),
		text(r.File), text(""),
	}
}

// IndexCSV writes the same as comma-separated values.
func IndexCSV(w io.Writer, rows []IndexRow) error {
	sys := indexUnits(rows)
	c := csv.NewWriter(w)
	_ = c.Write(indexHeaders(sys))
	for _, r := range rows {
		record := make([]string, 0, 19)
		if r.Failed != "" {
			record = append(record, "", r.Tank, r.Site, r.Report, "no results", "", "", "", "", "", "", "", "", "", "", "", "", r.File, r.Failed)
		} else {
			thick := func(v unit.Maybe[unit.Length]) string {
				if !v.Known {
					return ""
				}
				return unit.Thickness.Text(sys, float64(v.V), 0)
			}
			interval := ""
			if r.Interval.Known {
				interval = unit.IntervalText(r.Interval.V)
			}
			record = append(record, r.next(), r.Tank, r.Site, r.Report, r.Standing, thick(r.Smallest), r.At, r.Floor, thick(r.AsFound), interval, r.Governed)
			for _, n := range []int{r.Repairs, r.Counts.Errors, r.Counts.Warnings, r.Counts.Notes, r.Counts.Answered, r.LeftOut} {
				record = append(record, strconv.Itoa(n))
			}
			record = append(record, r.File, "")
		}
		for i := range record {
			record[i] = harmless(record[i])
		}
		_ = c.Write(record)
	}
	c.Flush()
	return c.Error()
}

// harmless keeps a spreadsheet program from running a text as a formula: an
// apostrophe before it says that it is text. Numbers stay as they are.
func harmless(text string) string {
	if !inspection.Carried(text) {
		return text
	}
	if _, err := strconv.ParseFloat(text, 64); err == nil {
		return text
	}
	return "'" + text
}
