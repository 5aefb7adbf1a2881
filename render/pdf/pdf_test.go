package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"platebook/render/draw"
	"platebook/render/report"
	"platebook/rules/step"
	"platebook/rules/unit"
)

var update = flag.Bool("update", false, "write the golden files anew")

func layOutForTest(t *testing.T, r *report.Report) (document, *faces) {
	t.Helper()
	f, err := loadFaces()
	if err != nil {
		t.Fatal(err)
	}
	return layOut(r, f), f
}

func writeForTest(t testing.TB, r *report.Report) ([]byte, Info) {
	t.Helper()
	var b bytes.Buffer
	info, err := Write(&b, r)
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), info
}

// textOf is the words of every block, in no order: what must be found in the
// print. Labels of drawings are operators beneath the text, read back only
// from the file.
func textOf(r *report.Report, labels bool) []string {
	var out []string
	add := func(all ...string) { out = append(out, all...) }
	c := r.Cover
	add(c.Firm, c.FirmAddress, c.FirmNumber, c.Heading, c.Status, c.Note)
	for _, l := range c.Lines {
		add(l[0], l[1])
	}
	signatures := func(all []report.Signature) {
		for _, s := range all {
			add(s.Role, s.Name, s.Number, s.Date)
		}
	}
	scene := func(s *draw.Scene) {
		if s == nil || !labels {
			return
		}
		for _, it := range s.Items {
			if l, ok := it.(draw.Label); ok {
				add(l.Text)
			}
		}
	}
	signatures(c.Signatures)
	for _, s := range r.Sections {
		add(s.Name)
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case report.Heading:
				add(b.Text)
			case report.Paragraph:
				add(b.Text)
			case report.List:
				add(b.Items...)
			case report.Pairs:
				for _, p := range b.Rows {
					add(p[0], p[1])
				}
			case report.Caution:
				add(b.Title, b.Text)
			case report.Table:
				add(b.Caption, b.Note)
				for _, c := range b.Columns {
					add(strings.Split(c.Head, "\n")...)
				}
				for _, row := range b.Rows {
					add(row.Cells...)
				}
			case report.Steps:
				for _, s := range b.Steps {
					add(capital(s.Title), s.Symbol, s.Symbols(r.Units), s.Result(r.Units), s.Verdict(r.Units), s.Clause, s.Source, s.Branch)
					if s.Numbers(r.Units) != s.Symbols(r.Units) {
						add(s.Numbers(r.Units))
					}
					add(s.Verify...)
					for _, in := range s.Inputs {
						add(in.Symbol, in.Title, sourceText(in.From))
						if in.Known && in.Values == nil {
							add(step.Show(in.Kind, r.Units, in.Value))
						}
					}
				}
			case report.Figure:
				add(b.Caption)
				scene(b.Scene)
			case report.Photos:
				for _, p := range b.Photos {
					add("Photo "+strconv.Itoa(p.Number), p.Caption, p.Place, p.File, p.Missing)
					scene(p.Map)
				}
			case report.Signatures:
				signatures(b.Lines)
			default:
				panic(fmt.Sprintf("%T", b))
			}
		}
	}
	return out
}

// squeeze takes out all space, which a line break may change.
func squeeze(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}

// printed is the text of all runs in the order they were set, then column by
// column: runs that begin at one x read downwards.
func printed(sheets []*sheet) string {
	var b strings.Builder
	columns := map[int]*strings.Builder{}
	for _, s := range sheets {
		for _, r := range s.runs {
			b.WriteString(r.text)
			x := int(r.x * 100)
			if columns[x] == nil {
				columns[x] = &strings.Builder{}
			}
			columns[x].WriteString(r.text)
		}
	}
	for _, x := range slices.Sorted(maps.Keys(columns)) {
		b.WriteString("\n" + columns[x].String())
	}
	return squeeze(b.String())
}

