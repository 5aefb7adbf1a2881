package hostile

import (
	"fmt"
	"regexp"
	"strings"
)

// xmls are parts with XML that is broken, endless or tricky.
func xmls() []Case {
	const kind = "XML"
	plates := sheet("Plates")
	of := func(name, says, content string) Case {
		return file(kind, name, 3, says, func() []byte {
			return rezip(Base(""), func(e entry) []entry {
				if e.name == plates {
					e.text = content
				}
				return []entry{e}
			})
		})
	}
	// in puts raw text into the first cell of Plates.
	in := func(name string, code int, says, raw string) Case {
		return put(kind, name, code, says, plates, `<t xml:space="preserve">1-1</t>`, `<t xml:space="preserve">`+raw+`</t>`)
	}
	const open, shut = "<worksheet><sheetData>", "</sheetData></worksheet>"
	const more = `<row r="90"><c r="A90" t="inlineStr"><is><t>9-9</t></is></c></row></sheetData>`
	return []Case{
		put(kind, "rows in two places", 3, "F106: Plates is damaged: rows in two places", plates, "</sheetData>", "</sheetData><sheetData>"+more),
		put(kind, "rows as one of two choices", 3, "F106: Plates is damaged: rows in two places", plates, "</sheetData>", `</sheetData><mc:AlternateContent xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"><mc:Choice Requires="x14"><sheetData>`+more+`</mc:Choice></mc:AlternateContent>`),
		put(kind, "rows of an extension", 0, "", plates, "</sheetData>", `</sheetData><extLst><ext uri="x"><sheetData>`+more+"</ext></extLst>"),
		put(kind, "rows of another kind", 3, "F106: Plates is damaged: rows of two kinds, <row> and <e:row>", plates, "<sheetData>", `<sheetData xmlns:e="http://evil.example"><e:row r="90"><e:c r="A90"><e:v>1</e:v></e:c></e:row>`),
		of("not XML", "F106: Plates", "hello"),
		of("nothing", "F106: Plates", ""),
		of("deep", "F106: Plates is damaged: more than 200 elements", strings.Repeat("<a>", 1_000_000)),
		of("breaks off", "F106: Plates breaks off", open+"<row><c>"),
		of("wrong order of ends", "F106: Plates", "<worksheet><sheetData></worksheet></sheetData>"),
		of("document type", "F106", `<!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>`+open+shut),
		of("outside file as entity", "F106", `<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]>`+open+`<row><c t="inlineStr"><is><t>&x;</t></is></c></row>`+shut),
		of("outside document type", "F106", `<!DOCTYPE a SYSTEM "http://evil.example/a.dtd">`+open+shut),
		of("comment without an end", "F106: Plates", open+"<!-- "),
		of("CDATA without an end", "F106: Plates", open+"<![CDATA["),
		of("attribute without quotes", "F106: Plates is damaged: an attribute without quotes", open+"<row r=1></row>"+shut),
		of("attribute without a value", "F106: Plates is damaged: an attribute without quotes or value", open+"<row hidden></row>"+shut),
		in("CDATA", 0, "", "<![CDATA[1-1]]>"),
		in("comment within a text", 0, "", "1-<!-- EVIL -->1"),
		in("instruction within a text", 0, "", "1<?EVIL x?>-1"),
		put(kind, "rich text", 0, "", plates, `<is><t xml:space="preserve">1-1</t></is>`, `<is><r><rPr><b/></rPr><t>1-</t></r><r><t>1</t></r></is>`),
		put(kind, "readings beside letters", 0, "", plates, `<is><t xml:space="preserve">1-1</t></is>`, `<is><t>1-1</t><rPh sb="0" eb="3"><t>EVIL</t></rPh><phoneticPr fontId="0"/></is>`),
		put(kind, "a million attributes", 0, "", plates, `<row r="15"`, `<row r="15"`+strings.Repeat(` a=""`, 1_000_000)),
		put(kind, "plain letters told in small letters", 0, "", plates, `encoding="UTF-8"`, `encoding='us-ascii'`),
		renamed("prefixes before all names", func(e entry) string {
			if e.name != plates {
				return e.text
			}
			return prefixed.ReplaceAllString(strings.Replace(e.text, "<worksheet", `<worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`, 1), "<${1}x:")
		}),
		renamed("strict kind", func(e entry) string {
			return strings.NewReplacer("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main",
				"http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships").Replace(e.text)
		}),
		of("huge attribute", "F10", `<worksheet a="`+strings.Repeat("x", 20<<20)+`"><sheetData/></worksheet>`),
		of("huge name", "F10", "<"+strings.Repeat("x", 20<<20)+"/>"),
		of("two roots", "F106: Plates", open+shut+open+shut),
		of("UTF-16", "F106: Plates", string(utf16le(`<?xml version="1.0" encoding="UTF-16"?>`+open+shut))),
		in("unknown entity", 3, "F106", "&evil;"),
		in("character 0", 3, "F106", "&#0;"),
		in("character beyond all", 3, "F106", "&#x110000;"),
		in("half a pair", 3, "F106", "&#xD800;"),
		in("entity without an end", 3, "F106", "&#x41"),
		in("control character", 1, "R105", "1-\x01"),
		in("bytes that are no UTF-8", 3, "F106", "1-\xff\xfe"),
		put(kind, "other encoding named", 3, `F106: Plates is damaged: letters of the encoding "ISO-8859-1"`, plates, `encoding="UTF-8"`, `encoding="ISO-8859-1"`),
		put(kind, "mark before the XML", 0, "", plates, "<?xml", "\ufeff<?xml"),
		put(kind, "a million instructions", 0, "", plates, "<sheetData>", strings.Repeat("<?a b?>", 1_000_000)+"<sheetData>"),
	}
}

