package workbook_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// A floor of which nothing was examined is told once, not plate by plate; a few
// plates are told each at its own row.
func TestUnexaminedPlatesAreToldOnce(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	const blank = "Plates(%s).MFL scanned %% = \nPlates(%s).Hand scanned %% = \nPlates(%s).UT gridded %% = \nPlates(%s).Not examined %% = 100\nPlates(%s).Reason not examined = not cleaned"
	var all []string
	for _, p := range []string{"1-1", "1-2", "2-1", "2-2", "2-3", "3-1", "3-2", "4-1", "4-2", "5-1", "5-2", "5-3", "6-1", "6-2"} {
		all = append(all, strings.Split(strings.ReplaceAll(fmt.Sprintf(blank, p, p, p, p, p), "%%", "%"), "\n")...)
	}
	nothing := []string{"delete sheet Readings", "delete sheet Prove-ups", "delete sheet Tracks", "delete sheet Photos", "delete sheet Planned repairs"}
	for range 20 {
		nothing = append(nothing, "delete row Indications!2")
	}
	for name, c := range map[string]struct {
		edits []string
		want  []string
	}{
		"all": {append(nothing, all...), []string{"none of the 14 plates examined: no value"}},
		"two": {append([]string{
			"delete sheet Readings", "delete sheet Tracks", "delete sheet Photos",
		}, all[:10]...), []string{"1-1 not examined at all: no value", "1-2 not examined at all: no value"}},
	} {
		a, _ := assessText(t, string(clean), c.edits, nil)
		var got []string
		for _, f := range a.Findings {
			if f.Rule == "K104" && strings.Contains(f.Message, "examined") {
				got = append(got, f.Message)
			}
		}
		if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// A ring that would have to be thicker than it was new is said to be so.
func TestARingTooThinWhenNewIsTold(t *testing.T) {
	clean, err := os.ReadFile("../testdata/clean-si.txt")
	if err != nil {
		t.Fatal(err)
	}
	for nominal, want := range map[string]bool{"4": true, "8": false} {
		a, _ := assessText(t, string(clean), []string{
			"Tank(Annular ring).Value = yes", "append Tank | Annular nominal thickness | " + nominal + " | mm",
			"append Tank | Annular width inside the shell | 500 | mm",
			"append Plates | A1 | annular | | | 15707 | 500 | | | 100 | 0 | 0 | 0 | | 300 | J. Roe | 2026-04-20 | MFL-1 | 0 | 180",
			"append Plates | A2 | annular | | | 15707 | 500 | | | 100 | 0 | 0 | 0 | | 300 | J. Roe | 2026-04-20 | MFL-1 | 180 | 360",
			"Plates!R1 = Start bearing", "Plates!S1 = End bearing",
		}, nil)
		got := false
		for _, f := range a.Findings {
			got = got || f.Rule == "K103" && strings.Contains(f.Message, "annular ring: required 4.32 mm, more than its nominal 4.00 mm")
		}
		if got != want {
			t.Errorf("nominal %s: told %v%s", nominal, got, describe(a, 0))
		}
	}
}