// Every text of a block is among the runs of the layout, whole: runs of one
// text are set one after the other, so that its lines, put together, give it
// back. Continued parts (cells taller than a page, cautions) are looked for
// word by word.
func TestNothingIsLost(t *testing.T) {
	for name, r := range shapes() {
		t.Run(name, func(t *testing.T) {
			d, f := layOutForTest(t, r)
			runs := map[string]int{}
			for _, s := range d.sheets {
				for _, run := range s.runs {
					for _, w := range strings.Fields(run.text) {
						runs[w]++
					}
				}
			}
			all := printed(d.sheets)
			lost := 0
			for _, text := range textOf(r, false) {
				clean := f.clean(text)
				if strings.Contains(all, squeeze(clean)) || strings.ContainsFunc(clean, rightToLeft) {
					continue
				}
				for _, w := range strings.Fields(clean) {
					if runs[w] == 0 && !strings.Contains(all, squeeze(w)) {
						lost++
						if lost < 5 {
							t.Errorf("%.60q of %.60q is not printed", w, text)
						}
					}
				}
			}
		})
	}
}

// Each of many thousand numbered words is printed once, whatever block it
// stands in and however often that goes on over a page. Only a row's label is
// repeated where the row goes on.
func TestEachWordIsPrintedOnce(t *testing.T) {
	next := 0
	words := func(n int) string {
		var b strings.Builder
		for range n {
			fmt.Fprintf(&b, "w%05d ", next)
			next++
		}
		return b.String()
	}
	scene := sampleScene("map", 60, 60, 1)
	r := &report.Report{
		Running: report.Running{Tank: "T", Status: "DRAFT"},
		Cover: report.Cover{
			Firm: words(40), FirmAddress: words(90), Heading: words(30), Status: words(60), Note: words(400),
			Lines:      [][2]string{{words(40), words(3000)}, {words(20), words(1)}},
			Signatures: []report.Signature{{Role: words(20), Name: words(30), Number: words(5), Date: words(3)}, {Role: words(60)}},
		},
		Sections: []report.Section{{Number: 1, Blocks: []report.Block{
			report.Heading{Level: 3, Text: words(70)},
			report.Paragraph{Text: words(3000)}, report.Paragraph{Text: words(3000), Small: true},
			report.List{Items: []string{words(2000), words(1)}},
			report.Caution{Title: words(50), Text: words(2500)},
			report.Pairs{Rows: [][2]string{{words(100), words(2500)}}},
			report.Table{
				Caption: "c", Columns: []report.Column{{Head: "a"}, {Head: "b", Align: report.Right}, {Head: "c", Align: report.Middle}},
				Rows: []report.Row{
					{Cells: []string{"row 1", words(1500), words(10)}}, {Group: true, Cells: []string{words(40)}}, {Cells: []string{words(700), words(2), words(2100)}, Bold: true},
					{Cells: []string{"row 3", words(2), words(3), words(900)}}, {Group: true, Cells: []string{words(30), words(30)}},
				}, Note: words(1200),
			},
			report.Table{Dense: true, Columns: []report.Column{{Head: "a"}, {Head: "b"}}, Rows: []report.Row{{Cells: []string{"row", words(5000)}}}},
			report.Heading{Level: 2, Text: "h"},
			report.Figure{Scene: scene, Caption: words(200)}, report.Heading{Level: 3, Text: words(5)},
			report.Figure{Scene: sampleScene("map", 200, 100, 1), Caption: words(200), Sheet: true},
			report.Photos{Photos: []report.Photo{
				{Number: 1, Caption: words(1500), Place: words(50), File: words(2), Missing: words(800)}, {Number: 2, Caption: words(10), Map: scene, Missing: words(30)}, {Number: 3, Caption: words(3)},
			}},
			report.Steps{Steps: []step.Step{{Title: "T " + words(60), Symbol: "x", Why: words(100), Branch: words(900), Clause: words(40), Verify: []string{words(50)}, Inputs: []step.Input{{Symbol: words(8), Title: words(300), From: step.Source{Text: words(200)}}}}}},
			report.Signatures{Lines: []report.Signature{{Role: words(20), Name: words(40)}}},
		}}},
	}
	d, _ := layOutForTest(t, r)
	seen := map[string]int{}
	for _, s := range d.sheets {
		for _, run := range s.runs {
			for _, w := range strings.Fields(run.text) {
				seen[strings.TrimRight(w, ",;")]++
			}
		}
	}
	bad := 0
	for i := range next {
		w := fmt.Sprintf("w%05d", i)
		if n := seen[w]; n != 1 {
			if bad++; bad < 10 {
				t.Errorf("%s is printed %d times", w, n)
			}
		}
	}
	if bad > 0 {
		t.Errorf("%d of %d words", bad, next)
	}
}

