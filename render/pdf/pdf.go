// Package pdf turns a report's blocks into a PDF file. It is the only importer
// of maroto and of the PDF writer beneath it.
//
// Three passes make a file. The layout (flow.go and one file per kind of
// block) breaks lines, decides heights and pages, repeats table heads and
// keeps headings with what follows; maroto neither splits a row nor repeats a
// head, so that is done before it. Then maroto sets the text of the running
// pages and embeds the fonts with just the letters used (maroto.go). Last, the
// finishing pass (object.go, finish.go) takes maroto's file apart and adds
// what it cannot make: drawings and frames as vectors beneath the text, turned
// pages for drawing sheets, pictures as they are, the links of the contents,
// bookmarks, metadata and an identifier that depends on the content alone.
//
// Maroto needs about ten microseconds for each run of text. A page of an
// appendix with hundreds of cells is therefore written as one text object in
// the finishing pass, in the same fonts.
package pdf

import (
	"bytes"
	"io"
	"runtime"
	"slices"
	"sync"

	"platebook/render/lettering"
	"platebook/render/report"
)

// Info is what there is to tell about a file written.
type Info struct {
	Pages   int
	Missing []rune // letters that no font has: printed as their Unicode numbers
}

// denseRuns is the number of text runs on a page above which maroto is spared.
const denseRuns = 160

// Write lays the report out and writes it. The same report gives the same
// bytes at any time.
func Write(w io.Writer, r *report.Report) (Info, error) {
	f := newFaces()
	f.names = lettering.NamesOf(r.Names)
	d := layOut(r, f)
	eachSheet(d.sheets, func(s *sheet, pack *packer) {
		if len(s.runs) > denseRuns || s.w > s.h || !s.simple() {
			s.own = true
			s.setText()
			s.packed = pack.stream(s.under.Bytes())
			s.under = bytes.Buffer{} // a large report has a large heap of them
		}
	})
	laid, err := press(d.sheets, f, d.paper)
	if err != nil {
		return Info{}, err
	}
	last := &finish{sheets: d.sheets, report: r, faces: f}
	if err := last.write(w, laid, d.pictures, d.entries); err != nil {
		return Info{}, err
	}
	return Info{Pages: len(d.sheets), Missing: f.lost()}, nil
}

// eachSheet works on pages side by side: they do not depend on each other.
func eachSheet(sheets []*sheet, work func(*sheet, *packer)) {
	var wait sync.WaitGroup
	workers := max(1, min(runtime.GOMAXPROCS(0), len(sheets)))
	for k := range workers {
		wait.Go(func() {
			var pack packer
			for i := k; i < len(sheets); i += workers {
				work(sheets[i], &pack)
			}
		})
	}
	wait.Wait()
}

// document is a report laid out: pages, and what leads to them.
type document struct {
	paper    paper
	sheets   []*sheet
	entries  []entry
	pictures *pictures
}

func layOut(r *report.Report, f *faces) document {
	head := newRunning(f, r.Running)
	p := newPaper(r.Letter, head)
	pics := &pictures{names: map[[32]byte]string{}}
	t := &setter{flow: newFlow(f, pics, p), report: r, running: head, studio: newStudio()}
	switch {
	case r.Strip:
		t.strip(r.Cover)
	case !r.NoCover:
		t.cover(r.Cover)
	}
	front := len(t.sheets)
	sections := t.studio.commission(r.Sections)
	for i, s := range sections {
		t.section(s, i+1 == len(sections) || sections[i+1].Break)
	}
	t.endPage()
	t.studio.close()
	if len(t.sheets) == 0 {
		t.newPage()
	}
	t.numberFigures()
	sheets := t.sheets
	if !r.Strip && len(t.entries) > 0 {
		sheets = t.insertContents(front)
	}
	for i, s := range sheets {
		head.draw(s, p, i+1, len(sheets))
	}
	return document{p, sheets, t.entries, pics}
}

// insertContents sets the contents after the cover. The number of its pages
// is found first, since it moves every page it tells.
func (t *setter) insertContents(front int) []*sheet {
	figures := t.listOfFigures()
	lines := t.contents(t.entries, figures[0])
	body := t.sheets
	pages := 1
	for {
		number := func(s *sheet) int {
			i := slices.Index(body, s)
			if i >= front {
				i += pages
			}
			return i + 1
		}
		c := &setter{flow: newFlow(t.faces, t.pictures, t.paper), report: t.report}
		c.setContents("Contents", lines, false, number)
		title := "Drawings and charts"
		for _, page := range figures {
			if len(page) > 0 {
				c.setContents(title, page, true, number)
			}
			title = ""
		}
		if len(c.sheets) <= pages {
			out := slices.Clone(body[:front])
			out = append(out, c.sheets...)
			return append(out, body[front:]...)
		}
		pages = len(c.sheets)
	}
}
