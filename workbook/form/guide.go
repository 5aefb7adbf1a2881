package form

import (
	"math"
	"strings"
	"unicode/utf8"

	"platebook/rules/unit"
	"platebook/templates"
	"platebook/workbook/xlsx"
)

// Widths of the Guide's three columns in characters: number, name, text.
var guideWidths = [...]float64{4, 17, 77}

// guide writes the one page that explains the workbook.
func (f *filler) guide() {
	s := f.draft.Sheet("Guide")
	s.Tab = tab("Guide")
	s.NoGrid = true
	s.Print = xlsx.Print{FitWidth: true, Letter: f.system == unit.US}
	for i, w := range guideWidths {
		s.Width(i+1, i+1, w)
	}
	title, subtitle := "Tank floor inspection", "One workbook holds one inspection of one floor. Units of this one: "+unitsText(f.system)+"."
	if r := f.entries["Guide"]; len(r) > 0 {
		if t, ok := r[0]["Subtitle"].(string); ok {
			subtitle = t
		}
	}
	s.TallRow(28, xlsx.Text(title, xlsx.Title))
	f.paragraph(s, subtitle, xlsx.Wrapped)
	for line := range strings.Lines(templates.Guide) {
		line = strings.TrimSpace(line)
		parts := strings.SplitN(line, " | ", 3)
		switch {
		case line == "":
		case line == "[figure]":
			f.figure(s)
		case strings.HasPrefix(line, "# "):
			h := xlsx.Blank(xlsx.Heading)
			s.TallRow(20, xlsx.Text(strings.TrimPrefix(line, "# "), xlsx.Heading), h, h)
		case len(parts) == 3:
			number := parts[0]
			if number == "-" {
				number = "•"
			}
			s.TallRow(lineHeight(parts[2], guideWidths[2]), xlsx.Text(number, xlsx.Wrapped), xlsx.Text(parts[1], xlsx.Bold), xlsx.Text(parts[2], xlsx.Wrapped))
		case strings.HasPrefix(line, "- "):
			text := strings.TrimPrefix(line, "- ")
			row := s.TallRow(lineHeight(text, guideWidths[1]+guideWidths[2]), xlsx.Text("•", xlsx.Wrapped), xlsx.Text(text, xlsx.Wrapped))
			s.Merge(xlsx.Area{Col1: 2, Row1: row, Col2: 3, Row2: row})
		default:
			f.paragraph(s, line, xlsx.Wrapped)
		}
	}
}

func unitsText(s unit.System) string {
	if s == unit.US {
		return "US customary (in, ft, mil)"
	}
	return "SI (mm, m, µm)"
}

// paragraph is a text across the page.
func (f *filler) paragraph(s *xlsx.NewSheet, text string, style xlsx.Style) {
	row := s.TallRow(lineHeight(text, guideWidths[0]+guideWidths[1]+guideWidths[2]), xlsx.Text(text, style))
	s.Merge(xlsx.Area{Col1: 1, Row1: row, Col2: 3, Row2: row})
}

// lineHeight is the height in points of a text wrapped in a column. Merged
// cells do not grow by themselves.
func lineHeight(text string, chars float64) float64 {
	return 15 * max(1, math.Ceil(float64(utf8.RuneCountInString(text))/(chars*1.02)))
}

// Size of the drawing in screen pixels of 96 to the inch, and how many of the
// picture's own pixels make one of them.
const (
	figureWidth   = 700
	figureHeight  = 250
	figureDensity = 3
)

const figureAlt = "Three small plans. Rows are counted from the bottom of the plan and positions from the left. " +
	"On a plate, X runs along the length and Y across the width from the datum corner to the centre of the indication. " +
	"On an annular plate, X runs clockwise along the shell from the first radial seam and Y inward from the shell."

// figure places the drawing and leaves rows for it.
func (f *filler) figure(s *xlsx.NewSheet) {
	s.TallRow(6)
	s.Image(xlsx.Image{Col: 1, Row: s.Next(), PNG: templates.GuideFigure, Scale: 1 / float64(figureDensity), Alt: figureAlt})
	const points = figureHeight * 72 / 96
	for h := 0.0; h < points+4; h += 15 {
		s.TallRow(15)
	}
}
