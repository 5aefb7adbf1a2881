// Package validation is the record of what the program was held against:
// published examples, examples derived independently, and reference data. It
// has tests only, which call the program and write docs/validation.md.
package validation
