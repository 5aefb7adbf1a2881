package xlsx

// Style is one of the palette a written cell may have. The palette is small on
// purpose: a workbook with few styles opens fast and looks like one hand.
type Style uint8

// The palette.
const (
	Normal    Style = iota
	Wrapped         // text over several lines, top
	Title           // large, bold
	Heading         // bold, over a group of rows
	Header          // header of a column: bold, fill, wrapped, border below
	HeaderKey       // header of a required column: the darker fill
	HeaderOpt       // header of a seldom-used column: the paler fill
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
	Percent1 // 0.0 of a number that is already in percent: no % sign format
	Total    // bold with a border above
	styles   // count
)
