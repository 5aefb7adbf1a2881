package compare_test

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/demo"
)

var update = flag.Bool("update", false, "write the figures of docs/comparison.md anew")

// timesPlayed is how often each invented pair is played; the figures of the page
// are those of the usual number.
func timesPlayed() int {
	if n, err := strconv.Atoi(os.Getenv("PLATEBOOK_TRUTH")); err == nil && n > 0 {
		return n
	}
	return usually
}

const usually = 3

// onPage holds the rows of a table of docs/comparison.md, which stand between
// two comments that name it, to what was found.
func onPage(t *testing.T, name, rows string) {
	t.Helper()
	if timesPlayed() != usually {
		return
	}
	path := filepath.Join("..", "..", "docs", "comparison.md")
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	from, to := "<!-- "+name+" -->\n", "<!-- end of "+name+" -->"
	before, rest, ok := strings.Cut(strings.ReplaceAll(string(b), "\r\n", "\n"), from)
	table, after, ok2 := strings.Cut(rest, to)
	if !ok || !ok2 {
		t.Fatalf("docs/comparison.md has no place for %s", name)
	}
	head := strings.SplitAfterN(table, "\n", 4) // blank, heads, rule, rows
	if len(head) < 4 {
		t.Fatalf("docs/comparison.md: no table in %s", name)
	}
	want := head[0] + head[1] + head[2] + rows + "\n"
	if table == want {
		return
	}
	if !*update {
		t.Errorf("docs/comparison.md, %s: has\n%s\nfound\n%s", name, table, want)
		return
	}
	if err := os.WriteFile(path, []byte(before+from+want+to+after), 0o666); err != nil {
		t.Fatal(err)
	}
}

// A plan drawn in any of the seven other positions is told with nearly all of
// its pairs, and nothing is turned; drawn as before, none is claimed.
func TestTruthOfAnotherDrawing(t *testing.T) {
	var rows strings.Builder
	for k := range 8 {
		s := scene{noise: 25, crowd: 150, ut: 0.6, mirrored: k >= 4, quarters: k % 4}
		// what brings the drawing back: a mirrored one is its own way back
		want := compare.Position{Mirrored: s.mirrored, Turn: 90 * s.quarters}
		if !s.mirrored {
			want.Turn = (360 - want.Turn) % 360
		}
		truly, told, asDrawn, right := 0, 0, 0, 0
		for seed := range timesPlayed() {
			old, in, _, truth := s.play(rand.New(rand.NewSource(int64(2000 + seed))))
			a := judged(in, old)
			n := 0
			for _, f := range truth {
				if f.old != "" && f.now != "" {
					n++
				}
			}
			g := a.Comparison.Position
			ok := g.Better() && g.Turn == want.Turn && g.Mirrored == want.Mirrored && !g.Within && has(a, "T301") != nil
			if k == 0 {
				ok = !g.Better() && has(a, "T301") == nil
			}
			if ok {
				right++
			}
			if !ok || g.Pairs < n*95/100 {
				t.Errorf("%+v: %+v of %d pairs, want %+v", s, g, n, want)
			}
			if k > 0 && g.Identity > n/4 {
				t.Errorf("%+v: %d pairs as drawn", s, g.Identity)
			}
			truly, told, asDrawn = truly+n, told+g.Pairs, asDrawn+g.Identity
		}
		fmt.Fprintf(&rows, "| %s | %s | %d of %d | %d | %d | %d |\n", drawnWords(s), want.Words(), right, timesPlayed(), truly, told, asDrawn)
	}
	onPage(t, "positions", rows.String())
}

func drawnWords(s scene) string {
	p := compare.Position{Mirrored: s.mirrored, Turn: 90 * s.quarters}
	if p == (compare.Position{}) {
		return "as now"
	}
	return p.Words()
}

// course is an invented pit measured by UT on every date.
type course struct {
	rate   float64 // mm/year, true
	labels []string
}

// over invents inspections of one floor on the given dates: pits that lose metal
// evenly, read with a scatter of sd mm, written with other IDs and a little
// aside, and each missed with a share of chance on all dates but the last.
func over(rnd *rand.Rand, dates []unit.Date, pits int, sd, missed float64) (floors []*inspection.Inspection, courses []course) {
	for _, d := range dates {
		floors = append(floors, floorAt(d, nil))
	}
	for i := range pits {
		p := pit{plate: fmt.Sprintf("%d-%d", 1+rnd.Intn(3), 1+rnd.Intn(3)), x: 80 + 2840*rnd.Float64(), y: 80 + 2840*rnd.Float64(), side: "soil"}
		c := course{rate: 0.02 + 0.06*rnd.Float64()}
		for k, d := range dates {
			q := p
			q.id = strconv.Itoa(1000*(k+1) + i)
			q.x, q.y = written(q.x+15*rnd.NormFloat64()), written(q.y+15*rnd.NormFloat64())
			q.ut = 5.6 - c.rate*float64(d.YearsSince(dates[0])) + sd*rnd.NormFloat64()
			if rnd.Float64() < missed && k < len(dates)-1 {
				continue
			}
			add(floors[k], q)
			c.labels = append(c.labels, q.plate+"/"+q.id)
		}
		courses = append(courses, c)
	}
	return floors, courses
}

