package cell

import (
	"math"
	"strings"
	"testing"

	"platebook/rules/unit"
)

func text(s string) Raw { return Raw{Type: String, Text: s} }

// Factors: 1 in = 25.4 mm, 1 ft = 304.8 mm, 1 psi = 0.006894757293168361 MPa
// exactly (NIST SP 811, 2008, Appendix B).
func TestParseNumber(t *testing.T) {
	mm := Want{Kind: unit.Thickness, Scale: 1}
	in := Want{Kind: unit.Thickness, Scale: 25.4}
	m := Want{Kind: unit.Height, Scale: 1000}
	commas := Want{Kind: unit.Thickness, Scale: 1, Commas: true}
	pct := Want{Kind: unit.Share, Scale: 1}
	none := Want{Kind: unit.None, Scale: 1}
	for _, c := range []struct {
		raw   Raw
		want  Want
		value float64
		own   string
		rule  string
		shown string // readings
	}{
		{Raw{Type: Number, Number: 6.35}, mm, 6.35, "", "", ""},
		{Raw{Type: Number, Number: 0.25}, in, 6.35, "", "", ""},
		{Raw{Type: Number, Number: 30}, m, 30000, "", "", ""},
		{Raw{Type: Number, Number: 0.25, Format: Fraction}, in, 6.35, "", "", ""},
		{Raw{Type: Number, Number: 0.45, Format: Percent}, pct, 45, "", "", ""},
		{Raw{Type: Number, Number: 0.85, Format: Percent}, none, 0.85, "", "", ""},
		{Raw{Type: Number, Number: 0.45, Format: Percent}, mm, 0, "", "C101", ""},
		{Raw{Type: Number, Number: 46026, Format: Date}, mm, 0, "", "C109", "1/4,4/1"},
		{Raw{Type: Number, Number: 44564, Format: Date, Since1904: true}, mm, 0, "", "C109", "1/4,4/1"},
		{Raw{Type: Number, Number: 11749, Format: Date}, in, 0, "", "C109", "3/32,3/1,1/3"},
		{Raw{Type: Number, Number: 0.5, Format: Time}, mm, 0, "", "C109", "12:00"},
		{Raw{Type: Bool, Number: 1, Text: "TRUE"}, mm, 0, "", "C101", ""},
		{Raw{Type: Error, Text: "#REF!"}, mm, 0, "", "C402", ""},
		{Raw{NoStored: true, Formula: "B4*25.4"}, mm, 0, "", "C401", ""},
		{text("6.35"), mm, 6.35, "", "", ""},
		{text("6,35"), mm, 6.35, "", "", ""},
		{text("0,250"), mm, 0.25, "", "", ""},
		{text("1,250"), mm, 0, "", "C103", "1.25,1250"},
		{text("-1,250"), mm, 0, "", "C103", "-1.25,-1250"},
		{text("1,250 mm"), mm, 0, "", "C103", "1.25,1250"},
		{text("1.250"), mm, 1.25, "", "", ""},
		{text("1.250"), commas, 0, "", "C103", "1.25,1250"},
		{text("0.250"), commas, 0.25, "", "", ""},
		{text("1250,125"), mm, 1250.125, "", "", ""},
		{text("1,250,000"), mm, 1250000, "", "", ""},
		{text("1,250.5"), mm, 1250.5, "", "", ""},
		{text("1.250,5"), mm, 1250.5, "", "", ""},
		{text("1\u00a0250,5"), mm, 1250.5, "", "", ""},
		{text("1 250"), mm, 0, "", "C101", ""},
		{text("1,25.5"), mm, 0, "", "C101", ""},
		{text("1.2.3"), mm, 0, "", "C101", ""},
		{text("−0.5"), mm, -0.5, "", "", ""},
		{text("6.35E+00"), mm, 6.35, "", "", ""},
		{text("6.35 mm"), mm, 6.35, "mm", "", ""},
		{text("6.35mm"), in, 6.35, "mm", "", ""},
		{text("0.25 in"), mm, 6.35, "in", "", ""},
		{text("250 mil"), mm, 6.35, "mil", "", ""},
		{text("320 µm"), mm, 0.32, "µm", "", ""},
		{text("320 μm"), mm, 0.32, "µm", "", ""}, // Greek mu
		{text(`1/4"`), mm, 6.35, "in", "", ""},
		{text(`¼"`), mm, 6.35, "in", "", ""},
		{text("¼"), in, 6.35, "", "", ""},
		{text("1 1/4 in"), mm, 31.75, "in", "", ""},
		{text(`1-1/4"`), mm, 31.75, "in", "", ""},
		{text("1¼”"), mm, 31.75, "in", "", ""},
		{text("5/16"), in, 7.9375, "", "", ""},
		{text("5/8"), mm, 0, "", "C101", ""},
		{text("9/8"), in, 0, "", "C101", ""},
		{text("3'-6\""), m, 1066.8, "in", "", ""},
		{text("3' 6 1/2\""), mm, 1079.5, "in", "", ""},
		{text("3 ft 6 in"), mm, 1066.8, "in", "", ""},
		{text("-3'-6\""), mm, -1066.8, "in", "", ""},
		{text("98.4 ft"), m, 29992.32, "ft", "", ""},
		{text("3'-13\""), mm, 0, "", "C101", ""},
		{text("45 %"), pct, 45, "", "", ""},
		{text("0.45%"), pct, 0.45, "", "", ""},
		{text("85 %"), none, 0.85, "%", "", ""},
		{text("45 %"), mm, 0, "", "C101", ""},
		{text("20 ksi"), Want{Kind: unit.StressKind, Scale: 1}, 137.89514586336722, "ksi", "", ""},
		{text("90°"), Want{Kind: unit.Bearing, Scale: 1}, 90, "°", "", ""},
		{text("5.2/5.4"), mm, 0, "", "C101", ""},
		{text("<3"), mm, 0, "", "C101", ""},
		{text("~4"), mm, 0, "", "C101", ""},
		{text("5.2 5.4"), mm, 0, "", "C101", ""},
		{text("1-\n1/4"), in, 0, "", "C101", ""},
		{text("5\n1/4"), in, 0, "", "C101", ""},
		{text("3'\n6\""), mm, 0, "", "C101", ""},
		{text("6.35\nmm"), mm, 6.35, "mm", "", ""},
		{text("5.2-5.4"), mm, 0, "", "C101", ""},
		{text("see photo"), mm, 0, "", "C101", ""},
		{text("6.35 kg"), mm, 0, "", "C101", ""},
		{text("6.35 mm x"), mm, 0, "", "C101", ""},
		{text("NaN"), mm, 0, "", "C101", ""},
		{text("1e999"), mm, 0, "", "C101", ""},
		{text("0x10"), mm, 0, "", "C101", ""},
		{text("TBC"), mm, 0, "", "Q601", ""},
		{text("xxx"), mm, 0, "", "Q601", ""},
		{text("???"), mm, 0, "", "Q601", ""},
	} {
		q, p := ParseNumber(c.raw, c.want)
		name := c.raw.Text
		if c.rule != "" {
			if p == nil || p.Rule != c.rule || q.State != Wrong {
				t.Errorf("%q %v: got %+v %+v, want %s", name, c.raw, q, p, c.rule)
			} else if c.shown != "" && strings.Join(p.Readings, ",") != c.shown {
				t.Errorf("%q: readings %q, want %q", name, p.Readings, c.shown)
			}
			continue
		}
		if p != nil || q.State != Given || math.Abs(q.Value-c.value) > 1e-9*math.Abs(c.value) || q.Own != c.own {
			t.Errorf("%q: got %+v %+v, want %v %s", name, q, p, c.value, c.own)
		}
	}
}

