package lettering

import (
	"bufio"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

// Levels and order are those of the lines of the Unicode Consortium's test
// that hold neither embeddings nor isolates.
// Source: BidiCharacterTest-15.0.0.txt, Unicode Character Database; every few
// hundredth of its lines stands in testdata/bidi.txt. The whole file can be
// named in PLATEBOOK_BIDI.
func TestLevels(t *testing.T) {
	name := "testdata/bidi.txt"
	if other := os.Getenv("PLATEBOOK_BIDI"); other != "" {
		name = other
	}
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	tried, bad := 0, 0
	scan := bufio.NewScanner(f)
	for scan.Scan() {
		fields := strings.Split(scan.Text(), ";")
		if strings.HasPrefix(scan.Text(), "#") || len(fields) != 5 {
			continue
		}
		var in []rune
		for _, h := range strings.Fields(fields[0]) {
			n, err := strconv.ParseUint(h, 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			in = append(in, []rune(norm.NFC.String(string(rune(n))))...) // as Clean leaves it
		}
		if fields[1] == "2" || !ours(in) {
			continue
		}
		tried++
		got := levelsIn(in, int(fields[1][0]-'0'))
		var order []string
		for _, s := range visual(got) {
			for i := s.from; i < s.to; i++ {
				k := i
				if s.level%2 == 1 {
					k = s.to - 1 - (i - s.from)
				}
				order = append(order, strconv.Itoa(k))
			}
		}
		want := strings.Fields(fields[3])
		if g := strings.Fields(strings.Trim(fmt.Sprint(got), "[]")); fmt.Sprint(g) != fmt.Sprint(want) || fmt.Sprint(order) != fmt.Sprint(strings.Fields(fields[4])) {
			if bad++; bad < 10 {
				t.Errorf("%s: levels %v, want %v; order %v, want %s", fields[0], g, want, order, fields[4])
			}
		}
	}
	if tried < 100 || bad > 0 {
		t.Errorf("%d of %d lines differ", bad, tried)
	}
}

// ours says whether Clean leaves all letters of a line: it takes embeddings,
// isolates and marks of direction out and makes tabs and breaks plain space.
func ours(in []rune) bool {
	for _, r := range in {
		p, _ := bidi.LookupRune(r)
		switch p.Class() {
		case bidi.B, bidi.S, bidi.LRO, bidi.RLO, bidi.LRE, bidi.RLE, bidi.PDF, bidi.LRI, bidi.RLI, bidi.FSI, bidi.PDI, bidi.BN:
			return false
		}
	}
	return true
}
