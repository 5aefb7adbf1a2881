package templates

import "embed"

// Fonts holds fonts/LiberationSans-Regular.ttf, -Bold.ttf and -Italic.ttf
// with their licence, the SIL Open Font License 1.1, in fonts/OFL.txt.
//
//go:embed fonts
var Fonts embed.FS
