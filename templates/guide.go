package templates

import _ "embed"

// Guide is the wording of the Guide sheet, line by line: "# heading",
// "1 | name | text", "- text", "[figure]" or a plain paragraph.
//
//go:embed guide.txt
var Guide string
