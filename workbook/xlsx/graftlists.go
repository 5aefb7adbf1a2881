package xlsx

import (
	"fmt"
	"path"
	"strconv"
	"strings"
)

// prefixOf is the prefix of the tag that stands at a place, "" or "x:".
func prefixOf(part []byte, at int) string {
	end := at + 1
	for end < len(part) && part[end] != ' ' && part[end] != '>' && part[end] != '/' && part[end] != ':' && !blank(part[end]) {
		end++
	}
	if end < len(part) && part[end] == ':' {
		return string(part[at+1 : end+1])
	}
	return ""
}

// workbook edits the list of sheets and the names that go with it.
func (g *graft) workbook() error {
	p := g.book.pkg
	part, err := p.bytesOf(p.main)
	if err != nil {
		return err
	}
	e := &listEdits{graft: g, part: part, at: -1, strict: strings.Contains(string(part), strictTag)}
	if err := scanBytes(part, e.token); err != nil {
		return p.partError("the list of sheets", err)
	}
	e.finish()
	g.edited[p.main] = applied(part, e.edits)
	return nil
}

// listEdits collects the edits of the workbook's main part.
type listEdits struct {
	*graft
	part   []byte
	edits  []edit
	strict bool
	prefix string
	lastID int
	sheet  int // index of the next sheet
	cut    int // where the element that goes away began, -1 without one
	names  int // where <definedNames> ends, 0 without it
	at     int // where it would stand
}

func (e *listEdits) token(s *scanner) error {
	name := string(s.name)
	switch {
	case s.kind == startTag && s.depth() == 1:
		e.prefix, e.cut = prefixOf(e.part, s.at), -1
	case s.kind == startTag && name == "workbookView":
		e.tabs(s)
	case s.kind == startTag && name == "sheet" && s.depth() == 3:
		if n, err := strconv.Atoi(string(s.attr("sheetId"))); err == nil {
			e.lastID = max(e.lastID, n)
		}
		if e.gone[e.sheet] {
			e.cut = s.at
		}
		e.sheet++
	case s.kind == startTag && name == "definedName":
		e.scope(s)
	case s.kind == endTag && (name == "sheet" && s.depth() == 2 || name == "definedName") && e.cut >= 0:
		e.edits = append(e.edits, edit{e.cut, s.after(), ""})
		e.cut = -1
	case s.kind == endTag && name == "sheets" && s.depth() == 1:
		e.edits = append(e.edits, edit{s.at, s.at, e.newSheets()})
	case s.kind == endTag && name == "definedNames" && s.depth() == 1:
		e.names = s.at
	case s.kind == startTag && s.depth() == 2 && e.at < 0 && afterNames[name]:
		e.at = s.at
	case s.kind == endTag && s.depth() == 0 && e.at < 0:
		e.at = s.at
	}
	return nil
}

// afterNames are the elements that stand behind the defined names.
//
// Source: ECMA-376 1st ed. Part 4, 3.2.27 (CT_Workbook).
var afterNames = map[string]bool{
	"calcPr": true, "oleSize": true, "customWorkbookViews": true, "pivotCaches": true, "smartTagPr": true, "smartTagTypes": true,
	"webPublishing": true, "fileRecoveryPr": true, "webPublishObjects": true, "extLst": true,
}

// before is how many sheets before an index go away.
func (g *graft) before(index int) int {
	n := 0
	for i := range g.gone {
		if i < index {
			n++
		}
	}
	return n
}

// tabs keeps the sheet in sight the same, or the first when it goes away.
func (e *listEdits) tabs(s *scanner) {
	for _, name := range []string{"activeTab", "firstSheet"} {
		v := s.attr(name)
		n, err := strconv.Atoi(string(v))
		if err != nil {
			continue
		}
		now := n - e.before(n)
		if e.gone[n] {
			now = 0
		}
		if now != n {
			e.setAttr(s, name, v, now)
		}
	}
}

func (e *listEdits) setAttr(s *scanner, name string, value []byte, n int) {
	tag := string(e.part[s.at:s.after()])
	if i := strings.Index(tag, name+"="); i >= 0 {
		from := s.at + i + len(name) + 2
		e.edits = append(e.edits, edit{from, from + len(value), strconv.Itoa(n)})
	}
}

// scope moves a name that is limited to a sheet, or lets it go with the sheet.
func (e *listEdits) scope(s *scanner) {
	v := s.attr("localSheetId")
	n, err := strconv.Atoi(string(v))
	switch {
	case err != nil:
	case e.gone[n]:
		e.cut = s.at
	case e.before(n) > 0:
		e.setAttr(s, "localSheetId", v, n-e.before(n))
	}
}

func (e *listEdits) space() string {
	if e.prefix == "" {
		return ""
	}
	return ` xmlns="` + mainSpace + `"`
}

