// Package filename tells names that are one thing to one system and another to
// the next: a file to most, a device, a part of another file or another name
// to Windows.
//
// Source: Microsoft, “Naming Files, Paths, and Namespaces”: names of devices,
// also with an ending; letters that no name holds; blanks and full stops at
// the end of a name are dropped; a colon parts a file from a stream in it.
package filename

import "strings"

// Device says whether Windows takes a name for a device, with any ending.
func Device(name string) bool {
	base, _, _ := strings.Cut(name, ".")
	base = strings.ToUpper(strings.TrimRight(base, " "))
	switch base {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$", "CLOCK$":
		return true
	}
	if n := strings.TrimPrefix(strings.TrimPrefix(base, "COM"), "LPT"); n != base {
		return len([]rune(n)) == 1 && strings.ContainsAny(n, "0123456789¹²³")
	}
	return false
}

// Odd is why a name is no name of a file of its own on every system, to be read
// behind it; "" when it is one.
func Odd(name string) string {
	switch {
	case Control(name):
		return "holds a control character in its name"
	case strings.ContainsRune(name, ':'):
		return "holds a colon: that is a drive, an address or a part of another file"
	case Device(name):
		return "is a device to Windows, no file"
	case strings.TrimRight(name, ". ") != name:
		return "holds a blank or full stop at the end of a name, which Windows drops"
	}
	return ""
}

// Control says whether a name holds a control character.
func Control(name string) bool {
	return strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7F })
}

// Barred says whether a name holds a letter that no name on Windows holds, or
// more letters than any does.
func Barred(name string) bool {
	units := 0
	for _, r := range name {
		if units++; r > 0xFFFF {
			units++ // counted in UTF-16
		}
	}
	return units > 255 || strings.ContainsAny(name, `<>"|?*`)
}
