package hostile

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"platebook/rules/finding"
)

// number is the clean workbook whose first indication has another content in
// X (C2 of Indications), as raw XML of the cell.
func number(name string, code int, says, raw string) Case {
	const old = `<c r="C2"`
	return file("cells", name, code, says, func() []byte {
		return rezip(Base(""), func(e entry) []entry {
			if e.name == sheet("Indications") {
				i := strings.Index(e.text, old)
				n := strings.Index(e.text[i:], "</c>")
				e.text = e.text[:i] + raw + e.text[i+n+4:]
			}
			return []entry{e}
		})
	})
}

// cells are single cells of wrong kinds and numbers that are none.
func cells() []Case {
	v := func(attr, value string) string { return `<c r="C2"` + attr + `><v>` + value + `</v></c>` }
	return []Case{
		number("not a number", 1, "C101", v("", "NaN")),
		number("endless", 1, "C101", v("", "INF")),
		number("1e308", 1, "C101", v("", "1e308")),
		number("1e400", 1, "C101", v("", "1e400")),
		number("1e-400", 0, "", v("", "1e-400")),
		number("hexadecimal", 1, "C101", v("", "0x1p4")),
		number("number with underscores", 1, "C101", v("", "7_00")),
		number("number with a comma", 0, "C102", v("", "700,5")),
		number("10,000 digits", 1, "C101", v("", strings.Repeat("9", 10_000))),
		number("minus nothing", 0, "", v("", "-0")),
		number("empty value", 1, "C301", v("", "")),
		number("truth value of another word", 1, "", v(` t="b"`, "maybe")),
		number("truth value", 1, "C101", v(` t="b"`, "1")),
		number("error value", 1, "C402", v(` t="e"`, "#DIV/0!")),
		number("unknown error value", 1, "C", v(` t="e"`, "#EVIL!")),
		number("two values", 3, "F106: Indications is damaged: cell C2 holds two values", `<c r="C2"><v>7</v><v>00</v></c>`),
		number("a value and a text", 3, "F106: Indications is damaged: cell C2 holds two values", `<c r="C2" t="inlineStr"><v>100</v><is><t>700</t></is></c>`),
		number("a text in a cell of numbers", 3, "F106: Indications is damaged: cell C2 holds a text although its type is another", `<c r="C2"><is><t>700</t></is></c>`),
		number("a tag within a value", 3, "F106: Indications is damaged: cell C2 holds <b> within its value", `<c r="C2"><v>7<b>0</b>0</v></c>`),
		number("two formulas", 3, "F106: Indications is damaged: cell C2 holds two formulas", `<c r="C2"><f>A1</f><f>B1</f><v>700</v></c>`),
		number("digits told by their numbers", 0, "", `<c r="C2"><v>&#55;&#48;&#x30;</v></c>`),
		number("unknown type", 3, `F106: Indications is damaged: cell C2 has the unknown type "zzz"`, v(` t="zzz"`, "1")),
		number("shared text out of range", 3, "F106: Indications is damaged: cell C2 names shared text", v(` t="s"`, "7")),
		number("shared text below nought", 3, "F106: Indications is damaged: cell C2 names shared text", v(` t="s"`, "-1")),
		number("shared text that is no number", 3, "F106: Indications is damaged: cell C2 names shared text", v(` t="s"`, "a")),
		number("shared text far out", 3, "F106: Indications is damaged: cell C2 names shared text", v(` t="s"`, "99999999999999999999")),
		number("style out of range", 0, "", v(` s="99999"`, "700")),
		number("style below nought", 0, "", v(` s="-1"`, "700")),
		number("ISO date", 1, "C", v(` t="d"`, "2026-05-01T00:00:00")),
		number("date far away", 1, "C", `<c r="C2" t="d"><v>99999-99-99</v></c>`),
		number("formula without a value", 1, "C", `<c r="C2"><f>A1+1</f></c>`),
		number("own formula with a value", 0, "", `<c r="C2"><f>600+100</f><v>700</v></c>`),
		number("formula that shares one that is not there", 0, "", `<c r="C2"><f t="shared" si="99"/><v>700</v></c>`),
		number("formula of 100,000 letters", 0, "", `<c r="C2"><f>`+strings.Repeat("1+", 50_000)+`1</f><v>700</v></c>`),
		number("cell beyond the last column", 3, "F106", `<c r="XFE2"><v>1</v></c>`),
		number("cell of a column of ten letters", 3, "F106", `<c r="ZZZZZZZZZZ2"><v>1</v></c>`),
		number("cell without a row", 3, "F106", `<c r="C"><v>1</v></c>`),
		number("cell of another row", 3, "F106", `<c r="C3"><v>1</v></c>`),
		number("cell told in small letters", 0, "", `<c r="c2"><v>700</v></c>`),
		file("cells", "cells without a place", 0, "", func() []byte {
			return rezip(Base(""), func(e entry) []entry {
				if e.name == sheet("Readings") { // no cell of it is empty
					e.text = unplaced.ReplaceAllString(e.text, "<$1")
				}
				return []entry{e}
			})
		}),
		number("cell twice", 3, "F106", v("", "700")+v("", "800")),
		number("cells out of order", 0, "", `<c r="Z2"><v>1</v></c>`+v("", "700")),
		book("cells", "date before all", 1, "C203", "Indications(1).Date = -5\n"),
		book("cells", "date beyond all", 1, "C203", "Indications(1).Date = 99999999\n"),
		book("cells", "date 0", 1, "C203", "Indications(1).Date = 0\n"),
		book("cells", "date of no day", 1, "C203", "Indications(1).Date = \"2026-02-30\"\n"),
		book("cells", "1e308 in the diameter", 1, "C101", "Tank(Diameter).Value = 1e308\n"),
		book("cells", "1e-308 in the diameter", 1, "C107", "Tank(Diameter).Value = 1e-308\n"),
		book("cells", "loss of 1e308 %", 1, "C101", "Indications(1).Loss % = 1e308\n"),
		book("cells", "thickness of 1e308", 1, "C101", "Readings!D2 = 1e308\n"),
		book("cells", "words in all numbers", 1, "C301", "Indications!C2:F21 = \"none\"\n"),
		book("cells", "numbers in all words", 1, "", "Plates!B2:B15 = 1e308\nCrew!A2:C5 = 5\n"),
		book("cells", "plate in letters that look alike", 1, "R105: no plate 1-1", "Plates!A2 = \"\u0406-1\"\n"),
		book("cells", "plate with another hyphen", 1, "R105: no plate 2\u20112; 2-2?", "Indications(1).Plate = \"2\u20112\"\n"),
		book("cells", "digits of other scripts", 1, "C101: X “\u0667\u0660\u0660” is not one number", "Indications(1).X = \"\u0667\u0660\u0660\"\n"),
		book("cells", "minus of a typesetter", 1, "R201: X -700 mm is 700 mm before the edge of 2-2", "Indications(1).X = \"\u2212700\"\n"),
		book("cells", "range under a thickness", 1, "C101: Thickness “6.2–6.4” is not one number", "Readings!D2 = \"6.2–6.4\"\n"),
		book("cells", "bookkeeper's minus", 1, "C101: Thickness “(6.3)” is not one number", "Readings!D2 = \"(6.3)\"\n"),
		book("cells", "gauge under a thickness", 1, "C101: Thickness “10 ga” is not one number", "Readings!D2 = \"10 ga\"\n"),
		book("cells", "extent of a kilometre", 0, "R318: Length 1000000 mm on plate 2-2, 3200 mm", "Indications(1).Length = 1000000\n"),
		book("cells", "diameter in parsecs", 1, "S205: “Diameter”: “parsec” is no known unit", "Tank(Diameter).Unit = parsec\n"),
		book("cells", "tank of millimetres", 1, "C107: Diameter 0.01 m, range 2–150 m", "Tank(Diameter).Unit = mm\n"),
		book("cells", "two diameters", 1, "S202: “Diameter” (B19), “Diameter” (B46) mean the same", "append Tank | Diameter | 20 | m\n"),
		book("cells", "inspection of the year 9999", 1, "C203: Report date “2958465” is no date from 1900 to 2100", "Tank(Report date).Value = 9999-12-31\n"),
		book("cells", "headers of a column in another unit", 1, "C104: X 700: 20 of 20 lie off their plate", "rename column Indications!C = X (in)\n"),
		book("cells", "headers beyond the row where they are looked for", 1, "S106: no headers in rows 1–30", strings.Repeat("insert row Indications!1 | note\n", 31)),
		book("cells", "second table beside the first", 1, "S202: “ID” (A1), “ID” (AA1) mean the same", "Indications!AA1 = ID\nIndications!AB1 = Plate\nIndications!AC1 = X (mm)\nIndications!AA2 = 77\n"),
		book("cells", "answer by a formula", 0, "Q502: K101 answers no finding any more", "append Answers | =A1 -> \"K101\" | looked at it again | A. Day | 2026-05-01\n"),
		book("cells", "truth in all cells", 1, "", "Plates!A2:Q15 = TRUE\n"),
		book("cells", "errors in all cells", 1, "", "Plates!A2:Q15 = #REF!\nTank!B2:B30 = #N/A\n"),
	}
}