// prefixed finds the places of a prefix in the names of elements.
var prefixed = regexp.MustCompile(`<(/?)\b`)

// renamed is a case of the clean workbook with each part in other words that
// mean the same.
func renamed(name string, text func(entry) string) Case {
	return file("XML", name, 0, "", func() []byte {
		return rezip(Base(""), func(e entry) []entry { return []entry{{e.name, text(e)}} })
	})
}

// parts are workbooks whose parts are missing, doubled or lead elsewhere.
func parts() []Case {
	const kind, main, rels = "parts", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
	without := func(name string, code int, says, part string) Case {
		return file(kind, name, code, says, func() []byte {
			return rezip(Base(""), func(e entry) []entry {
				if e.name == part {
					return nil
				}
				return []entry{e}
			})
		})
	}
	third := `Target="worksheets/sheet3.xml"`
	to := func(name string, code int, says, target string) Case {
		return put(kind, name, code, says, rels, third, `Target="`+target+`"`)
	}
	many := func(n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, `<sheet name="s%d" sheetId="%d" r:id="rId1"/>`, i, i+100)
		}
		return b.String() + "</sheets>"
	}
	return []Case{
		without("no list of kinds", 3, "F106: the part [Content_Types].xml is missing", "[Content_Types].xml"),
		without("no first arrow", 3, "F106: the part _rels/.rels is missing", "_rels/.rels"),
		without("no list of sheets", 3, "F10", main),
		without("no arrows", 3, "F106", rels),
		without("no sheet Plates", 3, "F106: sheet Plates is missing in the file", sheet("Plates")),
		without("no styles", 0, "", "xl/styles.xml"),
		without("no theme", 0, "", "xl/theme/theme1.xml"),
		without("no properties", 0, "", "docProps/core.xml"),
		to("arrow out of the file", 3, "F106: sheet Plates is missing in the file", "../../../../etc/passwd"),
		to("absolute arrow", 3, "F106: sheet Plates is missing in the file", "/etc/passwd"),
		to("arrow to a web page", 3, "F106: sheet Plates is missing in the file", "http://evil.example/sheet.xml"),
		to("arrow to the list itself", 3, "F106: sheet Plates is missing in the file", "workbook.xml"),
		to("arrow to another sheet", 3, "F106: sheets Tank and Plates are one part", "worksheets/sheet1.xml"),
		to("arrow to the styles", 3, "the part xl/styles.xml changed", "styles.xml"),
		file(kind, "part of an absolute name", 0, "", func() []byte { return moved("/" + sheet("Plates")) }),
		file(kind, "part of a name with backslashes", 0, "", func() []byte { return moved(strings.ReplaceAll(sheet("Plates"), "/", `\`)) }),
		put(kind, "arrow marked as outside", 3, "F106: sheet Plates is missing in the file", rels, third, third+` TargetMode="External"`),
		put(kind, "no sheets", 3, "F106: the list of sheets is damaged: a second root", main, "<sheets>", "</workbook><x><sheets>"),
		put(kind, "sheets of other names", 3, "F10", main, "<sheets>", "<x>"),
		put(kind, "two sheets of one name", 1, "S103: Tank and Tank", main, `name="Plates"`, `name="Tank"`),
		put(kind, "two sheets of one name but for case", 1, "S103", main, `name="Answers"`, `name="pLATES"`),
		put(kind, "two sheets of one name but for blanks", 1, "S103", main, `name="Answers"`, `name="Plates  "`),
		put(kind, "sheet without a name", 0, "", main, `name="Answers"`, `name=""`),
		put(kind, "5,000 sheets of one part", 3, "F106: sheets Tank and s0 are one part", main, "</sheets>", many(5000)),
		put(kind, "name of 100,000 letters", 0, "", main, `name="Answers"`, `name="`+strings.Repeat("x", 100_000)+`"`),
		file(kind, "5,000 sheets", 3, "F107: holds more than 1000 sheets", func() []byte {
			var list, to strings.Builder
			var more []entry
			for i := range 5000 {
				name := fmt.Sprintf("worksheets/more%d.xml", i)
				fmt.Fprintf(&list, `<sheet name="m%d" sheetId="%d" r:id="m%d"/>`, i, i+100, i)
				fmt.Fprintf(&to, `<Relationship Id="m%d" Target="%s" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet"/>`, i, name)
				more = append(more, entry{"xl/" + name, "<worksheet><sheetData/></worksheet>"})
			}
			return rezip(Base(""), func(e entry) []entry {
				switch e.name {
				case main:
					e.text = strings.Replace(e.text, "</sheets>", list.String()+"</sheets>", 1)
				case rels:
					e.text = strings.Replace(e.text, "</Relationships>", to.String()+"</Relationships>", 1)
				}
				return []entry{e}
			}, more...)
		}),
		put(kind, "names that go round", 0, "", main, "</sheets>", `</sheets><definedNames><definedName name="a">b</definedName><definedName name="b">a</definedName><definedName name="Print_Area" localSheetId="999">a</definedName></definedNames>`),
		put(kind, "name that is carried out", 0, "", main, "</sheets>", `</sheets><definedNames><definedName name="Auto_Open" hidden="1">Tank!$A$1</definedName></definedNames>`),
		put(kind, "outside workbook", 0, "", main, "</sheets>", `</sheets><externalReferences><externalReference r:id="rId999"/></externalReferences>`),
		put(kind, "arrow of 1 MB", 0, "", rels, "</Relationships>", `<Relationship Id="x" Type="y" Target="`+strings.Repeat("../", 300_000)+`"/></Relationships>`),
	}
}

// moved is the clean workbook with Plates under another name in the zip.
func moved(to string) []byte {
	return rezip(Base(""), func(e entry) []entry {
		if e.name == sheet("Plates") {
			e.name = to
		}
		return []entry{e}
	})
}
