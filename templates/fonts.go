package templates

import "embed"

// Fonts holds fonts/LiberationSans-Regular.ttf, -Bold.ttf and -Italic.ttf
// with their licence, the SIL Open Font License 1.1, in fonts/OFL.txt, and
// fonts/DroidSansFallback.ttf with Chinese, Japanese and Korean letters, under
// the Apache License 2.0, in fonts/Apache-2.0.txt.
//
//go:embed fonts
var Fonts embed.FS
