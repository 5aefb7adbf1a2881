package workbook

import (
	"slices"
	"testing"
)

func TestListsOfAnyKind(t *testing.T) {
	want := [][]string{{"1", "2-2", "é,x"}}
	for name, c := range map[string]struct {
		data  string
		comma rune
	}{
		"comma":              {"ID,Plate,R\n1,2-2,\"é,x\"\n", 0},
		"semicolon":          {"ID;Plate;R\r\n1;2-2;é,x\r\n", 0},
		"tab":                {"ID\tPlate\tR\n1\t2-2\té,x", 0},
		"bar":                {"ID|Plate|R\n1|2-2|é,x", 0},
		"mark":               {"\ufeffID;Plate;R\n1;2-2;é,x\n", 0},
		"windows-1252":       {"ID;Plate;R\n1;2-2;\xe9,x\n", 0},
		"utf-16 le":          {"\xff\xfeI\x00D\x00;\x00P\x00;\x00R\x00\n\x001\x00;\x002\x00-\x002\x00;\x00\xe9\x00,\x00x\x00", 0},
		"utf-16 be, no mark": {"\x00I\x00D\x00;\x00P\x00;\x00R\x00\n\x001\x00;\x002\x00-\x002\x00;\x00\xe9\x00,\x00x", 0},
		"sep line":           {"sep=;\nID;Plate;R\n1;2-2;é,x\n", 0},
		"said":               {"ID;Pl,a,te;R\n1;2-2;é,x\n", ';'},
	} {
		l, err := ReadList("a.csv", []byte(c.data), c.comma)
		if err != nil || !slices.EqualFunc(l.Rows, want, slices.Equal[[]string]) || len(l.Header) != 3 || l.Header[0] != "ID" {
			t.Errorf("%s: %v, %+v", name, err, l)
		}
	}
}

func TestQuotesWithinTexts(t *testing.T) {
	l, err := ReadList("a.csv", []byte("ID,Pipe (\"),R\n1,5\" old,a\n2,\"a,\"\"b\"\"\",c\n3,\"a\"b,c\n4,d,e\n"), 0)
	if err != nil {
		t.Fatal(err)
	}
	want := [][]string{{"1", `5" old`, "a"}, {"2", `a,"b"`, "c"}, {"4", "d", "e"}}
	if l.Header[1] != `Pipe (")` || !slices.EqualFunc(l.Rows, want, slices.Equal[[]string]) || len(l.Broken) != 1 || l.Broken[0].Line != 4 {
		t.Errorf("%+v", l)
	}
}

func TestBrokenLinesNeverStopTheRest(t *testing.T) {
	l, err := ReadList("a.csv", []byte("ID,R\n1,\"a\" b\n2,c\n\n'=3,d\n4,\"open"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Rows) != 2 || l.Rows[1][0] != "=3" || !slices.Equal(l.Lines, []int{3, 5}) {
		t.Errorf("rows %q at %v", l.Rows, l.Lines)
	}
	if len(l.Broken) != 2 || l.Broken[0].Line != 2 || l.Broken[1].Line != 6 {
		t.Errorf("broken %+v", l.Broken)
	}
	for _, data := range []string{"", "\n\n", "a\x00b"} {
		if _, err := ReadList("a.csv", []byte(data), 0); err == nil {
			t.Errorf("%q is no list", data)
		}
	}
}

// A number that can be two is one when the list's decimal sign was told; any
// other is left as it stands.
func TestNumbersOfAToldDecimalSign(t *testing.T) {
	for _, c := range []struct{ text, comma, point string }{
		{"9,525", "9.525", "9525"},
		{"1.250", "1250", "1.250"},
		{"-1.250.000,5 mm", "-1250000.5 mm", "-1.250.000,5 mm"},
		{"1,250.5", "1,250.5", "1250.5"},
		{"6,47", "6.47", "6,47"},
		{"6.47", "6.47", "6.47"},
		{"1,2,3", "1,2,3", "1,2,3"},
		{`3'-6"`, `3'-6"`, `3'-6"`},
	} {
		if comma, point := withPoint(c.text, ".", ","), withPoint(c.text, ",", "."); comma != c.comma || point != c.point {
			t.Errorf("%q: %q with a decimal comma, %q with a point; want %q, %q", c.text, comma, point, c.comma, c.point)
		}
	}
}