// A number is never broken over two lines: read by halves it is another
// number.
func TestNumbersAreNeverBroken(t *testing.T) {
	for name, r := range shapes() {
		d, _ := layOutForTest(t, r)
		whole := map[string]bool{}
		for _, s := range d.sheets {
			for _, run := range s.runs {
				for _, w := range strings.Fields(run.text) {
					whole[w] = true
				}
			}
		}
		bad := 0
		for _, sec := range r.Sections {
			for _, b := range sec.Blocks {
				table, ok := b.(report.Table)
				if !ok {
					continue
				}
				for _, row := range table.Rows {
					for _, w := range strings.Fields(strings.Join(row.Cells, " ")) {
						if strings.ContainsAny(w, "0123456789") && !whole[w] {
							if bad++; bad < 5 {
								t.Errorf("%s: %s is broken", name, w)
							}
						}
					}
				}
			}
		}
	}
}

type box struct{ x1, y1, x2, y2 float64 }

// No run leaves the page's frame and none lies on another.
func TestNothingOverlaps(t *testing.T) {
	for name, r := range shapes() {
		t.Run(name, func(t *testing.T) {
			d, f := layOutForTest(t, r)
			bad := 0
			for n, s := range d.sheets {
				var boxes []box
				for _, run := range s.runs {
					w := f.of(run.bold).width(run.text, run.size)
					b := box{run.x, run.y - run.size*pt*capHeight, run.x + w, run.y + run.size*pt*0.05}
					left, right := d.paper.left, d.paper.right
					if s.drawing {
						left, right = draw.MarginSide, draw.MarginSide
					}
					if b.x1 < left-0.01 || b.x2 > s.w-right+0.2 || b.y1 < 4 || b.y2 > s.h-5 {
						if bad++; bad < 6 {
							t.Errorf("page %d: %.50q leaves the frame: %.1f", n+1, run.text, b)
						}
					}
					boxes = append(boxes, b)
				}
				order := make([]int, len(boxes))
				for i := range order {
					order[i] = i
				}
				slices.SortFunc(order, func(a, b int) int {
					if boxes[a].y1 < boxes[b].y1 {
						return -1
					}
					return 1
				})
				for k, i := range order {
					for _, j := range order[k+1:] {
						if boxes[j].y1 >= boxes[i].y2 {
							break
						}
						if boxes[i].x1 < boxes[j].x2-0.05 && boxes[j].x1 < boxes[i].x2-0.05 {
							if bad++; bad < 6 {
								t.Errorf("page %d: %.40q lies on %.40q", n+1, s.runs[i].text, s.runs[j].text)
							}
						}
					}
				}
			}
		})
	}
}

