package hostile

import (
	"fmt"
	"strings"
)

// crowds are workbooks that hold one thing a great many times, most of them in
// one place, where what is held against each other grows with the square.
func crowds() []Case {
	of := func(name string, code int, says, row string) Case {
		return file("crowds", "2,000 "+name, code, says, func() []byte {
			var b strings.Builder
			for i := range 2000 {
				b.WriteString("append " + strings.ReplaceAll(row, "#", fmt.Sprint(i)) + "\n")
			}
			return Base(b.String())
		})
	}
	return []Case{
		of("indications in one place", 1, "R103", "Indications | I# | 2-2 | 700 | 500 | 40 | 30 | soil | MFL | 42 | | | pit | J. Roe | 2026-04-20"),
		of("deep indications in one place", 1, "R103", "Indications | I# | 2-2 | 700 | 500 | 40 | 30 | soil | MFL | 82 | | | pit | J. Roe | 2026-04-20"),
		of("deep indications side by side", 1, "R307", "Indications | I# | 2-2 | 700.# | 500 | 40 | 30 | soil | MFL | 82 | | | pit | J. Roe | 2026-04-20"),
		of("indications as large as their plate", 1, "R307", "Indications | I# | 2-2 | 1600 | 900 | 3200 | 1800 | soil | MFL | 82 | | | pit | J. Roe | 2026-04-20"),
		of("prove-ups of one indication", 0, "R103", "Prove-ups | U# | 1 | 2-2 | 703 | 498 | 3.74 | | 6.31 | soil | no | K. Lund | 2026-04-22 | UT-1"),
		of("readings in one place", 0, "R103", "Readings | 1-1 | 692 | 1275 | 6.31 | K. Lund | 2026-04-22 | UT-1"),
		of("plates of one place", 1, "R207", "Plates | P# | rectangular | 5 | 2 | 3200 | 1800"),
		of("plates of one row", 1, "R205", "Plates | P# | rectangular | 5 | 1# | 3200 | 1800"),
		of("tracks of one plate", 0, "R103", "Tracks | 2-2 | T# | 0 | 300 | 10 | 3190 | 35 | J. Roe | 2026-04-20"),
		of("patches in one place", 0, "R103", "Existing patches | P# | 5-3 | 1720 | 420 | 200 | 200 | 6.4 | 2014-06-20 | rounded rectangle"),
		of("planned repairs in one place", 0, "R505", "Planned repairs | Q# | patch | 3-1 | 1250 | 640 | 300 | 300 | 6.4 | 5 | planned"),
		of("welds of one seam", 0, "R602", "Welds | X# | 2-1/2-2 | | | vacuum box | 1700 | rejected | crack | D. Moss | 2026-04-24"),
		of("sumps in one place", 0, "R103", "Fixtures | F# | sump | 135 | 3300 | | | 500 | no"),
		of("bulges", 0, "R103", "Settlement | bulge | B# | 10 | | 2000 | 30"),
		of("points of the shell in one place", 1, "R101", "Settlement | shell | S# | 0.# | 1.2"),
		of("certificates of one person", 0, "", "Crew | J. Roe | Example Inspection Ltd | MFL | 2 | M-# | 2027-03-31"),
		of("answers to one finding", 0, "", "Answers | C101 | checked # | A. Day | 2026-05-01"),
		of("values of one criterion", 1, "", "Criteria | Prove-up threshold | 40 | % | 40"),
		of("clients", 1, "", "Tank | Client | Other #"),
	}
}
