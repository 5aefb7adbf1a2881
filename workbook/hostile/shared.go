package hostile

import (
	"fmt"
	"strings"
)

// shared is the clean workbook with texts told once in the file, which cells of
// the form text(N) name by their number.
func shared(data []byte, all ...string) []byte {
	var list strings.Builder
	list.WriteString(`<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">`)
	named := make([]string, 0, 2*len(all))
	for i, t := range all {
		fmt.Fprintf(&list, "<si>%s</si>", t)
		named = append(named, fmt.Sprintf(`t="inlineStr"><is><t xml:space="preserve">text(%d)</t></is>`, i), fmt.Sprintf(`t="s"><v>%d</v>`, i))
	}
	cells := strings.NewReplacer(named...)
	return rezip(data, func(e entry) []entry {
		switch {
		case strings.HasPrefix(e.name, "xl/worksheets/"):
			e.text = cells.Replace(e.text)
		case e.name == "xl/_rels/workbook.xml.rels":
			e.text = strings.Replace(e.text, "</Relationships>", `<Relationship Id="texts" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`, 1)
		case e.name == "[Content_Types].xml":
			e.text = strings.Replace(e.text, "</Types>", `<Override PartName="/xl/sharedStrings.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>`, 1)
		}
		return []entry{e}
	}, entry{"xl/sharedStrings.xml", list.String() + "</sst>"})
}

// sharedTexts are texts that stand once in the file and are named by many cells.
func sharedTexts() []Case {
	const kind = "shared texts"
	long := "<t>" + strings.Repeat("x", 32_767) + "</t>"
	many := func(rows int) string {
		var b strings.Builder
		b.WriteString("Indications!O1 = Remarks\n")
		for i := range rows {
			fmt.Fprintf(&b, "append Indications | I%d | 2-2 | %d | %d | 4 | 3 | soil | MFL | 12 | | | pit | J. Roe | 2026-04-20 | text(0)\n", i, 100+i%300*10, 100+i/300*10)
		}
		return b.String()
	}
	of := func(name string, code int, says, edits string, all ...string) Case {
		c := file(kind, name, code, says, func() []byte { return shared(Base(edits), all...) })
		c.Args = whole
		return c
	}
	return []Case{
		of("rich, with readings beside letters", 0, "", "Plates!A2 = text(0)\n", `<r><rPr><b/></rPr><t>1-</t></r><r><t>1</t></r><rPh sb="0" eb="3"><t>EVIL</t></rPh><phoneticPr fontId="0"/>`),
		of("32,767 letters in 1,000 cells", 0, "", many(1000), long),
		of("32,767 letters in 3,000 cells", 0, "", many(3000), long),
		of("32,767 letters in 20,000 cells", 3, "F107: tank.xlsx holds more than", many(20_000), long),
	}
}