// shapes are the reports that try a layout.
func shapes() map[string]*report.Report {
	letter := sampleReport()
	letter.Letter = true
	letter.Units = unit.US
	strip := sampleReport()
	strip.Strip = true
	long := sampleReport()
	long.Running.Tank = strings.Repeat("A tank with a very long name ", 12)
	long.Running.Status = strings.Repeat("FINAL WITHHELD: 2 errors, 1 open warning; ", 8)
	long.Cover.Heading = strings.Repeat("Heading of a report that does not end ", 8)
	long.Cover.Firm = strings.Repeat("Firm-with-a-very-long-name", 9)
	for i := range 60 {
		long.Cover.Lines = append(long.Cover.Lines, [2]string{fmt.Sprintf("Particular %d with a long label that must wrap", i), strings.Repeat("value ", 40)})
		long.Cover.Signatures = append(long.Cover.Signatures, report.Signature{Role: strings.Repeat("Role ", 30), Name: strings.Repeat("Name", 40)})
	}
	long.Sections[0].Name = strings.Repeat("A section's name that is long ", 6)
	long.Sections[0].Blocks = append(long.Sections[0].Blocks,
		report.Heading{Level: 2, Text: strings.Repeat("Heading ", 60)},
		report.Caution{Title: strings.Repeat("Caution ", 40), Text: strings.Repeat("Text that warns. ", 600)},
		report.Pairs{Rows: [][2]string{{strings.Repeat("label", 30), strings.Repeat("value", 400)}, {"", ""}}},
		report.List{Items: []string{strings.Repeat("item", 500), ""}},
		report.Paragraph{}, report.List{}, report.Pairs{}, report.Photos{}, report.Signatures{}, report.Steps{}, report.Table{}, report.Caution{},
		report.Heading{Level: 2, Text: "A last heading with nothing after it"},
	)
	long.Sections[len(long.Sections)-2].Blocks = append(long.Sections[len(long.Sections)-2].Blocks, report.Photos{Photos: []report.Photo{
		{Number: 7, Caption: strings.Repeat("A caption without an end. ", 250), Missing: strings.Repeat("A reason that is long. ", 120)},
		{Number: 8, Caption: "Broken", Picture: &report.Picture{JPEG: []byte("no picture"), Width: 1, Height: 1}},
	}})
	wide := &report.Report{Title: "Wide", Sections: []report.Section{{Number: 1, Name: "Wide table"}}}
	table := report.Table{Caption: "Twenty columns"}
	for c := range 20 {
		table.Columns = append(table.Columns, report.Column{Head: fmt.Sprintf("Column%d\nmm/year", c), Align: report.Align(c % 3), Share: float64(c % 4)})
	}
	for i := range 30 {
		row := report.Row{Mark: []string{"", "fail", "warn"}[i%3], Bold: i%5 == 0}
		for c := range 21 {
			row.Cells = append(row.Cells, fmt.Sprintf("%d.%03d", i*c*37, c*7))
		}
		table.Rows = append(table.Rows, row)
	}
	wide.Sections[0].Blocks = []report.Block{table, report.Table{Columns: table.Columns[:3], Rows: []report.Row{{Cells: []string{"one"}}, {}, {Group: true}, {Group: true, Cells: []string{"last group"}}}}}
	return map[string]*report.Report{
		"sample": sampleReport(), "letter": letter, "strip": strip, "long": long, "wide": wide, "empty": {Title: "Empty"},
	}
}

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
	if bytes.Contains(first, []byte(strconv.Itoa(time.Now().Year())+"1")) && time.Now().Year() != 2026 {
		t.Error("the file holds the year of today")
	}
}

func TestMissingLettersAreTold(t *testing.T) {
	r := &report.Report{Sections: []report.Section{{Name: "1", Blocks: []report.Block{
		report.Paragraph{Text: "≥ ≤ √ Δ σ µ ° · − – “ ” α β Łódź Иванов שלום"}, report.Paragraph{Text: "東京 😀 مرحبا"},
	}}}}
	_, info := writeForTest(t, r)
	var want []rune
	for _, c := range "東京😀مرحبا" {
		want = append(want, c)
	}
	slices.Sort(want)
	if want = slices.Compact(want); !slices.Equal(info.Missing, want) {
		t.Errorf("missing %q, want %q", string(info.Missing), string(want))
	}
}