func TestParseNumberWords(t *testing.T) {
	for s, state := range map[string]State{"": Empty, "  ": Empty, "\u00a0": Empty, "-": Left, "—": Left, "n/a": Left, "NIL": Left, "none": Left} {
		if q, p := ParseNumber(text(s), Want{}); p != nil || q.State != state {
			t.Errorf("%q: %v %v, want %v", s, q.State, p, state)
		}
	}
}

func TestPercentScales(t *testing.T) {
	w := Want{Kind: unit.Share, Scale: 1}
	for _, c := range []struct {
		raw   Raw
		scale PercentScale
	}{
		{Raw{Type: Number, Number: 45}, Plain},
		{Raw{Type: Number, Number: 0.45, Format: Percent}, Formatted},
		{text("45%"), Signed},
		{text("45"), Plain},
	} {
		if q, p := ParseNumber(c.raw, w); p != nil || q.Value != 45 || q.Scaled != c.scale {
			t.Errorf("%+v: %+v %v", c.raw, q, p)
		}
	}
}

func TestUsesDecimalComma(t *testing.T) {
	for s, want := range map[string]bool{"6,35": true, "6,35 mm": true, "1,250": false, "6.35": false, "1.250,5": true, "17, 18": false, "x": false, "": false} {
		if got := UsesDecimalComma(s); got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
}
