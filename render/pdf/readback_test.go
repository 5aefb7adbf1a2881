package pdf

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"platebook/render/lettering"
)

// The printed file is held against an independent reader of PDF.
func TestReadBack(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	all := reports(t)
	for _, name := range []string{"sample", "long", "wide", "example-si", "hostile"} {
		r := all[name]
		t.Run(name, func(t *testing.T) {
			file, info := writeForTest(t, r)
			path := filepath.Join(t.TempDir(), "r.pdf")
			if err := os.WriteFile(path, file, 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("pdftotext", "-raw", path, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
			if len(pages) != info.Pages {
				t.Errorf("%d pages read, %d written", len(pages), info.Pages)
			}
			for i, p := range pages {
				want := fmt.Sprintf("Page %d of %d", i+1, info.Pages)
				if !strings.Contains(p, want) {
					t.Errorf("page %d lacks %q", i+1, want)
				}
				for _, text := range []string{r.Running.Status, r.Running.Tank, r.Running.Hash} {
					if strings.Contains(squeeze(p), squeeze(text)) {
						continue
					}
					// The words of a line in two directions come in the order of either.
					for _, w := range strings.Fields(text) {
						if !strings.ContainsFunc(text, lettering.RightToLeft) || !strings.Contains(squeeze(p), w) {
							t.Errorf("page %d lacks %.40q", i+1, w)
						}
					}
				}
			}
			// A label's light outline is no second label.
			if n := strings.Count(string(out), "in-37"); (name == "sample" || name == "long") && n != 1 {
				t.Errorf("a label is found %d times", n)
			}
			all := squeeze(string(out))
			f := newFaces()
			lost := 0
			for _, text := range textOf(r, true) {
				clean := f.clean(text)
				if strings.Contains(all, squeeze(clean)) {
					continue
				}
				// Letters that no font has are read back as themselves, though their
				// numbers are printed.
				if strings.Contains(clean, "[U+") {
					clean = norm.NFC.String(text)
				}
				for _, w := range strings.Fields(clean) {
					w = strings.TrimFunc(w, func(r rune) bool {
						// A bracket at the edge of a name from right to left comes back on
						// either side of it.
						return unicode.Is(unicode.Cf, r) || strings.ContainsFunc(clean, lettering.RightToLeft) && strings.ContainsRune("()[],.;:", r)
					})
					// A word longer than a line comes back in parts.
					if len(w) > 40 {
						continue
					}
					// A number beside a name from right to left comes back on its other side.
					if strings.ContainsFunc(w, lettering.RightToLeft) {
						w = strings.TrimFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
					}
					if !strings.Contains(all, squeeze(w)) {
						if lost++; lost < 6 {
							t.Errorf("%q of %.60q is not read back", w, text)
						}
					}
				}
			}
			if qpdf, err := exec.LookPath("qpdf"); err == nil {
				if out, err := exec.Command(qpdf, "--check", path).CombinedOutput(); err != nil {
					t.Errorf("qpdf: %v\n%s", err, out)
				}
			}
		})
	}
}

var wordBox = regexp.MustCompile(`<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">`)

// Words of the printed file stay on their pages.
func TestWordsStayOnThePage(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	file, _ := writeForTest(t, sampleReport())
	path := filepath.Join(t.TempDir(), "r.pdf")
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-bbox", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	words := 0
	for i, page := range strings.Split(string(out), "<page ")[1:] {
		var w, h float64
		if _, err := fmt.Sscanf(page, `width="%f" height="%f"`, &w, &h); err != nil {
			t.Fatal(err)
		}
		for _, m := range wordBox.FindAllStringSubmatch(page, -1) {
			var b [4]float64
			for k := range b {
				b[k], _ = strconv.ParseFloat(m[k+1], 64)
			}
			if b[0] < 11*mm || b[2] > w-11*mm || b[1] < 3*mm || b[3] > h-3*mm {
				t.Errorf("page %d: a word at %v leaves the page of %v × %v", i+1, b, w, h)
			}
			words++
		}
	}
	if words < 5000 {
		t.Errorf("only %d words read", words)
	}
}
