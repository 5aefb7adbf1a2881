package inspection

import "strings"

// Carried says whether a spreadsheet program that opens a list could take a
// text for a formula and carry it out: it begins, behind blanks and marks that
// are not seen, with a sign that begins one, or with a tab or the end of a
// line, behind which the rest may be taken for a cell of its own.
//
// Source: common practice for lists (the OWASP page on CSV injection); the
// wide signs are those of the same programs in East Asian editions.
func Carried(text string) bool {
	if text != "" && strings.ContainsRune("\t\r\n", rune(text[0])) {
		return true
	}
	seen := strings.TrimLeft(text, " \t\r\n\u00a0\u200b\u200c\u200d\u2060\ufeff")
	for _, r := range seen {
		return strings.ContainsRune("=+-@＝＋－＠", r)
	}
	return false
}