func (e *listEdits) newSheets() string {
	var b strings.Builder
	rel := strings.TrimSuffix(relTypes, "/")
	if e.strict {
		rel = "http://purl.oclc.org/ooxml/officeDocument/relationships"
	}
	for i, s := range e.draft.sheets {
		fmt.Fprintf(&b, `<sheet%s name="%s" sheetId="%d"`, e.space(), escape(nil, s.Name), e.lastID+i+1)
		if s.Hidden {
			b.WriteString(` state="hidden"`)
		}
		fmt.Fprintf(&b, ` xmlns:pb="%s" pb:id="%s"/>`, rel, e.relID(i))
	}
	return b.String()
}

// finish adds the names of the new sheets: rows repeated in print, and the
// range of a filter, which programs keep as a hidden name.
func (e *listEdits) finish() {
	var b strings.Builder
	first := len(e.book.pkg.list) - len(e.gone)
	for i, s := range e.draft.sheets {
		quoted := string(escape(nil, quote(s.Name)))
		if s.filter != (Area{}) {
			fmt.Fprintf(&b, `<definedName%s name="_xlnm._FilterDatabase" localSheetId="%d" hidden="1">%s!%s</definedName>`, e.space(), first+i, quoted, s.filter.absolute())
		}
		if s.Print.TitleRows != "" {
			a, z, ok := strings.Cut(s.Print.TitleRows, ":")
			if !ok {
				z = a
			}
			fmt.Fprintf(&b, `<definedName%s name="_xlnm.Print_Titles" localSheetId="%d">%s!$%s:$%s</definedName>`, e.space(), first+i, quoted, a, z)
		}
	}
	switch {
	case b.Len() == 0:
	case e.names > 0:
		e.edits = append(e.edits, edit{e.names, e.names, b.String()})
	default:
		e.edits = append(e.edits, edit{e.at, e.at, "<definedNames" + e.space() + ">" + b.String() + "</definedNames>"})
	}
}

// relations edits the arrows of the main part.
func (g *graft) relations() error {
	p := g.book.pkg
	name := relsOf(p.main)
	part, err := p.bytesOf(name)
	if err != nil {
		return err
	}
	var edits []edit
	cut, prefix := -1, ""
	err = scanBytes(part, func(s *scanner) error {
		switch {
		case s.kind == startTag && s.depth() == 1:
			prefix = prefixOf(part, s.at)
		case s.kind == startTag && s.depth() == 2:
			target, err := s.attrText("Target")
			if err != nil {
				return err
			}
			if string(s.attr("TargetMode")) != "External" && g.drop[fold(resolve(p.main, target))] {
				cut = s.at
			}
		case s.kind == endTag && s.depth() == 1 && cut >= 0:
			edits = append(edits, edit{cut, s.after(), ""})
			cut = -1
		case s.kind == endTag && s.depth() == 0:
			edits = append(edits, edit{s.at, s.at, g.newRelations(prefix)})
		}
		return nil
	})
	if err != nil {
		return p.partError("the part "+name, err)
	}
	g.edited[name] = applied(part, edits)
	return nil
}

func (g *graft) newRelations(prefix string) string {
	space := ""
	if prefix != "" {
		space = ` xmlns="http://schemas.openxmlformats.org/package/2006/relationships"`
	}
	var b strings.Builder
	for i := range g.draft.sheets {
		fmt.Fprintf(&b, `<Relationship%s Id="%s" Type="%sworksheet" Target="/%s"/>`, space, g.relID(i), relTypes, g.sheetPart(i))
	}
	if styles := path.Join(path.Dir(g.book.pkg.main), "styles.xml"); g.added[styles] != nil {
		fmt.Fprintf(&b, `<Relationship%s Id="%sStyles" Type="%sstyles" Target="/%s"/>`, space, g.mark, relTypes, styles)
	}
	return b.String()
}

const customSpace = "http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"

// properties puts the draft's properties among the person's own.
func (g *graft) properties() error {
	if len(g.draft.Properties) == 0 {
		return nil
	}
	p := g.book.pkg
	if p.custom == "" || !p.has(p.custom) {
		return g.newProperties()
	}
	part, err := p.bytesOf(p.custom)
	if err != nil {
		return err
	}
	var edits []edit
	cut, next, prefix := -1, 2, ""
	ours := map[string]bool{}
	for _, q := range g.draft.Properties {
		ours[q.Name] = true
	}
	err = scanBytes(part, func(s *scanner) error {
		switch {
		case s.kind == startTag && s.depth() == 1:
			prefix = prefixOf(part, s.at)
		case s.kind == startTag && s.depth() == 2:
			name, err := s.attrText("name")
			if err != nil {
				return err
			}
			if n, err := strconv.Atoi(string(s.attr("pid"))); err == nil {
				next = max(next, n+1)
			}
			if ours[name] {
				cut = s.at
			}
		case s.kind == endTag && s.depth() == 1 && cut >= 0:
			edits = append(edits, edit{cut, s.after(), ""})
			cut = -1
		case s.kind == endTag && s.depth() == 0:
			if s.at == 0 || s.after() == s.at {
				return fmt.Errorf("properties without an end")
			}
			edits = append(edits, edit{s.at, s.at, g.propertyXML(next, prefix)})
		}
		return nil
	})
	if err != nil {
		return p.partError("the document properties", err)
	}
	g.edited[p.custom] = applied(part, edits)
	return nil
}

