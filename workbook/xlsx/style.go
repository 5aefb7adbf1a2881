package xlsx

import "github.com/xuri/excelize/v2"

// Style is one of the palette a written cell may have. The palette is small on
// purpose: a workbook with few styles opens fast and looks like one hand.
type Style uint8

// The palette.
const (
	Normal    Style = iota
	Wrapped         // text over several lines, from the top
	Title           // large, bold
	Heading         // bold, over a group of rows
	Header          // header of a column: bold, filled, wrapped, border below
	HeaderKey       // header of a required column: dark
	HeaderOpt       // header of a seldom-used column: pale
	Muted           // grey: units, defaults, remarks of the program
	Input           // a cell a person fills in: border, unlocked
	InputText       // the same, formatted as text, so that 1-2 stays 1-2
	InputDate       // the same, yyyy-mm-dd
	InputWrap       // the same, wrapped
	Bold
	Good     // pass
	Bad      // fail, error
	Warn     // warning
	Link     // hyperlink
	DateISO  // yyyy-mm-dd
	TextOnly // formatted as text
	Whole    // 0
	Fixed1   // 0.0
	Fixed2   // 0.00
	Fixed3   // 0.000
	Fixed4   // 0.0000
	Precise  // 0.000000
	Percent1 // 45.0: a number that is in percent already
	Total    // bold with a border above
	PlainDate
	PercentShare // 0.45 shown as 45 %
	ClockTime    // 12:30
	Struck       // struck through
	Quiet        // grey on one line
	styleCount
)

// family is the face of the cells without a font of their own, too.
const family = "Calibri"

const (
	ink      = "1F2933"
	grey     = "6B7280"
	dark     = "1F3864"
	fillHead = "D9E2EC"
	fillPale = "EEF2F6"
	line     = "9AA5B1"
)

func solid(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

func borders(kind int, sides ...string) []excelize.Border {
	var b []excelize.Border
	for _, s := range sides {
		b = append(b, excelize.Border{Type: s, Color: line, Style: kind})
	}
	return b
}

// numbered keeps a little room at the right, so that a number does not touch
// the text of the next column.
func numbered(code string) *excelize.Style {
	return &excelize.Style{CustomNumFmt: &code, Alignment: &excelize.Alignment{Horizontal: "right", Indent: 1, Vertical: "top"}}
}

// looksOf is how a style of the palette looks.
func looksOf(s Style) *excelize.Style {
	top := &excelize.Alignment{Vertical: "top"}
	wrap := &excelize.Alignment{Vertical: "top", WrapText: true}
	open := &excelize.Protection{Locked: false}
	iso := "yyyy-mm-dd"
	header := func(fill, colour string) *excelize.Style {
		return &excelize.Style{Font: &excelize.Font{Bold: true, Color: colour}, Fill: solid(fill), Border: borders(1, "bottom"), Alignment: &excelize.Alignment{Vertical: "center", WrapText: true}}
	}
	input := func(format int, a *excelize.Alignment) *excelize.Style {
		return &excelize.Style{Border: borders(4, "left", "right", "top", "bottom"), Protection: open, NumFmt: format, Alignment: a}
	}
	mark := func(colour, fill string) *excelize.Style {
		return &excelize.Style{Font: &excelize.Font{Color: colour, Bold: true}, Fill: solid(fill), Alignment: top}
	}
	switch s {
	case Wrapped:
		return &excelize.Style{Alignment: wrap}
	case Title:
		return &excelize.Style{Font: &excelize.Font{Bold: true, Size: 16, Color: dark}}
	case Heading:
		return &excelize.Style{Font: &excelize.Font{Bold: true, Size: 12, Color: dark}, Border: borders(1, "bottom")}
	case Header:
		return header(fillHead, ink)
	case HeaderKey:
		return header(dark, "FFFFFF")
	case HeaderOpt:
		return header(fillPale, grey)
	case Muted:
		return &excelize.Style{Font: &excelize.Font{Color: grey}, Alignment: wrap}
	case Input:
		return input(0, top)
	case InputText:
		return input(49, &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1})
	case InputDate:
		st := input(0, &excelize.Alignment{Vertical: "top", Horizontal: "center"})
		st.CustomNumFmt = &iso
		return st
	case InputWrap:
		return input(49, &excelize.Alignment{Vertical: "top", Horizontal: "left", Indent: 1, WrapText: true})
	case Bold:
		return &excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: top}
	case Good:
		return mark("14532D", "DCF2E3")
	case Bad:
		return mark("7F1D1D", "FBE0DF")
	case Warn:
		return mark("713F12", "FBF0CF")
	case Link:
		return &excelize.Style{Font: &excelize.Font{Color: "0B57A4", Underline: "single"}, Alignment: top}
	case DateISO, PlainDate:
		return &excelize.Style{CustomNumFmt: &iso, Alignment: &excelize.Alignment{Horizontal: "left", Vertical: "top"}}
	case TextOnly:
		return &excelize.Style{NumFmt: 49, Alignment: top}
	case Whole:
		return numbered("0")
	case Fixed1, Percent1:
		return numbered("0.0")
	case Fixed2:
		return numbered("0.00")
	case Fixed3:
		return numbered("0.000")
	case Fixed4:
		return numbered("0.0000")
	case Precise:
		return numbered("0.000000")
	case PercentShare:
		return numbered("0.0%")
	case ClockTime:
		return numbered("hh:mm")
	case Quiet:
		return &excelize.Style{Font: &excelize.Font{Color: grey}, Alignment: top}
	case Struck:
		return &excelize.Style{Font: &excelize.Font{Strike: true}}
	case Total:
		return &excelize.Style{Font: &excelize.Font{Bold: true}, Border: borders(1, "top"), Alignment: top}
	}
	return &excelize.Style{Alignment: top}
}

// palette is the number of each style in a file, and of its twin for texts
// that begin like a formula: the twin has the text format, so that editing
// such a cell by hand does not make a program run it.
type palette struct{ plain, text [styleCount]int }

func newPalette(f *excelize.File) (*palette, error) {
	var p palette
	var err error
	for s := range styleCount {
		look := looksOf(s)
		if look.Font != nil {
			look.Font.Family = family
		}
		if p.plain[s], err = f.NewStyle(look); err != nil {
			return nil, err
		}
		look.NumFmt, look.CustomNumFmt = 49, nil
		if p.text[s], err = f.NewStyle(look); err != nil {
			return nil, err
		}
	}
	return &p, nil
}
