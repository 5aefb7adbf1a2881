package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"platebook/render/report"
)

var update = flag.Bool("update", false, "write the golden files anew")

// A golden file holds the text of each page, line by line, and the hash of the
// file's bytes.
func TestGolden(t *testing.T) {
	r := sampleReport()
	r.Sections = []report.Section{r.Sections[0], r.Sections[3], r.Sections[4]}
	file, _ := writeForTest(t, r)
	d, _ := layOutForTest(t, r)
	var b strings.Builder
	for i, s := range d.sheets {
		fmt.Fprintf(&b, "page %d, %.1f × %.1f mm\n", i+1, s.w, s.h)
		runs := slices.Clone(s.runs)
		slices.SortStableFunc(runs, func(a, c run) int {
			if a.y != c.y {
				if a.y < c.y {
					return -1
				}
				return 1
			}
			return int((a.x - c.x) * 1000)
		})
		for k, run := range runs {
			switch {
			case k == 0:
				b.WriteString("\t")
			case run.y != runs[k-1].y:
				b.WriteString("\n\t")
			default:
				b.WriteString(" | ")
			}
			b.WriteString(run.text)
		}
		b.WriteString("\n")
	}
	sum := sha256.Sum256(file)
	fmt.Fprintf(&b, "bytes %s\n", hex.EncodeToString(sum[:]))
	name := filepath.Join("testdata", "sample.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the sample differs from %s; look at it, then run with -update\n%s", name, firstDifference(b.String(), string(want)))
	}
}

func firstDifference(got, want string) string {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			return fmt.Sprintf("line %d\n got %s\nwant %s", i+1, g[i], w[i])
		}
	}
	return "one is longer"
}

func TestSameBytesAtAnyTime(t *testing.T) {
	first, _ := writeForTest(t, sampleReport())
	local := time.Local
	time.Local = time.FixedZone("east", 9*3600)
	defer func() { time.Local = local }()
	time.Sleep(1100 * time.Millisecond)
	second, _ := writeForTest(t, sampleReport())
	if !bytes.Equal(first, second) {
		t.Error("the same report gave other bytes")
	}
	undated := sampleReport()
	undated.Running.Date = ""
	if file, _ := writeForTest(t, undated); bytes.Contains(file, []byte("Date ")) {
		t.Error("a report without a date was dated")
	}
}
