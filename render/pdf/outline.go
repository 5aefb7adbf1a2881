package pdf

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf16"
)

// outline writes the bookmarks, sections with their headings and drawing
// sheets beneath, closed; it gives the number of the root.
func (f *finish) outline(entries []entry) int {
	type item struct {
		entry
		number, parent    int
		children          []int
		previous, next    int
		firstKid, lastKid int
	}
	var items []*item
	root := f.objs.add(nil)
	var top []*item
	stack := []*item{}
	for _, e := range entries {
		if e.at.sheet == nil || e.text == "" {
			continue
		}
		it := &item{entry: e, number: f.objs.add(nil), parent: root}
		for len(stack) > 0 && stack[len(stack)-1].level >= e.level {
			stack = stack[:len(stack)-1]
		}
		if len(stack) > 0 {
			p := stack[len(stack)-1]
			it.parent = p.number
			if p.lastKid == 0 {
				p.firstKid = it.number
			}
			if n := len(p.children); n > 0 {
				prev := items[p.children[n-1]]
				prev.next, it.previous = it.number, prev.number
			}
			p.children = append(p.children, len(items))
			p.lastKid = it.number
		} else {
			if n := len(top); n > 0 {
				top[n-1].next, it.previous = it.number, top[n-1].number
			}
			top = append(top, it)
		}
		items = append(items, it)
		stack = append(stack, it)
	}
	if len(items) == 0 {
		return 0
	}
	for _, it := range items {
		var b bytes.Buffer
		title := it.text
		if it.entry.number != "" {
			title = it.entry.number + "  " + title
		}
		fmt.Fprintf(&b, "<</Title %s /Parent %d 0 R /Dest %s", textString(title), it.parent, f.dest(it.at))
		for _, r := range []struct {
			key string
			n   int
		}{{"Prev", it.previous}, {"Next", it.next}, {"First", it.firstKid}, {"Last", it.lastKid}} {
			if r.n > 0 {
				fmt.Fprintf(&b, " /%s %d 0 R", r.key, r.n)
			}
		}
		if n := len(it.children); n > 0 {
			fmt.Fprintf(&b, " /Count -%d", n)
		}
		b.WriteString(">>")
		f.objs[it.number] = b.Bytes()
	}
	f.objs[root] = []byte(fmt.Sprintf("<</Type /Outlines /First %d 0 R /Last %d 0 R /Count %d>>", top[0].number, top[len(top)-1].number, len(top)))
	return root
}

func (f *finish) info() []byte {
	var b strings.Builder
	b.WriteString("<</Title " + textString(f.report.Title))
	if f.report.Author != "" {
		b.WriteString(" /Author " + textString(f.report.Author))
	}
	b.WriteString(" /Creator " + textString("platebook") + " /Producer " + textString("platebook"))
	if d := dateString(f.report.Running.Date); d != "" {
		b.WriteString(" /CreationDate " + d + " /ModDate " + d)
	}
	b.WriteString(">>")
	return []byte(b.String())
}

// dateString is a date of the report, 2026-03-04, as the PDF writes dates; a
// report without one has none: the clock is never asked.
func dateString(s string) string {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return ""
	}
	digits := s[:4] + s[5:7] + s[8:]
	if strings.Trim(digits, "0123456789") != "" {
		return ""
	}
	return "(D:" + digits + "000000Z)"
}

func (f *finish) catalog(pages, outline int) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "<</Type /Catalog /Pages %d 0 R /Lang (en) /ViewerPreferences <</DisplayDocTitle true>>", pages)
	if outline > 0 {
		fmt.Fprintf(&b, " /Outlines %d 0 R /PageMode /UseOutlines", outline)
	}
	b.WriteString(">>")
	return []byte(b.String())
}

// textString is a text outside the pages: UTF-16 with its mark, as hex.
func textString(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteString(">")
	return b.String()
}
