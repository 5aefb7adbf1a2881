package xlsx

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"platebook/rules/finding"
)

// shell makes everything of a sheet but its rows, columns and hyperlinks.
func (s *NewSheet) shell(f *excelize.File) error {
	for _, step := range []func(*excelize.File) error{
		s.ranges, s.view, s.page, s.dropDowns, s.drawings, // the filter before the view: it forgets the sheet's properties
	} {
		if err := step(f); err != nil {
			return err
		}
	}
	if len(s.links) > 0 {
		if err := f.SetCellHyperLink(s.Name, "A1", "A1", "Location"); err != nil {
			return err
		}
	}
	if s.Protected {
		return f.ProtectSheet(s.Name, &excelize.SheetProtectionOptions{
			SelectLockedCells: true, SelectUnlockedCells: true, FormatColumns: true, FormatRows: true, AutoFilter: true,
		})
	}
	return nil
}

func (s *NewSheet) view(f *excelize.File) error {
	p := &excelize.SheetPropsOptions{}
	if s.Tab != "" {
		opaque := "FF" + s.Tab // alpha, red, green, blue
		p.TabColorRGB = &opaque
	}
	if s.Print.FitWidth {
		yes := true
		p.FitToPage = &yes
	}
	if err := f.SetSheetProps(s.Name, p); err != nil {
		return err
	}
	if s.NoGrid {
		no := false
		if err := f.SetSheetView(s.Name, 0, &excelize.ViewOptions{ShowGridLines: &no}); err != nil {
			return err
		}
	}
	if s.Hidden || s.VeryHidden {
		if err := f.SetSheetVisible(s.Name, false, s.VeryHidden); err != nil {
			return err
		}
	}
	if s.FreezeRow == 0 && s.FreezeCol == 0 {
		return nil
	}
	pane := "bottomRight"
	switch {
	case s.FreezeCol == 0:
		pane = "bottomLeft"
	case s.FreezeRow == 0:
		pane = "topRight"
	}
	corner := ref(s.FreezeCol+1, s.FreezeRow+1)
	return f.SetPanes(s.Name, &excelize.Panes{
		Freeze: true, XSplit: s.FreezeCol, YSplit: s.FreezeRow, TopLeftCell: corner, ActivePane: pane,
		Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}},
	})
}

func (s *NewSheet) page(f *excelize.File) error {
	paper, orientation := 9, "portrait"
	if s.Print.Letter {
		paper = 1
	}
	if s.Print.Landscape {
		orientation = "landscape"
	}
	o := &excelize.PageLayoutOptions{Size: &paper, Orientation: &orientation}
	if s.Print.FitWidth {
		wide, high := 1, 0
		o.FitToWidth, o.FitToHeight = &wide, &high
	}
	if err := f.SetPageLayout(s.Name, o); err != nil {
		return err
	}
	if s.Print.Header != "" || s.Print.Footer != "" {
		if err := f.SetHeaderFooter(s.Name, &excelize.HeaderFooterOptions{OddHeader: s.Print.Header, OddFooter: s.Print.Footer}); err != nil {
			return err
		}
	}
	if s.Print.TitleRows == "" {
		return nil
	}
	first, last, ok := strings.Cut(s.Print.TitleRows, ":")
	if !ok {
		last = first
	}
	return f.SetDefinedName(&excelize.DefinedName{
		Name: "_xlnm.Print_Titles", Scope: s.Name,
		RefersTo: finding.QuoteSheet(s.Name) + "!$" + first + ":$" + last,
	})
}

func (s *NewSheet) ranges(f *excelize.File) error {
	for _, m := range s.merges {
		if err := f.MergeCell(s.Name, ref(m.Col1, m.Row1), ref(m.Col2, m.Row2)); err != nil {
			return err
		}
	}
	if s.filter != (Area{}) {
		return f.AutoFilter(s.Name, s.filter.String(), nil)
	}
	return nil
}

func (s *NewSheet) dropDowns(f *excelize.File) error {
	for _, l := range s.lists {
		dv := excelize.NewDataValidation(true)
		dv.Sqref = l.Area.String()
		switch {
		case l.From != "":
			dv.SetSqrefDropList(l.From)
		case len(l.Words) > 0:
			if err := dv.SetDropList(l.Words); err != nil {
				return fmt.Errorf("drop-down %s: %w", dv.Sqref, err)
			}
		}
		if l.Help != "" {
			dv.SetInput(l.Title, l.Help)
		}
		if l.From != "" || len(l.Words) > 0 {
			style := excelize.DataValidationErrorStyleWarning
			if l.Strict {
				style = excelize.DataValidationErrorStyleStop
			}
			dv.SetError(style, "Not in the list", "Choose one of the words of the list.")
			dv.ShowErrorMessage = true
		}
		dv.ShowInputMessage = l.Help != ""
		if err := f.AddDataValidation(s.Name, dv); err != nil {
			return err
		}
	}
	return nil
}

func (s *NewSheet) drawings(f *excelize.File) error {
	for _, n := range s.notes {
		if err := f.AddComment(s.Name, excelize.Comment{Author: "platebook", Cell: ref(n.Col, n.Row), Paragraph: []excelize.RichTextRun{{Text: n.Text}}}); err != nil {
			return err
		}
	}
	for _, p := range s.shapes {
		o := &excelize.Shape{Cell: ref(p.Col, p.Row), Type: p.Kind, Width: p.Width, Height: p.Height}
		o.Line = excelize.LineOptions{Fill: solid(p.Line), Width: 1}
		if p.Fill != "" {
			o.Fill = solid(p.Fill)
		}
		if p.Text != "" {
			o.Paragraph = []excelize.RichTextRun{{Text: p.Text, Font: &excelize.Font{Family: family, Size: 9, Color: ink}}}
		}
		if err := f.AddShape(s.Name, o); err != nil {
			return err
		}
	}
	for _, i := range s.images {
		scale := i.Scale
		if scale == 0 {
			scale = 1
		}
		pic := &excelize.Picture{Extension: ".png", File: i.PNG, Format: &excelize.GraphicOptions{AltText: i.Alt, ScaleX: scale, ScaleY: scale, Positioning: "oneCell"}}
		if err := f.AddPictureFromBytes(s.Name, ref(i.Col, i.Row), pic); err != nil {
			return err
		}
	}
	return nil
}