// unplaced finds the places of rows and cells, which may be left out where they
// follow one another.
var unplaced = regexp.MustCompile(`<(row|c) r="[A-Z]*[0-9]+"`)

// ranges are huge or odd areas, merges, styles and states of sheets.
func ranges() []Case {
	const kind = "ranges and states"
	plates := sheet("Plates")
	end := func(name string, code int, says, more string) Case {
		return put(kind, name, code, says, plates, "</sheetData>", "</sheetData>"+more)
	}
	rows := func(name string, code int, says, more string) Case {
		return put(kind, name, code, says, plates, "</sheetData>", more+"</sheetData>")
	}
	merges := func(n int, f func(i int) string) string {
		var b strings.Builder
		b.WriteString("<mergeCells>")
		for i := range n {
			b.WriteString(`<mergeCell ref="` + f(i) + `"/>`)
		}
		return b.String() + "</mergeCells>"
	}
	styles := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `<xf numFmtId="%d" fontId="0" fillId="0" borderId="0" xfId="0"/>`, i%50)
		}
		return b.String() + "</cellXfs>"
	}
	return []Case{
		put(kind, "used range of the whole sheet", 0, "", plates, `ref="A1:Q15"`, `ref="A1:XFD1048576"`),
		rows("a value in the last cell", 0, "", `<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`),
		rows("a row beyond the last", 3, "F106", `<row r="1048577"><c r="A1048577"><v>1</v></c></row>`),
		rows("a row number beyond all numbers", 3, "F106", `<row r="99999999999999999999"><c><v>1</v></c></row>`),
		rows("row 0", 3, "F106", `<row r="0"><c><v>1</v></c></row>`),
		rows("rows out of order", 0, "", `<row r="40"/><row r="30"/><row r="20"/>`),
		rows("a row twice", 3, "F106", `<row r="15"><c r="A15"><v>1</v></c></row>`),
		rows("100,000 rows with a format only", 0, "", strings.Repeat(`<row s="3" customFormat="1"/>`, 100_000)),
		end("all cells are one", 1, "S301", merges(1, func(int) string { return "A1:XFD1048576" })),
		end("all columns of all rows are one each", 1, "S301", merges(15, func(i int) string { return fmt.Sprintf("A%d:Q%d", i+1, i+1) })),
		end("100,000 merged ranges", 0, "", merges(100_000, func(i int) string { return fmt.Sprintf("A%d:B%d", i+100, i+100) })),
		end("merged ranges over each other", 1, "", merges(2000, func(i int) string { return fmt.Sprintf("A%d:Q%d", 1+i%10, 12+i%7) })),
		end("merged range that is none", 3, `F106: Plates is damaged: the merged range "EVIL"`, merges(1, func(int) string { return "EVIL" })),
		end("merged range turned round", 1, "P15:Q15 is one cell", merges(1, func(int) string { return "Q15:P15" })),
		end("100,000 conditional formats", 0, "", strings.Repeat(`<conditionalFormatting sqref="A1"><cfRule type="expression" priority="1"><formula>A1&gt;5</formula></cfRule></conditionalFormatting>`, 100_000)),
		put(kind, "60,000 styles", 0, "", "xl/styles.xml", "</cellXfs>", styles(60_000)),
		put(kind, "number format of 1 MB", 0, "", "xl/styles.xml", "<cellXfs", `<numFmts><numFmt numFmtId="200" formatCode="`+strings.Repeat("[Red]0;", 150_000)+`"/></numFmts><cellXfs`),
		book(kind, "all sheets hidden", 0, "S303", "hide sheet Tank\nhide sheet Plates\nhide sheet Indications\nhide sheet Prove-ups\nhide sheet Readings\n"),
		put(kind, "hidden so that only a macro shows it", 0, "S303", "xl/workbook.xml", `name="Plates"`, `state="veryHidden" name="Plates"`),
		put(kind, "all columns hidden", 0, "S303", plates, "<sheetData>", `<cols><col min="1" max="16384" hidden="1"/></cols><sheetData>`),
		put(kind, "columns that are none", 0, "", plates, "<sheetData>", `<cols><col min="-5" max="99999999999" hidden="1"/><col/></cols><sheetData>`),
		put(kind, "16,384 columns", 0, "S105", plates, "</row>", columns(func(i int) string { return "Column " + strconv.Itoa(i) })),
		put(kind, "16,384 columns of almost known names", 0, "S105", plates, "</row>", columns(func(i int) string { return "Datum corne" + strconv.Itoa(i) })),
		book(kind, "dates from 1904", 0, "F205", "!1904\n"),
		book(kind, "macros", 0, "F201", "!macros\n"),
		book(kind, "rows of the same plate", 1, "R101", "Plates!A2:A15 = \"1-1\"\n"),
		book(kind, "nothing but headers", 1, "", "Plates!A2:Q15 =\nIndications!A2:Q40 =\nReadings!A2:G40 =\n"),
	}
}

