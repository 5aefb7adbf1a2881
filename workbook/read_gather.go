package workbook

import (
	"fmt"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/workbook/layout"
)

// gather brings what the tables found into the order of the workbook.
func (r *reader) gather(tabs []tab) {
	var links []link
	for i := range tabs {
		if tabs[i].def == nil {
			continue
		}
		t := r.tables[tabs[i].def.Name]
		if t == nil {
			continue
		}
		if t.def.Items {
			r.ins.Sheets = append(r.ins.Sheets, t.placeItems())
		} else {
			r.ins.Sheets = append(r.ins.Sheets, t.place())
		}
		r.hits = append(r.hits, t.hits...)
		links = append(links, t.links...)
	}
	r.otherWorkbooks(links)
	r.notRead(tabs)
}

// notRead lists once what was left alone, so that nothing drops out silently.
func (r *reader) notRead(tabs []tab) {
	var names []string
	var related []finding.Related
	for i := range tabs {
		t := &tabs[i]
		if t.def == nil {
			if !t.unread && filledRows(t.grid, 0) > 0 {
				names = append(names, t.sheet.Name)
				related = append(related, finding.Related{Ref: finding.Ref{Sheet: t.sheet.Name}})
			}
			continue
		}
		if tb := r.tables[t.def.Name]; tb != nil {
			for _, head := range tb.extra {
				name := head.text
				if name == "" {
					name = tb.headRef(head).String()
				}
				names = append(names, name)
				related = append(related, finding.Related{Ref: tb.headRef(head)})
			}
		}
	}
	if len(names) > 0 {
		more := ""
		if n := len(names) - unreadNamed; n > 0 {
			names, more = names[:unreadNamed], fmt.Sprintf(" and %d more", n)
		}
		r.hit(finding.Hit{Rule: "S105", Message: "not read: " + strings.Join(names, ", ") + more, Related: related})
	}
}

// unreadNamed is how many of the columns and sheets that are not read are named;
// a sheet has room for 16,384.
const unreadNamed = 100

// aboutFile tells what is to know of the file as a whole.
func (r *reader) aboutFile() {
	f := r.ins.File
	if f.Macros {
		r.hit(finding.Hit{Rule: "F201", Message: "macros not run, not carried over"})
	}
	if text := r.book.Property(layout.TemplateProperty); text != "" {
		if v, err := strconv.Atoi(strings.TrimSpace(text)); err != nil || v > layout.TemplateVersion {
			r.hit(finding.Hit{
				Rule: "F203", Value: text,
				Message: fmt.Sprintf("made from template %s, this program knows templates up to %d", text, layout.TemplateVersion),
			})
		}
	}
	if f.Results {
		n := 0
		for _, a := range r.ins.Answers {
			if a.InSheet {
				n++
			}
		}
		r.hit(finding.Hit{
			Rule: "F204", Message: fmt.Sprintf("result sheets ignored, %s read", count(n, "answer")),
			Do: "Results are made anew from its own inputs. To hold those in it against them: platebook review " + r.book.Name + ".",
		})
	}
	if f.Date1904 {
		r.hit(finding.Hit{Rule: "F205", Message: "dates count from 1904"})
	}
}

// valuesHash identifies what was read, whatever program saved it last.
func (r *reader) valuesHash(tabs []tab) (string, error) {
	var names []string
	for i := range tabs {
		if tabs[i].def != nil {
			names = append(names, tabs[i].sheet.Name)
		}
	}
	return r.book.ValuesHash(names)
}
