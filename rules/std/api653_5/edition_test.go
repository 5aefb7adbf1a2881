package api653_5

import (
	"slices"
	"testing"
)

// Labels as the public extracts have them: the 3rd edition's tables were
// numbered otherwise; a later addendum moved bottom repairs.
func TestLabelsByEdition(t *testing.T) {
	for label, want := range map[string][]string{
		"Table 4.4": {"3rd edition: Table 6-1"},
		"Table 4.5": {"3rd edition: Table 4-4"},
		"6.4.2":     {"3rd edition: 6.4"},
		"9.10":      {"5th edition with later addenda: 9.11"},
		"4.4.5.1":   nil,
		"":          nil,
	} {
		if got := Labels(label); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", label, got, want)
		}
	}
	seen := map[string]Subject{}
	for _, s := range Subjects {
		label := Clause(s)
		if label == "" {
			t.Errorf("%s has no label in the edition in force", s)
		}
		if o := seen[label]; o != "" {
			t.Errorf("%s and %s share %s", s, o, label)
		}
		seen[label] = s
	}
	if len(Subjects) != len(Editions[0].Labels) {
		t.Errorf("%d subjects, %d labels", len(Subjects), len(Editions[0].Labels))
	}
	for _, e := range Editions[1:] {
		for s := range e.Labels {
			if Clause(s) == "" {
				t.Errorf("%s names %s, which the edition in force does not", e.Name, s)
			}
		}
	}
}

// Derived from the labels above: later addenda have bottom repairs at 9.11, the
// 3rd edition had intervals at 6.4, which holds 6.4.2.
func TestClausesOfOtherEditions(t *testing.T) {
	for cited, want := range map[string]bool{"9.11": true, "9.11.1": true, "9.11.1.2": true, "9.10.1.1": false, "9.1": false, "9.110": false, "6.4": false, "6.4.2": false, "6.4.3": false, "4.4.5.1": false} {
		if got := Elsewhere(cited); got != want {
			t.Errorf("%s: %v", cited, got)
		}
	}
}
