package templates

import _ "embed"

// PageHTML is the frame of the offline floor page.
//
//go:embed page.html
var PageHTML string

// PageCSS is its style.
//
//go:embed page.css
var PageCSS string

// PageWords is every word that the frame and the script show, by key, as JSON.
//
//go:embed page.words.json
var PageWords []byte

var (
	//go:embed page_floor.js
	pageFloor string
	//go:embed page_filter.js
	pageFilter string
	//go:embed page_table.js
	pageTable string
	//go:embed page_read.js
	pageRead string
	//go:embed page_paint.js
	pagePaint string
	//go:embed page_view.js
	pageView string
	//go:embed page.js
	pageStart string
)

// PageJS is the page's script: its parts, one idea each, in order.
func PageJS() string {
	return "'use strict';\n" + pageFloor + pageFilter + pageTable + pageRead + pagePaint + pageView + pageStart
}
