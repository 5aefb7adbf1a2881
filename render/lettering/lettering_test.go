package lettering

import (
	"slices"
	"strings"
	"testing"
)

func shown(line string) string {
	var b strings.Builder
	for _, s := range Spans(line) {
		b.WriteString(s.Glyphs)
	}
	return b.String()
}

func meant(line string) string {
	var b strings.Builder
	for _, s := range Spans(line) {
		if s.Text != "" {
			b.WriteString(s.Text)
		} else {
			b.WriteString(s.Glyphs)
		}
	}
	return b.String()
}

// A name from right to left in a line from left to right, with a number after
// it, and the other way round. Source: the order by Unicode Standard Annex 9,
// worked by hand (rules P2, W7, N0, I1, L2, L4).
func TestOrder(t *testing.T) {
	for in, want := range map[string]string{
		"abc":                 "abc",
		"tank אבג 12.5, ok":   "tank 12.5 גבא, ok",
		"tank אב (גד) ה":      "tank ה (דג) בא",
		"tank אב (גד), ok":    "tank (דג) בא, ok",
		"to plate אב, 3 left": "to plate 3 ,בא left",
		"אב plate 3 גד":       "דג plate 3 בא",
		"אב (גד) ה":           "ה (דג) בא",
		"אב 12/5":             "12/5 בא",
		"אב (Bay 2)":          "(Bay 2) בא",
		"אב (Bay) גד":         "דג (Bay) בא",
		"tank אב (Bay 2) 3":   "tank בא (Bay 2) 3",
	} {
		if got := shown(in); got != want {
			t.Errorf("%q stands as %q, want %q", in, got, want)
		}
		if Width(in, 10, false) != Width(shown(in), 10, false) {
			t.Errorf("%q changes its width when it is put in order", in)
		}
	}
}

// A name within a sentence is read by itself: the number behind it belongs to
// the sentence, that within it to the name. Source: as TestOrder, with the
// implicit marks of 2.6 around the name.
func TestNamesStandApart(t *testing.T) {
	names := NamesOf([]string{"עיב-3", "עיב-31", "אבג 12", "tank", " דה "})
	for in, want := range map[string]string{
		"עיב-3: 3.30 mm, below 2.54 mm": "3-ביע: 3.30 mm, below 2.54 mm",
		"עיב-31 38%":                    "31-ביע 38%",
		"tank אבג 12 (10.00 m)":         "tank 12 גבא (10.00 m)",
		"דה/עיב-3":                      "הד/3-ביע",
		"אבג 12":                        "12 גבא", // alone, as ever
		"אבג 123":                       shown("אבג 123"),
		"tank 7":                        "tank 7",
	} {
		apart := names.Apart(in)
		if got := shown(apart); got != want {
			t.Errorf("%q stands as %q, want %q", in, got, want)
		}
		if got := meant(apart); strings.ContainsRune(got, left) || len(got) != len(in) {
			t.Errorf("%q is read back as %q", in, got)
		}
		if Width(apart, 10, false) != Width(in, 10, false) {
			t.Errorf("%q changes its width", in)
		}
	}
	if text, _ := Clean("a\u200Eb"); text != "ab" {
		t.Errorf("a person's mark stays: %+q", text)
	}
}

// Arabic letters take the shape their neighbours ask for; what they stand for
// stays. Source: shapes by the joining types of the Unicode Standard, section
// 9.2 (beh, reh and hah of “بحر”: initial, medial, final; alef and dal never
// join on; lam and alef are one sign).
func TestArabicJoins(t *testing.T) {
	for in, want := range map[string]string{
		"بحر":  "\uFEAE\uFEA4\uFE91", // reh final, hah medial, beh initial, from the left
		"دار":  "\uFEAD\uFE8D\uFEA9", // nothing joins
		"لا":   "\uFEFB",             // lam with alef
		"سلام": "\uFEE1\uFEFC\uFEB3", // meem alone, lam-alef final, seen initial
		"ب":    "\uFE8F",
	} {
		if got := shown(in); got != want {
			t.Errorf("%q is shown as %+q, want %+q", in, got, want)
		}
		if got := meant(in); got != in {
			t.Errorf("%q stands for %q", in, got)
		}
		for _, r := range want {
			if f, ok := From(r); !ok || f != Reserve {
				t.Errorf("no font has %+q", r)
			}
		}
	}
}