// A name from right to left in a line from left to right, with a number after
// it. Source: the order by Unicode Standard Annex 9, worked by hand (rules W7,
// I1, L2).
func TestRightToLeft(t *testing.T) {
	for in, want := range map[string]string{
		"abc":               "abc",
		"tank אבג 12.5, ok": "tank 12.5 גבא, ok",
		"אב (גד) ה":         "ה (דג) בא",
		"אב plate 3 גד":     "בא plate 3 דג",
	} {
		if got := visual(in); got != want {
			t.Errorf("visual(%q) = %q, want %q", in, got, want)
		}
	}
}

// The printed file is held against an independent reader of PDF.
func TestReadBack(t *testing.T) {
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not installed")
	}
	all := shapes()
	for _, name := range []string{"sample", "long", "wide"} {
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
				for _, w := range []string{r.Running.Status, r.Running.Tank, r.Running.Hash} {
					if !strings.Contains(squeeze(p), squeeze(w)) {
						t.Errorf("page %d lacks %.40q", i+1, w)
					}
				}
			}
			// A label's light outline is no second label.
			if n := strings.Count(string(out), "in-37"); name != "wide" && n != 1 {
				t.Errorf("a label is found %d times", n)
			}
			all := squeeze(string(out))
			f, _ := loadFaces()
			lost := 0
			for _, text := range textOf(r, true) {
				clean := f.clean(text)
				if strings.Contains(all, squeeze(clean)) {
					continue
				}
				for _, w := range strings.Fields(clean) {
					// Names from right to left come back turned, with the signs beside
					// them; a word longer than a line comes back in parts.
					if strings.ContainsFunc(text, rightToLeft) || len(w) > 40 {
						continue
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

var lookAt = flag.String("look", "", "a folder to write the reports of the tests into, to be looked at")

func TestLook(t *testing.T) {
	if *lookAt == "" {
		t.Skip("no folder given")
	}
	for name, r := range shapes() {
		file, _ := writeForTest(t, r)
		if err := os.WriteFile(filepath.Join(*lookAt, name+".pdf"), file, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A sheet drawn for the page's room prints at its true size, below a heading
// and beside a status; one that must shrink says so; a large one gets A3.
func TestSheetsKeepTheirScale(t *testing.T) {
	for _, c := range []struct {
		room   draw.Sheet
		letter bool
		w, h   float64
	}{
		{draw.A4.Landscape(), false, 297, 210}, {draw.A4.Portrait(), false, 210, 297}, {draw.Letter.Landscape(), true, 279.4, 215.9},
		{draw.Letter.Portrait(), true, 215.9, 279.4}, {draw.A3.Landscape(), false, 420, 297}, {draw.A3.Portrait(), true, 297, 420},
	} {
		r := sampleReport()
		r.Letter = c.letter
		r.Sections = []report.Section{{Number: 8, Name: "Floor", Blocks: []report.Block{
			report.Heading{Level: 2, Text: "Indication plan"},
			report.Figure{Sheet: true, Scene: sampleScene("plan", c.room.Width, c.room.Height, 3), Caption: "Plan"},
		}}}
		d, _ := layOutForTest(t, r)
		s := d.sheets[len(d.sheets)-1]
		if s.w != c.w || s.h != c.h {
			t.Errorf("%+v: page of %v × %v", c.room, s.w, s.h)
		}
		for _, run := range s.runs {
			if strings.Contains(run.text, "% of its size") {
				t.Errorf("%+v: %s", c.room, run.text)
			}
		}
	}
	r := sampleReport()
	r.Sections = []report.Section{{Blocks: []report.Block{report.Figure{Sheet: true, Scene: sampleScene("plan", 600, 300, 3), Caption: "Plan"}}}}
	d, _ := layOutForTest(t, r)
	if last := d.sheets[len(d.sheets)-1]; !slices.ContainsFunc(last.runs, func(r run) bool { return strings.Contains(r.text, "% of its size") }) {
		t.Error("a drawing that was shrunk does not say so")
	}
}
