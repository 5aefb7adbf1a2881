package report

import (
	"fmt"
	"slices"
	"strings"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Options is what the report needs besides the assessment.
type Options struct {
	Version string
	Photos  []Photo  // in the order of Inspection.Photos: Picture or Missing, and File
	Logo    *Picture // nil without one
}

// SectionNames are the sections in order, as the workbook's Report sheet names
// them; Required ones can never be left out of a final report.
var SectionNames = []struct {
	Name     string
	Required bool
}{
	{"Cover", true},
	{"Summary", true},
	{"Revision history and open questions", false},
	{"Tank and history", true},
	{"Scope, standards, criteria", true},
	{"People and instruments", true},
	{"Coverage and areas not examined", true},
	{"Floor", true},
	{"MFL against UT", false},
	{"Welds, coating, fixtures, dents", false},
	{"Settlement", false},
	{"Corrosion rates", true},
	{"Minimum thickness and interval", true},
	{"Repair threshold and interval", false},
	{"Repairs and recommendations", true},
	{"Comparison with the previous inspection", false},
	{"Statistics", false},
	{"Limitations and cautions", true},
	{"Photos", false},
	{"Appendix: all readings", false},
	{"Appendix: findings and answers", false},
	{"Appendix: record", false},
}

// ownPage are the sections that begin a page: what is looked up or handed on
// by itself.
var ownPage = []string{
	"Summary", "Revision history and open questions", "Repairs and recommendations", "Photos", "Appendix: all readings",
}

// scope is the section that names the sections left out.
const scope = "Scope, standards, criteria"

// writer composes the sections of one report.
type writer struct {
	a   *rules.Assessment
	in  *inspection.Inspection
	res *assess.Result
	sys unit.System
	opt Options

	shown map[string]bool        // ids of the steps that a section shows
	kinds map[string]assess.Kind // what stands behind a label, filled when first asked
}

// Build composes the full report of an assessment. The text is written from
// the data: no sentence carries a number that is not the assessment's.
func Build(a *rules.Assessment, opt Options) *Report {
	a.Ahead()
	w := &writer{a: a, in: a.Inspection, res: a.Result, sys: a.Inspection.Units, opt: opt}
	r := w.frame()
	builders := map[string]func() []Block{
		"Summary":                                 w.summary,
		"Revision history and open questions":     w.revision,
		"Tank and history":                        w.tank,
		"Scope, standards, criteria":              w.scope,
		"People and instruments":                  w.people,
		"Coverage and areas not examined":         w.coverage,
		"Floor":                                   w.floor,
		"MFL against UT":                          w.sizing,
		"Welds, coating, fixtures, dents":         w.observations,
		"Settlement":                              w.settlement,
		"Corrosion rates":                         w.rates,
		"Minimum thickness and interval":          w.interval,
		"Repair threshold and interval":           w.threshold,
		"Repairs and recommendations":             w.repairs,
		"Comparison with the previous inspection": w.comparison,
		"Statistics":                              w.statistics,
		"Limitations and cautions":                w.cautions,
		"Photos":                                  w.photos,
		"Appendix: all readings":                  w.readings,
		"Appendix: findings and answers":          w.findings,
		"Appendix: record":                        w.record,
	}
	for _, s := range SectionNames {
		build := builders[s.Name]
		own, include := w.choice(s.Name, s.Required)
		if build == nil {
			r.NoCover = !include
			continue
		}
		if !include {
			continue
		}
		blocks := build()
		w.show(blocks)
		if len(blocks) == 0 && own == "" {
			continue
		}
		if s.Name == revisionHistory {
			own = unlisted(own)
		}
		blocks = append(paragraphs(own), blocks...)
		r.Sections = append(r.Sections, Section{
			Number: len(r.Sections) + 1, Name: s.Name, Blocks: blocks,
			Break: slices.Contains(ownPage, s.Name) && len(blocks) > 1,
		})
	}
	// The section that tells what is left out may be left out itself.
	if _, include := w.choice(scope, true); !include && len(r.Sections) > 0 {
		first := &r.Sections[0]
		first.Blocks = append(w.leftOutSections(), first.Blocks...)
	}
	return r
}

// choice is the firm's own text for a section and whether the section stays.
// A required section of a final report always stays.
func (w *writer) choice(name string, required bool) (own string, include bool) {
	own, _, include = w.chosen(name, required)
	return own, include
}

// chosen tells also whether the workbook wants the section.
func (w *writer) chosen(name string, required bool) (own string, wanted, include bool) {
	wanted, include = true, true
	for _, s := range w.in.Sections {
		if inspection.Fold(s.Name.Or("")) != inspection.Fold(name) {
			continue
		}
		own = s.Text.Or("")
		wanted = !inspection.Is(s.Include, "no")
		include = wanted || required && w.status() == "final"
	}
	return own, wanted, include
}

// paragraphs is a firm's own text as it was typed: a line break begins a
// paragraph, a bullet an item of a list.
func paragraphs(own string) []Block {
	var out []Block
	for _, line := range strings.Split(own, "\n") {
		line = strings.TrimSpace(line)
		item, bullet := bulleted(line)
		switch {
		case line == "":
		case !bullet:
			out = append(out, Paragraph{Text: line})
		default:
			if n := len(out) - 1; n >= 0 {
				if l, ok := out[n].(List); ok {
					out[n] = List{append(l.Items, item)}
					continue
				}
			}
			out = append(out, List{[]string{item}})
		}
	}
	return out
}

// bulleted is a line without the bullet it begins with.
func bulleted(line string) (item string, bullet bool) {
	for _, b := range []string{"•", "–", "-", "*"} {
		if rest, ok := strings.CutPrefix(line, b); ok && strings.HasPrefix(rest, " ") && strings.TrimSpace(rest) != "" {
			return strings.TrimSpace(rest), true
		}
	}
	return line, false
}

func (w *writer) status() string { return w.in.Tank.ReportStatus.Or("preliminary") }

func (w *writer) frame() *Report {
	t := w.in.Tank
	title := fmt.Sprintf("Tank %s: floor inspection", t.Tank.Or("not named"))
	status, loud := w.a.Standing()
	return &Report{
		Title: title, Author: t.FirmName.Or(""), Letter: inspection.Is(t.PageSize, "Letter"), Units: w.sys,
		Running: Running{
			Tank: t.Tank.Or("–"), Report: t.ReportNumber.Or("–"), Revision: t.Revision.Or("–"),
			Status: status, Loud: loud, Hash: short(w.in.File.SHA256), Date: w.in.AsOf.String(),
		},
		Cover: w.cover(title, status),
		Names: rightToLeft(w.in),
	}
}

func short(hash string) string {
	if len(hash) > 8 {
		return hash[:8]
	}
	return hash
}

func (w *writer) cover(title, status string) Cover {
	t := w.in.Tank
	c := Cover{
		Firm: t.FirmName.Or(""), FirmAddress: t.FirmAddress.Or(""), FirmNumber: t.FirmNumber.Or(""), Logo: w.opt.Logo,
		Heading: title, Status: status,
		Note: w.coverNote("the workbook named in the appendix"),
		Signatures: []Signature{
			{"Prepared by", t.PreparedBy.Or(""), "", entered(t.PreparedDate)},
			{"Reviewed by", t.ReviewedBy.Or(""), "", entered(t.ReviewedDate)},
			{"Responsible inspector", t.ResponsibleInspector.Or(""), t.InspectorNumber.Or(""), entered(t.InspectorDate)},
		},
	}
	add := func(label string, f inspection.Text) {
		if f.Or("") != "" {
			c.Lines = append(c.Lines, [2]string{label, f.Value})
		}
	}
	add("Client", t.Client)
	add("Site", t.Site)
	add("Tank", t.Tank)
	add("Product", t.Product)
	add("Type of inspection", t.TypeOfInspection)
	add("Reason for inspection", t.Reason)
	c.Lines = append(c.Lines, [2]string{"Inspected", w.span()})
	add("Report number", t.ReportNumber)
	add("Revision", t.Revision)
	c.Lines = append(c.Lines, [2]string{"Report date", date(t.ReportDate)})
	return c
}

// coverNote is the small print of the cover, the firm's own words first.
func (w *writer) coverNote(from string) string {
	note := "Calculated from " + from + ". The program prints lines to sign on; it signs and approves nothing."
	if own, _ := w.choice("Cover", true); own != "" {
		return own + "\n" + note
	}
	return note
}

// entered is a date that stands in the workbook, told apart from one written
// by the hand that signs.
func entered(d inspection.Date) string {
	if !d.OK() {
		return ""
	}
	return d.Value.String() + " (as entered in the workbook)"
}

func (w *writer) span() string {
	a, b := w.in.Tank.InspectionStart, w.in.Tank.InspectionEnd
	switch {
	case a.OK() && b.OK() && a.Value != b.Value:
		return a.Value.String() + " to " + b.Value.String()
	case a.OK() && b.OK():
		return a.Value.String()
	}
	if !a.OK() && !b.OK() {
		return none
	}
	return date(a) + " to " + date(b)
}
