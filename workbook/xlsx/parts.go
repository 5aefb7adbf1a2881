package xlsx

import (
	"fmt"
	"net/url"
	"path"
	"strconv"
	"strings"
	"sync"
)

// readParts reads everything of the workbook but its sheets and shared texts.
func (b *Book) readParts() error {
	p := b.pkg
	for _, name := range []string{contentTypes, "_rels/.rels"} {
		if !p.has(name) {
			return damaged("the part "+name+" is missing", nil)
		}
	}
	rels, err := p.relations("")
	if err != nil {
		return err
	}
	p.main = find(rels, "officeDocument")
	for _, r := range rels {
		if r.kind == "officeDocument" && !r.external && fold(r.target) != fold(p.main) {
			return twoBooks(p.file + " holds two workbooks, " + p.main + " and " + r.target)
		}
	}
	if p.main == "" {
		p.main = "xl/workbook.xml"
	}
	if !p.has(p.main) {
		return damaged("the part "+p.main+" is missing", nil)
	}
	p.core, p.custom = find(rels, "core-properties"), find(rels, "custom-properties")
	p.rels, err = p.relations(p.main)
	if err != nil {
		return err
	}
	if err := b.readWorkbook(); err != nil {
		return err
	}
	for name := range p.parts {
		if strings.HasSuffix(name, "/vbaproject.bin") {
			b.Macros = true
		}
	}
	styles := find(p.rels, "styles")
	if styles != "" && p.has(styles) {
		if p.styles, err = p.readStyles(styles); err != nil {
			return err
		}
	}
	p.texts = sync.OnceValues(func() (*texts, error) {
		part := find(p.rels, "sharedStrings")
		if part == "" || !p.has(part) {
			return &texts{}, nil
		}
		return p.readTexts(part)
	})
	if err := p.checkCarried(b.Sheets); err != nil {
		return err
	}
	return b.readProperties()
}

// sheetRef is an entry of the workbook's list of sheets, of any kind.
type sheetRef struct{ name, id, kind, part string }

func (b *Book) readWorkbook() error {
	p := b.pkg
	byID := map[string]relation{}
	for _, r := range p.rels {
		byID[r.id] = r
	}
	var links []string
	owner := map[string]string{} // the sheet of a part
	var name *DefinedName
	var text []byte
	err := p.scan(p.main, "the list of sheets", func(s *scanner) error {
		switch {
		case s.kind == textNode && name != nil:
			var err error
			text, err = s.appendText(text)
			return err
		case s.kind == endTag && name != nil && string(s.name) == "definedName":
			name.RefersTo = string(text)
			b.Names = append(b.Names, *name)
			name = nil
		case s.kind != startTag:
		case string(s.name) == "workbookPr":
			b.Date1904 = isTrue(s.attr("date1904"))
		case string(s.name) == "externalReference":
			links = append(links, string(s.attr("id")))
		case string(s.name) == "definedName":
			n, err := s.attrText("name")
			if err != nil {
				return err
			}
			name, text = &DefinedName{Name: n, Sheet: string(s.attr("localSheetId"))}, text[:0]
		case string(s.name) == "sheet" && s.depth() == 3:
			n, err := s.attrText("name")
			if err != nil {
				return err
			}
			r := byID[string(s.attr("id"))]
			if p.list = append(p.list, sheetRef{n, r.id, r.kind, r.target}); len(p.list) > MaxSheets {
				return tooLarge(fmt.Sprintf("holds more than %d sheets", MaxSheets))
			}
			if r.kind != "worksheet" && r.kind != "" {
				return nil
			}
			if r.target == "" || !p.has(r.target) || fold(r.target) == fold(p.main) {
				return damaged("sheet "+n+" is missing in the file", nil)
			}
			if other := owner[fold(r.target)]; other != "" {
				return damaged("sheets "+other+" and "+n+" are one part of the file", nil)
			}
			owner[fold(r.target)] = n
			sheet := &Sheet{Name: n, book: b, part: r.target}
			switch string(s.attr("state")) {
			case "hidden":
				sheet.Visibility = Hidden
			case "veryHidden":
				sheet.Visibility = VeryHidden
			}
			b.Sheets = append(b.Sheets, sheet)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if len(p.list) == 0 {
		return damaged("the list of sheets is empty", nil)
	}
	for i := range b.Names {
		if n, err := strconv.Atoi(b.Names[i].Sheet); err == nil && n >= 0 && n < len(p.list) {
			b.Names[i].Sheet = p.list[n].name
		}
	}
	return b.readLinks(links, byID)
}

// readLinks finds the file behind each external reference, in their order.
func (b *Book) readLinks(ids []string, byID map[string]relation) error {
	for _, id := range ids {
		target := ""
		if part := byID[id].target; part != "" {
			rels, err := b.pkg.relations(part)
			if err != nil {
				return err
			}
			for _, r := range rels {
				if r.external && target == "" {
					target = r.target
				}
			}
		}
		if t, err := url.PathUnescape(target); err == nil {
			target = t
		}
		b.Links = append(b.Links, path.Base(strings.ReplaceAll(target, `\`, "/")))
	}
	return nil
}

func (b *Book) readProperties() error {
	p := b.pkg
	if p.core != "" && p.has(p.core) {
		var in bool
		err := p.scan(p.core, "the document properties", func(s *scanner) error {
			switch {
			case s.kind == startTag:
				in = string(s.name) == "title" && s.depth() == 2
			case s.kind == endTag:
				in = false
			case in:
				t, err := s.appendText(nil)
				b.Title += string(t)
				return err
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	if p.custom == "" || !p.has(p.custom) {
		return nil
	}
	return p.scan(p.custom, "the document properties", func(s *scanner) error {
		switch {
		case s.kind == startTag && string(s.name) == "property":
			n, err := s.attrText("name")
			b.Properties = append(b.Properties, Property{Name: n})
			return err
		case s.kind == textNode && s.depth() == 3 && len(b.Properties) > 0:
			t, err := s.appendText(nil)
			b.Properties[len(b.Properties)-1].Value += string(t)
			return err
		}
		return nil
	})
}