func (g *graft) propertyXML(pid int, prefix string) string {
	space := ""
	if prefix != "" {
		space = ` xmlns="` + customSpace + `"`
	}
	var b strings.Builder
	for i, q := range g.draft.Properties {
		fmt.Fprintf(&b, `<property%s fmtid="{D5CDD505-2E9C-101B-9397-08002B2CF9AE}" pid="%d" name="%s"><vt:lpwstr xmlns:vt="http://schemas.openxmlformats.org/officeDocument/2006/docPropsVTypes">%s</vt:lpwstr></property>`,
			space, pid+i, escape(nil, q.Name), escape(nil, q.Value))
	}
	return b.String()
}

func (g *graft) newProperties() error {
	const name = "docProps/custom.xml"
	if g.book.pkg.has(name) {
		return fmt.Errorf("the part %s is not named by the package", name)
	}
	g.added[name] = []byte(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?><Properties xmlns="` + customSpace + `">` + g.propertyXML(2, "") + `</Properties>`)
	g.types[name] = "application/vnd.openxmlformats-officedocument.custom-properties+xml"
	const rels = "_rels/.rels"
	part, err := g.book.pkg.bytesOf(rels)
	if err != nil {
		return err
	}
	space := ""
	if err := scanBytes(part, func(s *scanner) error {
		if s.kind == startTag && s.depth() == 1 && prefixOf(part, s.at) != "" {
			space = ` xmlns="http://schemas.openxmlformats.org/package/2006/relationships"`
		}
		if s.kind == endTag && s.depth() == 0 {
			text := fmt.Sprintf(`<Relationship%s Id="%sProperties" Type="%scustom-properties" Target="/%s"/>`, space, g.mark, relTypes, name)
			part = applied(part, []edit{{s.at, s.at, text}})
		}
		return nil
	}); err != nil {
		return g.book.pkg.partError("the part "+rels, err)
	}
	g.edited[rels] = part
	return nil
}

// overrides lists the types of parts that a draft's own list names.
func overrides(types []byte) (map[string]string, error) {
	list := map[string]string{}
	err := scanBytes(types, func(s *scanner) error {
		if s.kind == startTag && string(s.name) == "Override" {
			list[strings.TrimPrefix(string(s.attr("PartName")), "/")] = string(s.attr("ContentType"))
		}
		return nil
	})
	return list, err
}

// contentTypes lists the new parts and forgets those left out.
func (g *graft) contentTypes() error {
	p := g.book.pkg
	part, err := p.bytesOf(contentTypes)
	if err != nil {
		return err
	}
	var edits []edit
	cut, space := -1, ""
	known := map[string]bool{}
	err = scanBytes(part, func(s *scanner) error {
		switch {
		case s.kind == startTag && s.depth() == 1 && prefixOf(part, s.at) != "":
			space = ` xmlns="http://schemas.openxmlformats.org/package/2006/content-types"`
		case s.kind == startTag && s.depth() == 2:
			if string(s.name) == "Default" {
				known[strings.ToLower(string(s.attr("Extension")))] = true
			}
			name := string(s.attr("PartName"))
			if name != "" && g.drop[fold(name)] {
				cut = s.at
			}
			if t := s.attr("ContentType"); strings.Contains(string(t), "macroEnabled") || strings.Contains(string(t), "template.main") {
				tag := string(part[s.at:s.after()])
				from := s.at + strings.Index(tag, string(t))
				edits = append(edits, edit{from, from + len(t), typeBook})
			}
		case s.kind == endTag && s.depth() == 1 && cut >= 0:
			edits = append(edits, edit{cut, s.after(), ""})
			cut = -1
		case s.kind == endTag && s.depth() == 0:
			edits = append(edits, edit{s.at, s.at, g.newTypes(known, space)})
		}
		return nil
	})
	if err != nil {
		return p.partError("the part "+contentTypes, err)
	}
	g.edited[contentTypes] = applied(part, edits)
	return nil
}

func (g *graft) newTypes(known map[string]bool, space string) string {
	var b strings.Builder
	for _, d := range [][2]string{{"png", "image/png"}, {"vml", "application/vnd.openxmlformats-officedocument.vmlDrawing"}} {
		for _, name := range g.added.names() {
			if strings.HasSuffix(name, "."+d[0]) && !known[d[0]] {
				fmt.Fprintf(&b, `<Default%s Extension="%s" ContentType="%s"/>`, space, d[0], d[1])
				break
			}
		}
	}
	for _, name := range g.added.names() {
		if t := g.types[name]; t != "" {
			fmt.Fprintf(&b, `<Override%s PartName="/%s" ContentType="%s"/>`, space, name, t)
		}
	}
	return b.String()
}
