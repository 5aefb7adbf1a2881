// Package workbook is the front door to a person's spreadsheet: it reads an
// inspection from it, writes a blank one, and writes a copy with results.
package workbook
