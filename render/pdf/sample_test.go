package pdf

import (
	"bytes"
	"fmt"
	goimage "image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"

	"platebook/render/draw"
	"platebook/render/report"
	"platebook/rules/finding"
	"platebook/rules/step"
	"platebook/rules/unit"
)

// All numbers of the sample are invented: it is about shape alone.

func sampleScene(name string, w, h float64, n int) *draw.Scene {
	s := &draw.Scene{Name: name, Title: name, Width: w, Height: h}
	on := func(r, g, b uint8) draw.Paint { return draw.Paint{R: r, G: g, B: b, On: true} }
	cx, cy, r := w/2, h/2, math.Min(w, h)/2-6
	const k = 0.5522847498
	circle := func(x, y, r float64, fill, stroke draw.Paint, width float64, dash []float64) draw.Path {
		return draw.Path{Fill: fill, Stroke: stroke, Width: width, Dash: dash, Segments: []draw.Segment{
			{Op: draw.Move, X: x + r, Y: y},
			{Op: draw.Curve, X1: x + r, Y1: y + k*r, X2: x + k*r, Y2: y + r, X: x, Y: y + r},
			{Op: draw.Curve, X1: x - k*r, Y1: y + r, X2: x - r, Y2: y + k*r, X: x - r, Y: y},
			{Op: draw.Curve, X1: x - r, Y1: y - k*r, X2: x - k*r, Y2: y - r, X: x, Y: y - r},
			{Op: draw.Curve, X1: x + k*r, Y1: y - r, X2: x + r, Y2: y - k*r, X: x + r, Y: y},
			{Op: draw.Close},
		}}
	}
	s.Items = append(s.Items, circle(cx, cy, r, on(245, 246, 248), on(40, 50, 60), 0.5, nil))
	for i := range 7 {
		y := cy - r + 2*r*float64(i+1)/8
		dx := math.Sqrt(r*r - (y-cy)*(y-cy))
		s.Items = append(s.Items, draw.Path{Stroke: on(90, 100, 110), Width: 0.2, Segments: []draw.Segment{{Op: draw.Move, X: cx - dx, Y: y}, {Op: draw.Line, X: cx + dx, Y: y}}})
	}
	s.Items = append(s.Items, circle(cx, cy, r*0.93, draw.Paint{}, on(140, 30, 30), 0.3, []float64{2, 1}))
	for i := range n {
		a, q := float64(i)*2.399963, r*0.9*math.Sqrt(float64(i+1)/float64(n+1))
		x, y := cx+q*math.Cos(a), cy+q*math.Sin(a)
		s.Items = append(s.Items, circle(x, y, 0.8, on(uint8(60+i%5*40), 90, 130), draw.Paint{}, 0, nil))
		if i < 40 {
			s.Items = append(s.Items, draw.Label{Text: fmt.Sprintf("%s-%d", name[:2], i+1), X: x + 1, Y: y, Size: 2.4, Middle: true, Paint: on(20, 20, 20), Halo: true})
		}
	}
	s.Items = append(
		s.Items,
		draw.Label{Text: name + " ↑ north α β Δ ≥", X: cx, Y: 4, Size: 3.4, Anchor: draw.Centre, Bold: true, Paint: on(20, 20, 20)},
		draw.Label{Text: "turned " + name, X: 3.4, Y: cy, Size: 2.6, Anchor: draw.Centre, Angle: 90, Paint: on(20, 20, 20)},
	)
	return s
}