// The trends of pits whose rate is known: who is followed back to whom, how far
// the line is off, and whether its 95 % range holds the true rate as often as it
// says.
func TestTruthOfTrends(t *testing.T) {
	var rows strings.Builder
	for _, c := range []struct {
		name       string
		dates      []unit.Date
		sd, missed float64
		followed   float64 // least share followed right, %
	}{
		{"3 dates", []unit.Date{unit.NewDate(2006, 5, 1), unit.NewDate(2016, 5, 1), now}, 0.2, 0, 98},
		{"5 dates", []unit.Date{unit.NewDate(2004, 5, 1), unit.NewDate(2009, 5, 1), unit.NewDate(2014, 5, 1), unit.NewDate(2020, 5, 1), now}, 0.2, 0, 98},
		{"4 dates, a tenth missed", []unit.Date{unit.NewDate(2004, 5, 1), unit.NewDate(2011, 5, 1), unit.NewDate(2018, 5, 1), now}, 0.2, 0.1, 96},
		{"3 dates, exact readings", []unit.Date{unit.NewDate(2006, 5, 1), unit.NewDate(2016, 5, 1), now}, 0, 0, 98},
	} {
		all, right, ranged, held := 0, 0, 0, 0
		var off, square float64
		for seed := range timesPlayed() {
			floors, courses := over(rand.New(rand.NewSource(int64(3000+seed))), c.dates, 120, c.sd, c.missed)
			last := len(floors) - 1
			a := judged(floors[last], floors[:last]...)
			everyPlaceOnce(t, a)
			found := map[string]*compare.Trend{}
			for i := range a.Comparison.Trends {
				tr := &a.Comparison.Trends[i]
				found[tr.Labels[len(tr.Labels)-1]] = tr
			}
			for _, is := range courses {
				if len(is.labels) < 3 {
					continue
				}
				all++
				tr := found[is.labels[len(is.labels)-1]]
				if tr == nil || fmt.Sprint(tr.Labels) != fmt.Sprint(is.labels) {
					continue
				}
				right++
				if !tr.Fit.Rate.Known || !tr.Fit.Half.Known {
					t.Fatalf("%s: %v has no rate", c.name, tr.Labels)
				}
				d := math.Abs(float64(tr.Fit.Rate.V) - is.rate)
				off, square = max(off, d), square+d*d
				ranged++
				if d <= float64(tr.Fit.Half.V)+1e-9 {
					held++
				}
			}
		}
		rms := math.Sqrt(square / float64(max(ranged, 1)))
		fmt.Fprintf(&rows, "| %s | %.1f | %d | %.1f | %.4f | %.4f | %.1f |\n", c.name, c.sd, all, share(right, all), rms, off, share(held, ranged))
		t.Logf("%s: %d places, %.1f %% followed right, rate off by %.4f rms, %.4f at most; range holds %.1f %%", c.name, all, share(right, all), rms, off, share(held, ranged))
		if share(right, all) < c.followed {
			t.Errorf("%s: %.1f %% followed right, want %v", c.name, share(right, all), c.followed)
		}
		switch h := share(held, ranged); {
		case c.sd == 0 && off > 1e-9:
			t.Errorf("%s: exact readings, and a rate is off by %v", c.name, off)
		case c.sd > 0 && (h < 92 || h > 98):
			t.Errorf("%s: the 95 %% range holds %.1f %%", c.name, h)
		}
	}
	onPage(t, "trends", rows.String())
}

// The example in SI twelve years before the example in US units, both read from
// workbooks: every place is its own partner, but for what rounding to inches
// moves, and nothing grew.
func TestTruthAcrossUnits(t *testing.T) {
	read := func(sys unit.System, edit func(*inspection.Inspection)) *workbook.Book {
		book, err := demo.Example(sys)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := book.Write(&b); err != nil {
			t.Fatal(err)
		}
		got, err := workbook.OpenBytes(context.Background(), sys.String()+".xlsx", b.Bytes(), workbook.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if edit != nil {
			edit(got.Inspection)
		}
		return got
	}
	for _, c := range [][2]unit.System{{unit.SI, unit.US}, {unit.US, unit.SI}} {
		old := read(c[0], func(in *inspection.Inspection) {
			in.Tank.InspectionEnd.Value = unit.NewDate(2014, 5, 20)
			in.Patches, in.Repairs = nil, nil
		})
		book := read(c[1], func(in *inspection.Inspection) { in.Patches = nil })
		a := rules.AssessSince(book.Inspection, book.Hits, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(old.Inspection, old.Hits)}})
		r := a.Comparison
		if r == nil || len(r.Refused) > 0 || r.Position.Better() {
			t.Fatalf("%v: %+v", c, r)
		}
		everyPlaceOnce(t, a)
		pairs, own := 0, 0
		for i := range r.Pairs {
			p := &r.Pairs[i]
			if p.Old < 0 || p.New < 0 {
				continue
			}
			pairs++
			if r.Old().Found.Locations[p.Old].Label == a.Result.Locations[p.New].Label {
				own++
			}
			if p.Class != compare.Unchanged && p.Class != compare.NotJudged {
				t.Errorf("%v: %s is %s", c, a.Result.Locations[p.New].Label, p.Class)
			}
			if p.Distance.V > 8.9 { // written to 10 mm and to a tenth of an inch: half of each, along both axes
				t.Errorf("%v: %s moved by %v mm", c, a.Result.Locations[p.New].Label, p.Distance.V)
			}
		}
		places := 0
		for i := range a.Result.Locations {
			if k := a.Result.Locations[i].Kind; k == assess.IndicationAt || k == assess.ProveUpAt {
				places++
			}
		}
		if pairs < places*97/100 || own != pairs {
			t.Errorf("%v: %d places, %d pairs, %d with themselves; %v", c, places, pairs, own, r.Count)
		}
	}
}
