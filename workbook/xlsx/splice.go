package xlsx

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// An edit replaces bytes of a part; everything else of it stays as it was.
type edit struct {
	from, to int
	text     string
}

func applied(part []byte, edits []edit) []byte {
	slices.SortStableFunc(edits, func(a, b edit) int { return a.from - b.from })
	out := make([]byte, 0, len(part)+256)
	at := 0
	for _, e := range edits {
		out = append(out, part[at:e.from]...)
		out = append(out, e.text...)
		at = max(at, e.to)
	}
	return append(out, part[at:]...)
}

// bytesOf unpacks a whole part.
func (p *pack) bytesOf(name string) ([]byte, error) {
	rc, err := p.open(name)
	if err != nil {
		return nil, err
	}
	defer rc.Close()
	b, err := io.ReadAll(rc)
	if err != nil {
		return nil, p.partError("the part "+name, err)
	}
	return b, nil
}

// scanBytes is scan for a part in memory.
func scanBytes(part []byte, f func(*scanner) error) error {
	s := newScanner(bytes.NewReader(part))
	for {
		if err := s.next(); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
		if err := f(s); err != nil {
			return err
		}
	}
}

const (
	mainSpace = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
	strictTag = "purl.oclc.org/ooxml"
)

// A section is a list in the styles part: fonts, fills and so on.
type section struct {
	from, inner, end, to int // of the start tag, behind it, of the end tag, behind it
	count                int // entries found
	countFrom, countTo   int // the value of the attribute count, 0 without one
}

var styleOrder = []string{"numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs"}

// sections finds the lists of a styles part.
func sections(part []byte) (found map[string]section, prefixed bool, formats map[int]string, err error) {
	found, formats = map[string]section{}, map[int]string{}
	open := ""
	err = scanBytes(part, func(s *scanner) error {
		name := string(s.name)
		switch {
		case s.kind == startTag && s.depth() == 1:
			prefixed = part[s.at+1] != name[0] || !bytes.HasPrefix(part[s.at+1:], []byte(name))
		case s.kind == startTag && s.depth() == 2 && slices.Contains(styleOrder, name):
			sec := section{from: s.at, inner: s.after(), end: -1}
			if v := s.attr("count"); v != nil {
				tag := part[s.at:s.after()]
				i := bytes.Index(tag, []byte(`count=`)) + len(`count="`)
				sec.countFrom, sec.countTo = s.at+i, s.at+i+len(v)
			}
			found[name], open = sec, name
		case s.kind == startTag && s.depth() == 3 && open != "":
			sec := found[open]
			sec.count++
			found[open] = sec
			if name == "numFmt" {
				code, err := s.attrText("formatCode")
				if id, e := strconv.Atoi(string(s.attr("numFmtId"))); e == nil {
					formats[id] = code
				}
				return err
			}
		case s.kind == endTag && s.depth() == 1 && name == open:
			sec := found[open]
			sec.end, sec.to = s.at, s.after()
			if sec.end < sec.inner { // <fonts/>
				sec.end = -1
			}
			found[open], open = sec, ""
		}
		return nil
	})
	return found, prefixed, formats, err
}

var styleIDs = regexp.MustCompile(`(numFmtId|fontId|fillId|borderId|xfId)="(\d+)"`)

// mergeStyles adds the styles of a draft behind those of a person's file,
// which keep their numbers. It gives the new part and what is to be added to
// the number of a draft's style.
func mergeStyles(mine, theirs []byte) (merged []byte, offset int, err error) {
	own, _, ownFormats, err := sections(mine)
	if err != nil {
		return nil, 0, err
	}
	found, prefixed, formats, err := sections(theirs)
	if err != nil {
		return nil, 0, err
	}
	if _, ok := found["cellXfs"]; !ok {
		return mine, 0, nil
	}
	next := 164
	for id := range formats {
		next = max(next, id+1)
	}
	newID := map[string]string{}
	var numFmts strings.Builder
	for _, id := range sortedKeys(ownFormats) {
		newID[strconv.Itoa(id)] = strconv.Itoa(next)
		fmt.Fprintf(&numFmts, `<numFmt numFmtId="%d" formatCode="%s"/>`, next, escape(nil, ownFormats[id]))
		next++
	}
	moved := func(xfs string) string {
		return styleIDs.ReplaceAllStringFunc(xfs, func(a string) string {
			m := styleIDs.FindStringSubmatch(a)
			n, _ := strconv.Atoi(m[2])
			switch m[1] {
			case "numFmtId":
				if id, ok := newID[m[2]]; ok {
					return `numFmtId="` + id + `"`
				}
				return a
			case "fontId":
				n += found["fonts"].count
			case "fillId":
				n += found["fills"].count
			case "borderId":
				n += found["borders"].count
			default:
				n = 0
			}
			return m[1] + `="` + strconv.Itoa(n) + `"`
		})
	}
	var edits []edit
	for i, name := range styleOrder {
		sec := own[name]
		if name == "cellStyleXfs" || sec.count == 0 || sec.end < 0 {
			continue
		}
		inner := string(mine[sec.inner:sec.end])
		switch name {
		case "numFmts":
			inner = numFmts.String()
		case "cellXfs":
			inner = moved(inner)
		}
		if prefixed {
			inner = spaced(inner)
		}
		edits = append(edits, insertSection(theirs, found, i, name, inner, sec.count, prefixed)...)
	}
	return applied(theirs, edits), found["cellXfs"].count, nil
}

// insertSection adds entries at the end of a list, or the list itself in its
// place before the next one.
func insertSection(theirs []byte, found map[string]section, i int, name, inner string, count int, prefixed bool) []edit {
	if t, ok := found[name]; ok {
		var edits []edit
		if t.countTo > 0 {
			edits = append(edits, edit{t.countFrom, t.countTo, strconv.Itoa(t.count + count)})
		}
		if t.end >= 0 {
			return append(edits, edit{t.end, t.end, inner})
		}
		tag := strings.TrimSuffix(string(theirs[t.from:t.inner]), "/>")
		full := strings.TrimPrefix(strings.Fields(tag)[0], "<")
		return []edit{{t.from, t.inner, "<" + full + ">" + inner + "</" + full + ">"}}
	}
	space := ""
	if prefixed {
		space = ` xmlns="` + mainSpace + `"`
	}
	for _, later := range styleOrder[i+1:] {
		if t, ok := found[later]; ok {
			return []edit{{t.from, t.from, fmt.Sprintf(`<%s%s count="%d">%s</%s>`, name, space, count, inner, name)}}
		}
	}
	return nil
}

var firstTag = regexp.MustCompile(`<(numFmt|font|fill|border|xf)([ />])`)

// spaced names the namespace on each entry, for a file that writes <x:fonts>.
func spaced(inner string) string {
	return firstTag.ReplaceAllString(inner, `<$1 xmlns="`+mainSpace+`"$2`)
}

func sortedKeys[V any](m map[int]V) []int {
	keys := make([]int, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