func samplePicture(w, h int, seed int) *report.Picture {
	im := goimage.NewRGBA(goimage.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			im.Set(x, y, color.RGBA{uint8(120 + 80*math.Sin(float64(x+seed)/40)), uint8(110 + 60*math.Cos(float64(y)/31)), uint8(90 + seed*20%100), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, im, nil); err != nil {
		panic(err)
	}
	return &report.Picture{JPEG: b.Bytes(), Width: w, Height: h}
}

func sampleSteps() []step.Step {
	cell := func(sheet string, col, row int) step.Source {
		return step.Source{Ref: finding.Ref{Sheet: sheet, Col: col, Row: row}}
	}
	mrt := step.New(step.Step{
		ID: "mrt.as_planned", Title: "Minimum remaining thickness at the end of the interval, as planned", Symbol: "MRT",
		Formula: step.Parse("min(RTbc, RTip) - Or*(StPr + UPr)"), Kind: unit.Thickness, Clause: "4.4.5.1", Source: "API 653",
		Inputs: []step.Input{
			{Symbol: "RTbc", Title: "least thickness from soil-side corrosion", Value: 4.826, Known: true, Kind: unit.Thickness, From: cell("Prove-ups", 8, 12)},
			{Symbol: "RTip", Title: "least thickness from product-side corrosion", Value: 5.334, Known: true, Kind: unit.Thickness, From: cell("Prove-ups", 8, 19)},
			{Symbol: "Or", Title: "interval", Value: 10, Known: true, Kind: unit.Time, From: cell("Tank", 2, 31)},
			{Symbol: "StPr", Title: "product-side rate", Value: 0.0508, Known: true, Kind: unit.RateKind, From: step.Source{Step: "rate.product"}},
			{Symbol: "UPr", Title: "soil-side rate", Value: 0.127, Known: true, Kind: unit.RateKind, From: step.Source{Step: "rate.soil"}},
		},
		Verify: []string{"rounding of the interval"}, Branch: "no barrier and no lining, so the row without either applies",
	})
	mrt.Limit = &step.Limit{Symbol: "tmin", Value: 2.54, Known: true, Op: "≥", From: step.Source{Text: "Table 4.4"}}
	fail := mrt
	fail.ID, fail.Title, fail.Verify = "mrt.as_found", "Minimum remaining thickness at the end of the interval, as found", nil
	fail.Limit = &step.Limit{Symbol: "tmin", Value: 4.5, Known: true, Op: "≥", From: step.Source{Text: "Table 4.4"}}
	lost := step.New(step.Step{
		ID: "rate.soil", Title: "Soil-side corrosion rate", Symbol: "UPr", Formula: step.Parse("(tn - t)/years"), Kind: unit.RateKind,
		Inputs: []step.Input{
			{Symbol: "tn", Title: "nominal thickness", Value: 6.35, Known: true, Kind: unit.Thickness, From: cell("Tank", 2, 20)},
			{Symbol: "t", Title: "least thickness", Value: 4.8, Known: true, Kind: unit.Thickness, From: cell("Prove-ups", 8, 12)},
			{Symbol: "years", Title: "years in service", Kind: unit.Time, From: cell("Tank", 2, 21)},
		},
	})
	return []step.Step{mrt, fail, lost}
}

func sampleTable(rows int, dense bool) report.Table {
	t := report.Table{
		Caption: "Indications that matter, worst first", Dense: dense,
		Columns: []report.Column{
			{Head: "Plate", Share: 1},
			{Head: "No.", Align: report.Right, Share: 0.7},
			{Head: "X\nmm", Align: report.Right, Share: 1},
			{Head: "Y\nmm", Align: report.Right, Share: 1},
			{Head: "Side", Align: report.Middle, Share: 1},
			{Head: "Remaining\nmm", Align: report.Right, Share: 1.2},
			{Head: "Required\nmm", Align: report.Right, Share: 1.2},
			{Head: "Verdict", Share: 2},
		},
	}
	for i := range rows {
		if i%40 == 0 && !dense {
			t.Rows = append(t.Rows, report.Row{Group: true, Cells: []string{fmt.Sprintf("Course %d of plates", i/40+1)}})
		}
		r := report.Row{Cells: []string{
			fmt.Sprintf("%d-%d", i%9+1, i%7+1), fmt.Sprint(i + 1), fmt.Sprint(100 + i*37%5900), fmt.Sprint(40 + i*53%1700),
			[]string{"soil", "product"}[i%2], fmt.Sprintf("%.2f", 2.2+float64(i%400)/100), "2.54", "leave",
		}}
		switch {
		case i%23 == 5:
			r.Mark, r.Cells[7] = "fail", "below the limit: patch"
		case i%23 == 9:
			r.Mark, r.Cells[7] = "warn", "within the margin"
		case i%23 == 14:
			r.Bold = true
		}
		t.Rows = append(t.Rows, r)
	}
	t.Note = "Required thickness by zone: general 2.54 mm, critical zone by its own clause."
	return t
}

const lorem = "The floor was examined over 93.1 % of its area by magnetic flux leakage, and 4.0 % by hand where the scanner could not reach. The remaining 2.7 % lies under the column bases and within the sump. Prove-ups by ultrasonic measurement were made at 96 places, chosen worst first."

func sampleReport() *report.Report {
	var preamble []string
	for i := range 12 {
		preamble = append(preamble, fmt.Sprintf("Sentence %d of a long paragraph: %s", i+1, lorem))
	}
	photos := report.Photos{}
	for i := range 6 {
		w, h := 800, 600
		if i == 2 {
			w, h = 600, 800
		}
		photos.Photos = append(photos.Photos, report.Photo{
			Number: i + 1, File: fmt.Sprintf("photos/IMG_%04d.jpg", 400+i), Caption: "Pit cluster beside the lap, cleaned to bare steel, scale in millimetres",
			Place: "plate 3-4, X 1200, Y 340 mm, looking north", Picture: samplePicture(w, h, i), Map: sampleScene("map", 60, 60, 1),
		})
	}
	photos.Photos[4].Picture, photos.Photos[4].Missing = nil, "photos/IMG_0404.jpg not found beside the workbook"
	return &report.Report{
		Title: "Tank 7 floor inspection, report 26-014", Author: "Example Inspection Ltd",
		Running: report.Running{
			Tank: "Tank 7, North Terminal", Report: "26-014", Revision: "B", Status: "PRELIMINARY: 3 rows left out", Loud: true, Hash: "1a2b3c4d", Date: "2026-03-04",
		},
		Cover: report.Cover{
			Firm: "Example Inspection Ltd", FirmAddress: "12 Quay Road, Harbourtown", FirmNumber: "Certificate 40213", Logo: samplePicture(300, 120, 3),
			Heading: "Floor inspection of an aboveground storage tank",
			Lines: [][2]string{
				{"Client", "Harbour Storage Company"},
				{"Site", "North Terminal"},
				{"Tank", "Tank 7"},
				{"Type of inspection", "Internal, out of service"},
				{"Inspected", "2026-02-16 to 2026-02-20"},
				{"Report date", "2026-03-04"},
				{"Report number", "26-014, revision B"},
			},
			Status: "PRELIMINARY: 3 rows left out",
			Signatures: []report.Signature{
				{Role: "Inspector", Name: "J. Example", Number: "653-00000"}, {Role: "Reviewer", Name: "M. Sample", Number: "653-00001"}, {Role: "Owner's engineer"},
			},
			Note: "The program prints lines to sign on. It signs and approves nothing.",
		},
		Sections: []report.Section{
			{Number: 2, Name: "Summary", Blocks: []report.Block{
				report.Paragraph{Text: lorem},
				report.Caution{Title: "Open questions", Text: "Two warnings have no answer yet. The interval is calculated with the rates as they stand, and changes when they are answered."},
				report.Pairs{Rows: [][2]string{{"Required thickness", "2.54 mm"}, {"Least, soil side", "4.10 mm at 3-4/17"}, {"Least, product side", "5.00 mm at 2-1/3"}, {"Interval", "12.0 years"}, {"Governed by", "corrosion"}, {"Calculated next date", "2038-03-04 by 4.4.5.1"}, {"Repairs", "4 patches, 31 kg"}}},
				report.List{Items: []string{"Plates 3-4 and 3-5 are patched before the tank goes back into service.", "The coating is renewed over the critical zone. " + lorem, "Short."}},
				report.Pairs{Rows: [][2]string{{"Limitations", lorem}, {"Product", "Gas oil, σ = 160 MPa, Δ ≥ 3 µm, √2, 45°, α·β"}}},
			}},
			{Number: 3, Name: "Revision history and open questions"},
			{Number: 8, Name: "Floor", Blocks: []report.Block{
				report.Heading{Level: 2, Text: "Plates"},
				report.Paragraph{Text: strings.Join(preamble, " ")},
				report.Heading{Level: 3, Text: "Indications"},
				sampleTable(300, false),
				report.Paragraph{Text: "Small print under a table. " + lorem, Small: true},
			}},
			{Number: 9, Name: "MFL against UT", Blocks: []report.Block{
				report.Figure{Scene: sampleScene("scatter", 150, 90, 60), Caption: "Loss by MFL against loss by UT, with the 1:1 line"},
				report.Heading{Level: 2, Text: "Indication plan"},
				report.Figure{Scene: sampleScene("indication plan", 258, 165, 300), Caption: "Indication plan, plan view from above", Sheet: true},
				report.Figure{Scene: sampleScene("plate detail", 165, 230, 30), Caption: "Plate 3-4, to scale", Sheet: true},
			}},
			{Number: 13, Name: "Minimum thickness and interval", Blocks: []report.Block{report.Steps{Steps: sampleSteps()}}},
			{Number: 18, Name: "Limitations and cautions", Blocks: []report.Block{
				report.Table{Caption: "Long cells", Columns: []report.Column{{Head: "Finding", Share: 1}, {Head: "Text", Share: 3}, {Head: "Value\nmm/year", Align: report.Right, Share: 1}}, Rows: []report.Row{
					{Cells: []string{"C104", strings.Repeat("A cell with two thousand characters goes on. ", 45), "0.13"}},
					{Cells: []string{"R109", strings.Repeat("Verylongwordwithoutanyspace", 12), "12345.678"}},
					{Cells: []string{"R110", strings.Repeat("This cell is taller than a page is high. ", 330), "1.00"}},
				}},
				report.Table{Columns: []report.Column{{Head: "Empty"}, {Head: "Table"}}},
				report.Paragraph{Text: "Names keep their letters: Ærøskøbing, Łódź, Ωmega, Иванов, שלום עולם 12, مرحبا, 東京タンク, 😀."},
			}},
			{Number: 19, Name: "Photos", Break: true, Blocks: []report.Block{photos}},
			{Number: 20, Name: "Appendix: all readings", Break: true, Blocks: []report.Block{sampleTable(400, true), report.Signatures{Lines: []report.Signature{{Role: "Inspector", Name: "J. Example", Number: "653-00000", Date: "2026-03-04"}}}}},
		},
	}
}
