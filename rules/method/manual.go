package method

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"platebook/rules/std/api653_5"
)

// Manual is the page of all formulas, in Markdown.
func Manual() string {
	var b strings.Builder
	shown := Show()
	var marks [5]int
	names := []string{"API 653", "public source", "common practice, no source", "from memory, verify", "derived"}
	for _, f := range shown {
		for i, n := range names {
			if string(f.Mark) == n {
				marks[i]++
			}
		}
	}
	b.WriteString(`# Formulas

Every formula of the evaluation. This page is made from the program: a formula of a step is the one the step itself carries, taken
from the evaluation of invented tanks; a formula of a function is the one it stands under. ` + "`platebook explain NAME`" + ` prints the
same, and each number of an example below was calculated by the program when the page was made.

Symbols and units are SI; a workbook in US units shows the same steps in inches, feet and psi, with constants converted exactly.
A number that a formula cannot give is not known, and the step says why: nothing is extrapolated, nothing is guessed.

`)
	fmt.Fprintf(&b, "%d steps: ", len(shown))
	for i, n := range names {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%d %s", marks[i], n)
	}
	fmt.Fprintf(&b, ". %d functions.\n\n", len(Functions()))
	b.WriteString(`**API 653** is API Std 653 as seen in public extracts, not in a licensed copy. **from memory, verify** wants a look into one; a report lists
what of it was used. **derived** follows from units, geometry or algebra. **common practice, no source** has no published source that is known.

`)
	editions(&b)
	for _, s := range Sections {
		fmt.Fprintf(&b, "\n## %d %s\n", s.Number, s.Title)
		for i := range shown {
			if shown[i].Section == s.Number {
				shown[i].explained().write(&b)
			}
		}
		if s.Number == 10 {
			checks(&b)
		}
		first := true
		for _, f := range Functions() {
			if f.Section != s.Number {
				continue
			}
			if first {
				fmt.Fprintf(&b, "\n### Functions of section %d\n", s.Number)
				first = false
			}
			f.write(&b)
		}
	}
	return b.String()
}

// editions writes the clause labels of each edition side by side.
func editions(b *strings.Builder) {
	fmt.Fprintf(b, "Clauses of %s carry the labels of its %s. Other editions number some of them otherwise; where no label is known, none is given.\n\n| subject |", api653_5.Document, api653_5.Editions[0].Name)
	for _, e := range api653_5.Editions {
		fmt.Fprintf(b, " %s |", e.Name)
	}
	b.WriteString("\n| --- |" + strings.Repeat(" --- |", len(api653_5.Editions)) + "\n")
	for _, s := range api653_5.Subjects {
		fmt.Fprintf(b, "| %s |", s)
		for _, e := range api653_5.Editions {
			fmt.Fprintf(b, " %s |", e.Labels[s])
		}
		b.WriteByte('\n')
	}
}

// checks writes the rules that repairs are held against.
func checks(b *strings.Builder) {
	b.WriteString("\n### Rules for repairs\n\nEach planned or proposed repair is held against the rules that apply to it; what a rule needs and is not recorded is not checked, and the report says so.\n\n| rule | is | why | limit | clause | source | a repair that breaks it | one that keeps it |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, c := range ShowChecks() {
		limit := c.Limit
		if limit == "" {
			limit = "yes"
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s | %s | %s |\n", plain(c.ID), plain(c.Means), plain(c.Why), limit, c.Clause, plain(c.Source), plain(c.Broken), plain(c.Kept))
	}
}

func (e *Explained) write(b *strings.Builder) {
	fmt.Fprintf(b, "\n### %s · %s\n\n", e.Name, e.Title)
	fmt.Fprintf(b, "%s. %s.\n\n", sentence(e.Means), sentence(e.Why))
	b.WriteString("```text\n")
	for _, f := range e.Formulas {
		b.WriteString(f.SI)
		if len(e.Formulas) > 1 {
			b.WriteString("        " + f.In)
		}
		b.WriteByte('\n')
		if f.US != "" {
			b.WriteString(f.US + "        in, ft, psi\n")
		}
	}
	b.WriteString("```\n\n| symbol | unit | is |\n| --- | --- | --- |\n")
	for _, s := range e.Symbols {
		fmt.Fprintf(b, "| %s | %s | %s |\n", plain(s.Symbol), s.Unit, plain(s.Title))
	}
	b.WriteByte('\n')
	line := func(head, text string) {
		if text != "" {
			fmt.Fprintf(b, "- **%s:** %s\n", head, text)
		}
	}
	line("Limit", e.Limit)
	line("Range", e.Outside)
	line("Clause", strings.Join(e.Clauses, "; "))
	line("Other editions", strings.Join(e.Others, "; "))
	line("Source", strings.TrimSuffix(e.Mark+"; "+e.Source, "; "))
	line("Verify", strings.Join(e.Verify, "; "))
	if len(e.See) > 0 {
		line("Behind it", "`"+strings.Join(e.See, "`, `")+"`")
	}
	if e.Example != nil {
		line("Before", e.Example.Tank+": `"+e.Example.Before+"`")
		line("After", "with "+e.Example.With+": `"+e.Example.After+"`")
	}
}

func (f *Function) write(b *strings.Builder) {
	fmt.Fprintf(b, "\n#### `%s`\n\n%s\n", f.ID, f.What)
	if len(f.Formula) > 0 {
		fmt.Fprintf(b, "\n```text\n%s\n```\n", strings.Join(f.Formula, "\n"))
	}
	if f.Text != "" {
		fmt.Fprintf(b, "\n%s\n", f.Text)
	}
	fmt.Fprintf(b, "\n- **Source:** %s; %s\n", f.Mark(), f.Source)
	if f.Check != "" {
		fmt.Fprintf(b, "- **Check:** %s\n", f.Check)
	}
}

// sentence begins a text with a capital letter.
func sentence(t string) string {
	r, n := utf8.DecodeRuneInString(t)
	return string(unicode.ToUpper(r)) + t[n:]
}

// plain keeps a text from being taken for Markdown.
func plain(s string) string {
	return strings.NewReplacer("_", "\\_", "*", "\\*", "|", "\\|", "<", "\\<").Replace(s)
}