// A letter that no font has stands as its number, and as itself for a search.
func TestLettersWithoutAFont(t *testing.T) {
	in := "Öl वय 石 7 😀\u200d\tx\u0007y"
	text, lost := Clean(in)
	if want := "Öl [U+0935 U+092F] 石 7 [U+1F600] xy"; text != want {
		t.Errorf("%q becomes %q, want %q", in, text, want)
	}
	if want := []rune{'व', 'य', '😀'}; !slices.Equal(lost, want) {
		t.Errorf("lost %q, want %q", string(lost), string(want))
	}
	if got, want := meant(text), "Öl वय 石 7 😀 xy"; got != want {
		t.Errorf("it stands for %q, want %q", got, want)
	}
	if Width("व", 10, false) != Width("[U+0935]", 10, false) {
		t.Error("a letter without a font is not as wide as its number")
	}
	// What a person typed stays.
	if got := meant("part U+0041 of [U+004D]"); got != "part U+0041 of [U+004D]" {
		t.Errorf("typed numbers stand for %q", got)
	}
}

// Every letter in use in the alphabets that the fonts are there for has a
// drawing, in both weights.
func TestAlphabets(t *testing.T) {
	for name, letters := range map[string]string{
		"Latin":    "AZazÀÖØßàöøÿĀžƏǅșḤẞỹ",
		"Greek":    "ΑΩαωΆώ",
		"Cyrillic": "АЯаяЁёЇїҐґӘә",
		"Hebrew":   "אבגדהוזחטיךכלםמןנסעףפץצקרשת",
		"Arabic":   "ءآأؤإئابةتثجحخدذرزسشصضطظعغـفقكلمنهوىيپچژکگی٠١٢٣٤٥٦٧٨٩؟،",
		"Armenian": "ԱՖաֆ",
		"Georgian": "აჰ",
		"signs":    "≥≤√ΔσµμΣ∑°·×÷±−–—…“”„‘’‚«»€£¥№Ø⌀²³½¼¾‰→←↑↓•◆■□●○✓✗",
	} {
		for _, r := range letters {
			if _, ok := From(r); !ok {
				t.Errorf("%s: no font has %q", name, r)
			}
			if Advance(r, true) <= 0 || Advance(r, false) <= 0 {
				t.Errorf("%s: %q has no width", name, r)
			}
		}
		if text, lost := Clean(letters); len(lost) > 0 {
			t.Errorf("%s: %q", name, text)
		}
	}
}

func FuzzSpans(f *testing.F) {
	for _, s := range []string{"abc", "tank אבג 12.5, ok", "سلام (A) ١٢", "石 [U+0935", "\u200cب\u200dلا", "a\u0301\u05D0\u05B0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		text, _ := Clean(s)
		got := []rune(meant(text))
		want := []rune(text)
		// Nothing is lost or added: the same letters, numbers read as what they
		// stand for.
		count := func(all []rune) (n int) {
			for _, r := range all {
				if !formatting(r) && r != '[' && r != ']' && r != ' ' {
					n++
				}
			}
			return n
		}
		if !strings.Contains(text, "U+") && count(got) != count(want) {
			t.Errorf("%q stands for %q", text, string(got))
		}
	})
}

// Chinese, Japanese and Korean come from the font that has them, letter by
// letter as they read, and as wide as the whole em that they stand in.
func TestEasternLetters(t *testing.T) {
	in := "罐 7 東京タンク 서울"
	text, lost := Clean(in)
	if text != in || len(lost) > 0 {
		t.Errorf("%q becomes %q, lost %q", in, text, string(lost))
	}
	for _, r := range "罐東京タンク서울。、" {
		if f, ok := From(r); !ok || f != East {
			t.Errorf("%q comes from family %d, %v", r, f, ok)
		}
		if a := Advance(r, true); a != 1000 {
			t.Errorf("%q is %d wide", r, a)
		}
	}
	var families []Family
	for _, s := range Spans("T 東京 7") {
		families = append(families, s.Family)
	}
	if !slices.Equal(families, []Family{Main, East, Main}) {
		t.Errorf("families %v", families)
	}
}
