package html

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestPrint prints the page on each paper: everything that the plan needs is on
// the first sheet, whole, and what is selected on it or the next. LOOK
// names a folder for pictures.
func TestPrint(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("no pdftotext is installed (.ci/packages installs it)")
	}
	ctx := browser(t)
	_, whole := comparedPage(t)
	for n, v := range views {
		p := open(t, ctx, whole, "", append(v.emulate(), dark(v.dark))...)
		for k, paper := range []struct {
			name          string
			width, height float64 // inches
		}{{"A4 portrait", 8.27, 11.69}, {"A4 landscape", 11.69, 8.27}, {"Letter portrait", 8.5, 11}, {"Letter landscape", 11, 8.5}} {
			if paper.name != "A4 portrait" && (v.dark || v.phone && paper.name != "Letter landscape" && !allViews()) {
				continue
			}
			t.Run(v.name+", "+paper.name, func(t *testing.T) {
				for i, s := range []state{{"start", "showAll(); choosePlate(-1); showDates('now')"}, {"worst", "document.querySelector('[data-at] button').click()"}, {"beside", "showAll(); choosePlate(-1); showDates('beside')"}} {
					if i > 0 && (n+k+i)%2 == 1 && !allViews() {
						continue // each on some paper and screen
					}
					p.do(run(s.script))
					pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(func(q *page.PrintToPDFParams) { q.PaperWidth, q.PaperHeight = paper.width, paper.height }))
					if err != nil {
						t.Fatal(err)
					}
					dir := os.Getenv("LOOK")
					if dir == "" {
						dir = t.TempDir()
					}
					name := filepath.Join(dir, strings.ReplaceAll(fmt.Sprintf("print-%s-%s-%s.pdf", v.name, paper.name, s.name), " ", "_"))
					if err := os.WriteFile(name, pdf, 0o666); err != nil {
						t.Fatal(err)
					}
					out, err := exec.Command("pdftotext", "-layout", name, "-").Output()
					if err != nil {
						t.Fatal(err)
					}
					sheets := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
					most := 1
					if s.name == "worst" {
						most = 2
					}
					if len(sheets) > most {
						t.Errorf("%s: %d sheets, at most %d", s.name, len(sheets), most)
					}
					for _, part := range []string{"Tank T-7", "PRELIMINARY", "3.39 mm", "under 20 %", "of 200 indications shown", "SHA-256"} {
						if !strings.Contains(sheets[0], part) {
							t.Errorf("%s: the first sheet lacks %q", s.name, part)
						}
					}
					if s.name == "worst" && !strings.Contains(string(out), "Indication 107") {
						t.Errorf("what is selected is not printed")
					}
				}
				p.quiet()
			})
		}
	}
}
