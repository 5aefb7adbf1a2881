package layout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/unit"
)

const manualIntro = `# The workbook

One .xlsx workbook holds one inspection of one tank floor. ` + "`platebook new`" + ` writes a blank one; any workbook with these sheets and headings is read just as well. This page is made from the same table as the blank workbook, the reader and the messages.

## How it is read

- A sheet is found by its name, without regard to case and spaces; failing that, by its headings, and that is reported. Columns may stand in any order, rows may be blank, and titles may stand above the headings. Columns and sheets of your own are left alone and listed.
- The heading names the unit, as in ` + "`Length (mm)`" + ` or ` + "`Nominal (in)`" + `. A cell may carry its own: ` + "`6.35 mm`, `1/4\"`, `3'-6\"`, `250 mil`" + `. Without either, the item Units decides, and that is noted.
- A value nobody knows stays empty. Nothing is guessed: ` + "`<3`, `5.2/5.4`, `03/04/2026`" + ` and a date under a thickness are errors of that one cell, and everything else is still read.
- Percent may be typed as 45, 45% or a percent-formatted 0.45. A decimal comma is accepted where it cannot be a thousands mark.
- Names of plates, indications and photos compare without case, spaces and leading zeros. They are shown as typed and never renumbered.
- Of a formula the stored value is used. Hidden rows are read and counted. Colour and strike-through carry no data.
- The file is never changed.

Items and columns in **bold** are needed. Ranges are given in SI units, US limits are the exact conversions.
`

// Manual is the workbook's manual, docs/workbook.md.
func Manual() string {
	var b strings.Builder
	b.WriteString(manualIntro)
	b.WriteString("\n## The sheets\n\n| sheet | for | needed |\n| --- | --- | --- |\n")
	for i := range Sheets {
		s := &Sheets[i]
		needed := "no"
		switch {
		case s.Required:
			needed = "yes"
		case s.Columns == nil:
			needed = "not read"
		}
		name := s.Name
		if s.Columns != nil {
			name = fmt.Sprintf("[%s](#%s)", s.Name, anchor(s.Name))
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", name, s.Purpose, needed)
	}
	for i := range Sheets {
		if Sheets[i].Columns != nil {
			Sheets[i].manual(&b)
		}
		if Sheets[i].Name == "Criteria" {
			manualCriteria(&b)
		}
	}
	return b.String()
}

func anchor(name string) string { return strings.ReplaceAll(strings.ToLower(name), " ", "-") }

func (s *Sheet) manual(b *strings.Builder) {
	fmt.Fprintf(b, "\n## %s\n\n%s\n", s.Name, s.Purpose)
	if s.Items {
		b.WriteString("Rows of Item, Value, Unit and Note; items are found by name, in any order.\n")
	}
	group := "."
	for i := range s.Columns {
		c := &s.Columns[i]
		if c.Group != group {
			group = c.Group
			if s.Items {
				fmt.Fprintf(b, "\n### %s\n", group)
			}
			first := "column"
			if s.Items {
				first = "item"
			}
			fmt.Fprintf(b, "\n| %s | unit | entry | meaning | example |\n| --- | --- | --- | --- | --- |\n", first)
		}
		name := c.Header
		if c.Required {
			name = "**" + name + "**"
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", name, c.manualUnit(), c.entry(), c.meaning(), code(c.Example))
	}
}

func (c *Column) manualUnit() string {
	si, us := c.ItemUnit(unit.SI), c.ItemUnit(unit.US)
	if si == us {
		return si
	}
	return si + " / " + us
}

// entry says what may be typed.
func (c *Column) entry() string {
	switch c.Type {
	case Label:
		return "name"
	case Labels:
		return "names"
	case Date:
		return "date"
	case Word:
		return strings.Join(c.Words, " · ")
	case Number:
		return "number" + c.limits()
	}
	return "text"
}

func (c *Column) limits() string {
	number := func(v float64) string {
		return strconv.FormatFloat(c.Kind.In(unit.SI, v), 'f', -1, 64)
	}
	switch {
	case c.High > 0:
		return " " + number(c.Low) + " to " + number(c.High)
	case c.Signed:
		return ", may be below 0"
	case c.ZeroOK:
		return ", 0 or more"
	}
	return " above 0"
}

func (c *Column) meaning() string {
	text := c.Help
	var spellings []string
	for a := range c.Aliases {
		spellings = append(spellings, a+" → "+c.Aliases[a])
	}
	slices.Sort(spellings)
	if len(spellings) > 0 {
		text += " Also accepted: " + strings.Join(spellings, ", ") + "."
	}
	if len(c.Also) > 0 {
		text += " Other headings: " + strings.Join(c.Also, ", ") + "."
	}
	return text
}

func code(text string) string {
	if text == "" {
		return ""
	}
	return "`" + text + "`"
}

func manualCriteria(b *strings.Builder) {
	b.WriteString("\n### The criteria\n\nA blank value or an absent row means the default.\n\n| criterion | unit | SI default | US default | source | what it does |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, d := range criteria.Table {
		u := d.Unit(unit.SI)
		if us := d.Unit(unit.US); us != u {
			u += " / " + us
		}
		if d.Shape == criteria.Choice {
			u = strings.Join(d.Words, " · ")
		}
		source := string(d.Mark)
		if d.Clause != "" {
			source += ", " + d.Clause
		}
		blank := func(t string) string {
			if t == "" {
				return "blank"
			}
			return t
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s |\n", d.Name, u, blank(d.SI), blank(d.US), source, d.Help)
	}
}
