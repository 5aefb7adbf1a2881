package templates

import (
	"embed"
	"strings"
)

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

// pageParts are the parts of the script in the order they run.
//
//go:embed page_*.js page.js
var pageParts embed.FS

// PageGuardJS runs before the page's script and shows the page without it when
// it cannot run.
func PageGuardJS() string { return string(part("page_guard.js")) }

// PageJS is the page's script: its parts, one idea each, in order.
func PageJS() string {
	var b strings.Builder
	b.WriteString("'use strict';\n")
	for _, name := range []string{
		"floor", "then", "filter", "statistics", "table", "read", "find", "card",
		"paint", "marks", "signs", "picked", "legend", "view",
	} {
		b.Write(part("page_" + name + ".js"))
	}
	b.Write(part("page.js"))
	return b.String()
}

func part(name string) []byte {
	text, err := pageParts.ReadFile(name)
	if err != nil {
		panic("templates: " + err.Error()) // a part that is not embedded
	}
	return text
}
