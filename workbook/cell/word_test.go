package cell

import (
	"slices"
	"testing"
)

var sides = []string{"product", "soil", "unknown"}

var sideAliases = map[string]string{"top": "product", "bottom": "soil", "soil side": "soil"}

func TestParseWord(t *testing.T) {
	for _, c := range []struct {
		raw     Raw
		state   State
		word    string
		rule    string
		message string
	}{
		{text("Soil"), Given, "soil", "", ""},
		{text(" soil  SIDE "), Given, "soil", "", ""},
		{text("Bottom"), Given, "soil", "", ""},
		{text("bottm"), Wrong, "", "C303", "“bottm”; soil?"},
		{text("T"), Wrong, "", "C303", "“T” is not in the list"},
		{text("sideways"), Wrong, "", "C303", "“sideways” is not in the list"},
		{text("n/a"), Left, "", "", ""},
		{text("TBC"), Wrong, "", "Q601", "is “TBC”"},
		{text(""), Empty, "", "", ""},
		{Raw{Type: Error, Text: "#REF!"}, Wrong, "", "C402", "is #REF!"},
	} {
		s, p := ParseWord(c.raw, sides, sideAliases)
		if s.State != c.state || s.Value != c.word || (p == nil) != (c.rule == "") || p != nil && (p.Rule != c.rule || p.Message != c.message) {
			t.Errorf("%q: %+v %+v", c.raw.Text, s, p)
		}
	}
	// A word of the list wins over its meaning elsewhere: Lining "none".
	if s, p := ParseWord(text("None"), []string{"none", "thin film"}, nil); p != nil || s != (Said{Given, "none"}) {
		t.Errorf("None: %+v %v", s, p)
	}
	if s, p := ParseWord(Raw{Type: Bool, Number: 1, Text: "TRUE"}, []string{"yes", "no"}, nil); p != nil || s.Value != "yes" {
		t.Errorf("TRUE: %+v %v", s, p)
	}
}

func TestParseLabel(t *testing.T) {
	for _, c := range []struct {
		raw  Raw
		want string
		rule string
	}{
		{text(" 3-04 A "), "3-04 A", ""},
		{Raw{Type: Number, Number: 12}, "12", ""},
		{Raw{Type: Number, Number: 3.1, Text: "3.1000000000000001"}, "3.1", ""},
		{text("=1+1"), "=1+1", ""},
		{Raw{Type: Number, Number: 46024, Format: Date}, "", "C201"},
	} {
		s, p := ParseLabel(c.raw, false)
		if s.Value != c.want || (p == nil) != (c.rule == "") || p != nil && p.Rule != c.rule {
			t.Errorf("%v: %+v %+v", c.raw, s, p)
		}
	}
	// The example of the rule: plate 1-2 became 2 January.
	if _, p := ParseLabel(Raw{Type: Number, Number: 46024, Format: Date}, false); p.Message != "02-Jan-2026 can be 1-2 or 2-1" {
		t.Errorf("message %q", p.Message)
	}
	list, state, p := ParseLabels(text("17; 18,19\n20"), false)
	if !slices.Equal(list, []string{"17", "18", "19", "20"}) || state != Given || p != nil {
		t.Errorf("labels %q %v %v", list, state, p)
	}
}
