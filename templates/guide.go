package templates

import _ "embed"

// Guide is the wording of the Guide sheet, line by line: "# heading",
// "1 | name | text", "- text", "[figure]" or a plain paragraph.
//
//go:embed guide.txt
var Guide string

// GuideFigure is the drawing of the Guide sheet, a PNG picture.
//
//go:embed guide.png
var GuideFigure []byte
