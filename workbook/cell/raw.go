// Package cell turns what a spreadsheet cell holds into a value: numbers with
// and without units, fractions, percents, dates, words and labels. It knows no
// file and no sheet, and it never guesses: what can be read in two ways comes
// back as a problem that shows both.
package cell

// Type says what a cell stores.
type Type uint8

// The types.
const (
	Blank Type = iota
	Number
	String
	Bool
	Error // #REF! and its kin
)

// Format is the class of a cell's number format.
type Format uint8

// The classes.
const (
	General Format = iota
	Decimal
	Percent
	Date // with or without a time
	Time // a time or a duration without a date
	Text
	Fraction
)

// Raw is one cell as stored, before anything is made of it.
type Raw struct {
	Type      Type
	Format    Format
	Number    float64 // of a Number; 1 or 0 of a Bool
	Text      string  // as stored: "6.35", "see photo", "TRUE", "#REF!"
	Formula   string  // without the equals sign, "" without a formula
	NoStored  bool    // a formula whose value the file does not store
	Since1904 bool    // the workbook's dates count from 1904
}

// IsBlank says whether the cell holds nothing but blanks.
func (r Raw) IsBlank() bool {
	return r.Type == Blank && !r.NoStored || r.Type == String && trim(r.Text) == ""
}

// State says what became of a cell. It has the meanings of inspection.State.
type State uint8

// The states.
const (
	Empty State = iota // nothing, or blanks
	Given              // a usable value
	Wrong              // something that is no value; a Problem says why
	Left               // a word such as n/a or nil that means "none"
)

// Problem is why a cell gives no value. Message speaks of the value alone;
// the caller puts the column's name before it.
type Problem struct {
	Rule     string   // C101, C103, C109, C201, C202, C203, C303, C401, C402, Q601
	Message  string   // “5.2/5.4” is not one number
	Readings []string // both readings of a value in doubt, or the one suggestion
}
