package report

import (
	"fmt"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/inspection"
)

// sheet is the room of a full drawing page.
func (w *writer) sheet() draw.Sheet {
	if inspection.Is(w.in.Tank.PageSize, "Letter") {
		return draw.Letter.Landscape()
	}
	return draw.A4.Landscape()
}

// plans is a plan as one drawing sheet, or as several for a large floor.
func (w *writer) plans(caption string, plan func(*rules.Assessment, draw.Sheet) *draw.Scene) []Block {
	if !draw.HasPlan(w.a) {
		return nil
	}
	var out []Block
	sheets := draw.Sheets(w.a, w.sheet(), plan)
	for i, s := range sheets {
		c := caption
		switch {
		case len(sheets) > 1 && i == 0:
			c += fmt.Sprintf(", whole floor (sheet 1 of %d)", len(sheets))
		case len(sheets) > 1:
			c += fmt.Sprintf(", part (sheet %d of %d)", i+1, len(sheets))
		}
		out = append(out, Figure{Later: s, Caption: c, Sheet: true})
	}
	return out
}

// photoMap is the thumbnail plan with photo i's place marked, nil without one.
func (w *writer) photoMap(i int) *draw.Scene {
	const size = 26 // mm, beside the caption
	return draw.PhotoThumb(w.a, i, size)
}

// chart is a drawing in the width of the text.
func (w *writer) chart(caption string, plot func(*rules.Assessment, draw.Sheet) *draw.Scene) []Block {
	const width, height = 170, 95 // mm
	s := plot(w.a, draw.Sheet{Width: width, Height: height})
	if s == nil {
		return nil
	}
	return []Block{Figure{Scene: s, Caption: caption}}
}
