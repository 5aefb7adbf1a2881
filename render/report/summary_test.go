package report_test

import (
	"fmt"
	"strings"
	"testing"

	"platebook/render/report"
)

// Where the proposed repairs do not reach what is required either, page one
// says so, not an interval of no years.
func TestProposalThatDoesNotHelp(t *testing.T) {
	sentences, _ := report.Condition(judged(t, "a.xlsx", `delete sheet Planned repairs
append Tank | First-course required thickness | 6 | mm
append Readings | 3-1 | 60 | 1750 | 2.80 | K. Lund | 2026-04-23 | UT-1
`))
	got := sentences[len(sentences)-1]
	if want := "With the repairs proposed here, too, metal is at or below the required 3.00 mm (critical zone)."; !strings.Contains(got, want) {
		t.Errorf("%q does not say %q", got, want)
	}
}

// A thin place without an indication is no clean floor.
func TestProveUpsThatStandAloneAreNoCleanFloor(t *testing.T) {
	edits := "delete sheet Planned repairs\ndelete sheet Photos\ndelete sheet Tracks\n"
	for row := 21; row >= 2; row-- { // the sheet keeps its head
		edits += fmt.Sprintf("delete row Indications!%d\n", row)
	}
	alone := edits + "Prove-ups(U1).Indication = \n"
	for row := 11; row >= 3; row-- {
		alone += fmt.Sprintf("delete row Prove-ups!%d\n", row)
	}
	for edits, clean := range map[string]bool{edits + "delete sheet Prove-ups\n": true, alone: false} {
		sentences, _ := report.Condition(judged(t, "a.xlsx", edits))
		if got := sentences[1]; strings.Contains(got, "clean floor") != clean || !clean && !strings.Contains(got, "only prove-ups that stand alone") {
			t.Errorf("%q", got)
		}
	}
}

// Rows that take nothing out are not “none”.
func TestRepairsThatTakeNothingOut(t *testing.T) {
	for edits, want := range map[string]string{
		"": "completed",
		"Planned repairs(R1).X = 3000\nPlanned repairs(R1).Y = 300\n": "1 row completed, taking out no place",
	} {
		got := ""
		for _, b := range section(report.Build(judged(t, "a.xlsx", edits), report.Options{}), "Summary") {
			if pairs, ok := b.(report.Pairs); ok {
				got += fmt.Sprintln(pairs.Rows)
			}
		}
		if !strings.Contains(got, want) {
			t.Errorf("%q does not say %q", got, want)
		}
	}
}

// The years that a zone is held against are those of the state of page one too.
func TestZonesAreHeldAgainstThePageOneInterval(t *testing.T) {
	for desired, want := range map[string]string{
		"": "meets it now and as found after 3.0 years; as completed after 4.0 years",
		"append Tank | Desired interval | 3 | years\n": "meets it now and after 3.0 years",
	} {
		got := ""
		for _, b := range section(report.Build(judged(t, "a.xlsx", noPhotos+desired), report.Options{}), "Summary") {
			if p, ok := b.(report.Pairs); ok && p.Rows[0][0] == "Critical zone" {
				got = p.Rows[0][1]
			}
		}
		if !strings.HasSuffix(got, want) {
			t.Errorf("%q does not end %q", got, want)
		}
	}
}