// columns are headers behind those of Plates, up to the last that a sheet has,
// and the end of their row.
func columns(name func(i int) string) string {
	var b strings.Builder
	for i := 18; i <= 16_384; i++ {
		fmt.Fprintf(&b, `<c r="%s1" t="inlineStr"><is><t>%s</t></is></c>`, finding.ColumnName(i), name(i))
	}
	return b.String() + "</row>"
}

// texts are contents of cells that another program could carry out, or that
// no printer has letters for. A person's text stays a text.
func texts() []Case {
	at := func(name, text string, cells ...string) Case {
		var edits strings.Builder
		for _, at := range cells {
			edits.WriteString(at + " = " + quoted(text) + "\n")
		}
		c := book("texts of people", name, Any, "", edits.String())
		c.Args = whole
		return c
	}
	prose := []string{"Tank(Client).Note", "Visual(V1).Observation", "Plates!M2"}
	labels := []string{"Tank(Client).Value", "Tank(Tank).Value", "Tank(Product).Value", "Tank(Prepared by).Value", "Indications(1).By", "Indications(2).ID", "Fixtures(S1).Name", "Crew!B2", "Crew!B1"}
	every := func(name, text string) Case {
		var edits strings.Builder
		for row := 2; row <= 21; row++ {
			for _, col := range []string{"Plates!A", "Indications!A", "Indications!M", "Indications!N"} {
				if row <= 15 || col[0] != 'P' {
					fmt.Fprintf(&edits, "%s%d = %s\n", col, row, quoted(strconv.Itoa(row)+" "+text))
				}
			}
		}
		c := book("texts of people", name, 1, "R105", edits.String())
		c.Args = whole
		return c
	}
	all := func(name, text string) Case { return at(name, text, append(labels, prose...)...) }
	return []Case{
		all("formula with =", `=EVIL(1)`),
		all("formula with +", `+EVIL(1)`),
		all("formula with -", `-EVIL(1)`),
		all("formula with @", `@EVIL(1)`),
		all("formula behind a tab", "\t=EVIL(1)"),
		all("formula behind a line break", "\n=EVIL(1)"),
		all("formula behind blanks", `  =EVIL(1)`),
		all("formula in wide letters", "＝EVIL(1)"),
		all("call of a program", `=cmd|'/C EVIL'!A0`),
		all("link to a page", `=HYPERLINK("http://EVIL.example","press")`),
		all("array formula", `{=EVIL(1)}`),
		all("script", `</script><script>EVIL()</script>`),
		all("picture with a script", `<img src=x onerror=EVIL()>`),
		all("end of a quote", `' onmouseover='EVIL()' x=" onmouseover="EVIL()`),
		all("brackets of PDF", `) Tj ET EVIL (\`),
		all("JSON", `","x":[{EVIL`),
		all("escapes of control characters", "_x0000_ _x0001_ _xD800_ _xFFFF_"),
		all("right to left", "\u202eEVIL\u202c \u2066x\u2069"),
		all("letters without width", "\u200b\u200c\u200d\ufeff1-1"),
		all("pictures and flags", "🛢️👩🏽‍🔧🇳🇴"),
		all("accents without an end", "e"+strings.Repeat("\u0301", 500)),
		at("40,000 letters of prose", strings.Repeat("x", 40_000), prose...),
		at("40,000 words of prose", strings.Repeat("w ", 40_000)+"w", prose...),
		all("2,000 letters, also as names", strings.Repeat("x", 2000)),
		all("40,000 letters, also as names", strings.Repeat("x", 40_000)),
		all("40,000 words, also as names", strings.Repeat("w ", 40_000)+"w"),
		every("40,000 letters in the names of all plates and indications", strings.Repeat("x", 40_000)),
		every("40,000 words in the names of all plates and indications", strings.Repeat("w ", 40_000)),
		all("path in the tank's name", "../../../tmp/EVIL"),
	}
}

// Any is the code of a case that may end with 0 or 1: its text makes findings
// or none; in question is what becomes of the text.
const Any = -1
