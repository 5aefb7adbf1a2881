package draw

import (
	"strconv"
	"strings"

	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// Letter sizes, mm of em. 2.2 mm is 6.2 points.
const (
	titleSize   = 4.2
	headSize    = 2.5
	wordSize    = 2.2
	valueSize   = 2.4
	captionSize = leastSize
	leastSize   = 2.12 // the smallest letters on any drawing, 6 points
)

const (
	gutter      = 2.0 // between the frame's line and what stands inside
	cellHeight  = 8   // of a title-block row
	scaleHeight = 21.0
)

// frame is what all plan drawings share: a room for the plan, a legend, north
// arrow and scale, and the title block.
type frame struct {
	board
	a     *rules.Assessment
	sys   unit.System
	sheet Sheet
	room  rect // of the plan
	view  view
	known bool // something of the floor has a place

	alone float64 // how far a label beside a mark stays from other marks, mm of paper, so that it is taken for nobody else's
	taken *occupied
	marks *occupied // of indications; nil: none

	byLabel      map[string]int // plates by folded label
	tied         map[int]int    // prove-up to its location
	striped      map[int]bool
	unseen       map[int]bool // plates of which nothing was examined
	shownPatches int
	tracksDrawn  int
	tracksLost   []string
	turned       float64  // of the drawing against the plan, degrees anticlockwise
	shaded       bool     // plates are filled: names need a ground of their own
	unrolled     bool     // drawn along the shell: no one north
	toParts      int      // plates numbered on the parts of a split plan only
	unnamed      []string // fixtures without room for their name

	meets []Label // names of the sheets that a part goes on on
	nth   int     // of several sheets that are no parts of a plan

	legend  flow
	compass rect
	block   rect
}

func count(n int) string { return strconv.Itoa(n) }

// newFrame divides the sheet and lays out the view; the plan is drawn next,
// then the legend, then finish.
func newFrame(a *rules.Assessment, s Sheet, name, title string) *frame {
	if s.Width <= 0 || s.Height <= 0 {
		paper := s.Paper
		s = A4.Landscape()
		if paper != "" {
			s.Paper = paper
		}
	}
	f := &frame{a: a, sheet: s}
	if a.Inspection != nil {
		f.sys = a.Inspection.Units
	}
	if s.tile != nil {
		name += " " + count(s.tile.number)
	}
	f.scene = &Scene{Name: name, Title: title, Width: s.Width, Height: s.Height}
	whole := rect{0, 0, s.Width, s.Height}
	block := cellHeight*5 + 9.6
	if s.Width >= s.Height && !s.below {
		w := min(max(s.Width-s.Height, 62), 100, s.Width*0.4)
		f.room = rect{0, 0, s.Width - w, s.Height}
		panel := rect{f.room.x2, 0, s.Width, s.Height}
		f.block = rect{panel.x1, s.Height - block, panel.x2, s.Height}
		f.compass = rect{panel.x1, f.block.y1 - scaleHeight, panel.x2, f.block.y1}
		f.legend = flow{columns: []rect{{panel.x1 + gutter, gutter, panel.x2 - gutter, f.compass.y1 - 1}}}
	} else {
		h := max(block+scaleHeight, s.Height-s.Width)
		f.room = rect{0, 0, s.Width, s.Height - h}
		third := s.Width / 3
		top := s.Height - h
		f.block = rect{2 * third, s.Height - block, s.Width, s.Height}
		f.compass = rect{2 * third, top, s.Width, top + scaleHeight}
		f.legend = flow{columns: []rect{
			{gutter, top + gutter, third - gutter, s.Height - 1},
			{third + gutter, top + gutter, 2*third - gutter, s.Height - 1},
		}}
		if f.block.y1-f.compass.y2 > 8 {
			f.legend.columns = append(f.legend.columns, rect{2*third + gutter, f.compass.y2 + gutter, s.Width - gutter, f.block.y1 - 1})
		}
	}
	// The plan is clipped to its room, the legend is not.
	f.legend.board = &board{scene: f.scene}
	e := extentOf(a.Plan)
	f.known = !e.empty()
	inner := f.room.grow(-0.5)
	f.view = fit(e, inner, s.tile)
	f.clip = &inner
	f.taken = newOccupied(inner)
	f.box(Path{Fill: paper, Class: "sheet"}, whole.grow(-0.3))
	f.keepOffMatchLines()
	if !f.known {
		c := f.room.centre()
		f.label(Label{Text: "No plan: the diameter is unknown and no plate has a place", X: c.x, Y: c.y, Size: 3.2, Anchor: Centre, Middle: true, Paint: steel, Class: "empty"})
	}
	return f
}

// plateIndex finds a plate by its label, -1 when there is none.
func (f *frame) plateIndex(label string) int {
	if f.a.Inspection == nil {
		return -1
	}
	if f.byLabel == nil {
		f.byLabel = make(map[string]int, len(f.a.Inspection.Plates))
		for i := range f.a.Inspection.Plates {
			key := inspection.Fold(f.a.Inspection.Plates[i].Label.Value)
			if _, ok := f.byLabel[key]; !ok {
				f.byLabel[key] = i
			}
		}
	}
	if i, ok := f.byLabel[inspection.Fold(label)]; ok {
		return i
	}
	return -1
}

// finish draws the compass, the title block and the lines of the frame, and
// hands out the scene.
func (f *frame) finish() *Scene {
	f.matchLines()
	f.clip = nil
	if !f.legend.goesOn {
		f.legend.close()
	}
	if f.compass != (rect{}) {
		f.drawCompass()
	}
	f.titleBlock()
	line := Path{Stroke: ink, Width: strong, Class: "frame"}
	f.box(line, rect{0, 0, f.sheet.Width, f.sheet.Height}.grow(-strong/2))
	line.Width = fine
	if f.sheet.Width >= f.sheet.Height {
		f.line(line, point{f.room.x2, 0}, point{f.room.x2, f.sheet.Height})
	} else {
		f.line(line, point{0, f.room.y2}, point{f.sheet.Width, f.room.y2})
		f.line(line, point{f.block.x1, f.room.y2}, point{f.block.x1, f.sheet.Height})
	}
	return f.scene
}

func (f *frame) tank() inspection.Tank {
	if f.a.Inspection == nil {
		return inspection.Tank{}
	}
	return f.a.Inspection.Tank
}

func (f *frame) titleBlock() {
	t := f.tank()
	b := f.block
	line := Path{Stroke: ink, Width: fine, Class: "frame"}
	f.line(line, point{b.x1, b.y1}, point{b.x2, b.y1})
	title := f.scene.Title
	size := titleSize
	for size > 2.6 && Width(title, size, true) > b.width()-2*gutter {
		size -= 0.1
	}
	f.label(Label{Text: Fit(title, size, true, b.width()-2*gutter), X: b.x1 + gutter, Y: b.y1 + 6, Size: size, Bold: true, Paint: ink, Class: "title"})

	scale := "not to scale"
	if f.known {
		scale = "1:" + strconv.FormatFloat(niceScale(1/f.view.k), 'f', -1, 64)
		if f.sheet.Paper != "" {
			scale += " on " + f.sheet.Paper
		}
	}
	number := max(1, f.nth)
	if f.sheet.tile != nil {
		number = f.sheet.tile.number
	}
	status, caution := "STATUS NOT GIVEN", true
	if f.a.Inspection != nil {
		status, caution = f.a.Standing()
	}
	rows := [][][2]string{
		{{"Client", words(t.Client)}, {"Site", words(t.Site)}},
		{{"Tank", words(t.Tank)}, {"Report", words(t.ReportNumber)}},
		{{"Revision", words(t.Revision)}, {"Report date", t.ReportDate.Value.String()}},
		{{"Scale", scale}, {"Sheet", count(number) + " of " + count(max(1, f.sheet.pages))}},
		{{"Status", status}},
	}
	y := b.y1 + 9
	for i, row := range rows {
		w := b.width() / float64(len(row))
		for j, c := range row {
			x := b.x1 + float64(j)*w
			loud := i == len(rows)-1
			f.cell(rect{x, y, x + w, y + cellHeight}, c[0], c[1], loud, loud && caution)
			if j > 0 {
				f.line(line, point{x, y}, point{x, y + cellHeight})
			}
		}
		f.line(line, point{b.x1, y}, point{b.x2, y})
		y += cellHeight
	}
}

func words(f inspection.Text) string { return strings.Join(strings.Fields(f.Value), " ") }

// cell writes a caption and its value; a long value is set smaller, then in
// two lines, and only then shortened.
func (f *frame) cell(r rect, caption, value string, loud, caution bool) {
	f.label(Label{Text: caption, X: r.x1 + gutter, Y: r.y1 + 2.5, Size: captionSize, Paint: steel, Class: "caption"})
	if value == "" {
		value = "–"
	}
	room := r.width() - 2*gutter
	l := Label{X: r.x1 + gutter, Y: r.y2 - 1.6, Size: valueSize, Bold: loud, Paint: ink, Class: "value"}
	if caution {
		l.Paint = accent
	}
	for l.Size-0.1 > leastSize && Width(value, l.Size, loud) > room {
		l.Size -= 0.1
	}
	if Width(value, l.Size, loud) <= room {
		l.Text = value
		f.label(l)
		return
	}
	l.Size = leastSize
	lines := wrap(value, l.Size, loud, room)
	if len(lines) > 2 {
		lines = []string{lines[0], Fit(strings.Join(lines[1:], " "), l.Size, loud, room)}
	}
	const lead = 2.35
	l.Y = r.y2 - 0.75 - lead*float64(len(lines)-1)
	for _, t := range lines {
		l.Text = t
		f.label(l)
		l.Y += lead
	}
}

// HasPlan says whether anything of the floor has a place to be drawn at.
func HasPlan(a *rules.Assessment) bool { return a.Plan != nil && !extentOf(a.Plan).empty() }
