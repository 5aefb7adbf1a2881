package filename

import (
	"strings"
	"testing"
)

// Source of the names: Microsoft, “Naming Files, Paths, and Namespaces”.
func TestOdd(t *testing.T) {
	for name, want := range map[string]string{
		"CON": "device", "con": "device", "NUL": "device", "nul.txt": "device", "NUL.tar.gz": "device", "COM1.xlsx": "device", "Lpt9": "device", "aux .xlsx": "device", "PRN.results.xlsx": "device",
		"COM¹": "device", "lpt³.csv": "device", "COM0": "device", "CONIN$": "device", "conout$": "device",
		"tank.": "Windows drops", "tank ": "Windows drops", "tank. . ": "Windows drops", "...": "Windows drops",
		"tank.xlsx:stream": "colon", "C:tank.xlsx": "colon", "tank.xlsx::$DATA": "colon",
		"a\nb": "control", "a\x7f": "control", "\x00": "control",
	} {
		if why := Odd(name); !strings.Contains(why, want) {
			t.Errorf("%q: %q, want %q", name, why, want)
		}
	}
	for _, name := range []string{"tank.xlsx", "console.xlsx", "COM10", "COM", "LPTX", "aux1.xlsx", "null.xlsx", " tank.xlsx", ".tank", "tank..xlsx", "T-7 (2).results.xlsx", "Öltank 7.xlsx", "コン.xlsx", "auxiliary"} {
		if why := Odd(name); why != "" {
			t.Errorf("%q %s", name, why)
		}
	}
}

func TestBarred(t *testing.T) {
	for name, want := range map[string]bool{
		"tank.xlsx": false, "tank?.xlsx": true, "a<b": true, "a>b": true, `a"b`: true, "a|b": true, "a*b": true,
		strings.Repeat("x", 255): false, strings.Repeat("x", 256): true, strings.Repeat("😀", 128): true, strings.Repeat("ö", 255): false,
	} {
		if Barred(name) != want {
			t.Errorf("%.20q of %d bytes: %v", name, len(name), !want)
		}
	}
}
