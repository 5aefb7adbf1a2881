package draw

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/assess"
	"platebook/rules/compare"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/demo"
)

// crowded floors have ever more places on their few plates.
var crowded = map[string]invented{
	"busy":    {diameter: 8000, length: 5000, width: 1800, lap: 50, spots: 400},
	"packed":  {diameter: 8000, length: 5000, width: 1800, lap: 50, ring: 600, ringPlates: 6, spots: 1500},
	"no room": {diameter: 4000, length: 3000, width: 1500, lap: 40, spots: 2000, units: unit.US},
}

// exampleBook is an example floor as it is read.
func exampleBook(t *testing.T, system unit.System) *workbook.Book {
	t.Helper()
	book, err := demo.Example(system)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		t.Fatal(err)
	}
	read, err := workbook.OpenBytes(context.Background(), "example.xlsx", b.Bytes(), workbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return read
}

// examples are the two example floors, judged.
func examples(t *testing.T) map[string]*rules.Assessment {
	t.Helper()
	out := map[string]*rules.Assessment{}
	for name, system := range map[string]unit.System{"example-si": unit.SI, "example-us": unit.US} {
		read := exampleBook(t, system)
		out[name] = rules.Assess(read.Inspection, read.Hits, nil)
	}
	return out
}

// grown is the example floor after an inspection twelve years before it, which
// had not yet found each seventh place, and a tenth of which is not found again.
func grown(t *testing.T) *rules.Assessment {
	t.Helper()
	past, now := exampleBook(t, unit.SI), exampleBook(t, unit.SI)
	in := past.Inspection
	in.File.Name, in.File.ValuesSHA256 = "earlier.xlsx", "earlier"
	end := &in.Tank.InspectionEnd
	end.Value = unit.NewDate(end.Value.Time().Year()-12, 5, 20)
	kept := in.Indications[:0:0]
	for i, r := range in.Indications {
		if i%7 == 3 {
			continue
		}
		r.X.Value += unit.Length(i % 3 * 5)
		r.Loss.Value *= 0.75
		if i%10 == 4 {
			r.Y.Value += 250
		}
		kept = append(kept, r)
	}
	in.Indications = kept
	a := rules.AssessSince(now.Inspection, now.Hits, nil, rules.Past{Earlier: []compare.Survey{rules.Earlier(in, past.Hits)}})
	if a.Comparison == nil || len(a.Comparison.Refused) > 0 {
		t.Fatal("nothing was compared")
	}
	return a
}

// On a plate's detail the worst place, and every one that is below its
// requirement, needs a repair or has one, carries its number. Where a crowd
// leaves no room the worst come first, and the sheet says how many have none.
func TestDetailsLabelWhatMatters(t *testing.T) {
	floors := examples(t)
	for name, v := range crowded {
		floors[name] = v.assessment()
	}
	floors["grown"] = grown(t)
	floors["middle"], floors["american"] = middle.assessment(), american.assessment()
	wanting := regexp.MustCompile(`indications (\d+) have a label; (\d+) found no room`)
	for name, a := range floors {
		works := PlannedWork(a)
		seen := 0
		for k := range a.Plan.Plates {
			s := detailOf(a, A4.Landscape(), k, works)
			if s == nil {
				continue
			}
			labelled := map[string]bool{}
			var notes []string
			for _, it := range s.Items {
				l, ok := it.(Label)
				if !ok {
					continue
				}
				if l.Class == "indication-label" {
					id, _, _ := strings.Cut(l.Text, " ")
					labelled[id] = true
				}
				if l.Class == "note" {
					notes = append(notes, l.Text)
				}
			}
			note := wanting.FindStringSubmatch(strings.Join(notes, " "))
			places, missing, least := 0, 0, 100.0
			for i := range a.Result.Locations {
				l := &a.Result.Locations[i]
				if l.Plate != k || l.Kind != assess.IndicationAt && l.Kind != assess.ProveUpAt {
					continue
				}
				places++
				matters := l.Repair != "" || lacksRepair(l) != "" || l.Margin.Known && l.Margin.V < 0
				if matters && !labelled[spotName(a, l)] {
					missing++
				} else if loss, ok := LossOf(l); matters && ok {
					least = min(least, loss)
				}
				seen++
			}
			if missing > 0 && name != "no room" && name != "packed" {
				t.Errorf("%s, plate %s: %d places that matter have no label", name, a.Inspection.Plates[k].Label.Value, missing)
			}
			if open := places - len(labelled); open > 0 && len(note) == 0 {
				t.Errorf("%s, plate %s: %d of %d places have no label, and nothing says so", name, a.Inspection.Plates[k].Label.Value, open, places)
			} else if open > 0 && (note[1] != strconv.Itoa(len(labelled)) || note[2] != strconv.Itoa(open)) {
				t.Errorf("%s, plate %s: %q for %d labels and %d without", name, a.Inspection.Plates[k].Label.Value, note[0], len(labelled), open)
			}
			detailIsLegible(t, fmt.Sprintf("%s, plate %s", name, a.Inspection.Plates[k].Label.Value), s)
		}
		if seen == 0 {
			t.Errorf("%s: no place on a plate", name)
		}
	}
}

// detailIsLegible holds that no word lies on another or across the outline of a
// plate, lap or patch, and that no leader crosses one.
func detailIsLegible(t *testing.T, name string, s *Scene) {
	t.Helper()
	words := newOccupied(rect{0, 0, s.Width, s.Height})
	for _, it := range s.Items {
		l, ok := it.(Label)
		if !ok {
			continue
		}
		if b := l.box().grow(-0.12); words.overlap(b, 1) > 0 {
			t.Errorf("%s: %q lies on another word", name, l.Text)
		} else {
			words.add(b)
		}
	}
	edges := newOccupied(words.area)
	for _, it := range s.Items {
		p, ok := it.(Path)
		if !ok || p.Class != "plate" && p.Class != "lap" && p.Class != "patch" && p.Class != "then" && !strings.HasPrefix(p.Class, "repair ") || len(p.Segments) < 4 {
			continue
		}
		var ring []point
		for _, q := range p.Segments {
			if q.Op == Move && len(ring) > 0 {
				keepOff(edges, 0, append(ring, ring[0])...)
				ring = nil
			}
			if q.Op != Close {
				ring = append(ring, point{q.X, q.Y})
			}
		}
		keepOff(edges, 0, append(ring, ring[0])...)
	}
	for _, it := range s.Items {
		if l, ok := it.(Label); ok && strings.HasSuffix(l.Class, "-label") && edges.overlap(l.box(), 1) > 0 {
			t.Errorf("%s: %q lies across an outline", name, l.Text)
		}
	}
	for _, it := range s.Items {
		p, ok := it.(Path)
		if !ok || p.Class != "leader" {
			continue
		}
		line := segment{point{p.Segments[0].X, p.Segments[0].Y}, point{p.Segments[1].X, p.Segments[1].Y}}
		for r := range line.boxes(0) {
			if words.overlap(r, 1) > 0 {
				t.Errorf("%s: a leader crosses a word at %.1f, %.1f", name, r.x1, r.y1)
				break
			}
		}
	}
}

// On the plan of a whole floor the worst places, and those to be repaired, carry
// their loss with their number.
func TestPlansLabelWhatMattersWithItsLoss(t *testing.T) {
	for name, a := range examples(t) {
		labels := map[string]bool{}
		for _, it := range IndicationPlan(a, A4.Landscape()).Items {
			if l, ok := it.(Label); ok && l.Class == "indication-label" {
				labels[l.Text] = true
			}
		}
		n := 0
		for i := range a.Result.Locations {
			l := &a.Result.Locations[i]
			if loss, ok := LossOf(l); ok && l.Indication >= 0 && l.Placed && sought(l) {
				n++
				if want := spotName(a, l) + " " + unit.Round(loss, 0) + "%"; !labels[want] {
					t.Errorf("%s: no %q on the plan", name, want)
				}
			}
		}
		if n < 10 {
			t.Errorf("%s: only %d places to be repaired", name, n)
		}
	}
}

// The worst places of a crowd have their labels before milder ones.
func TestCrowdedDetailsLabelTheWorst(t *testing.T) {
	for name, v := range crowded {
		a := v.assessment()
		for k := range a.Plan.Plates {
			s := detailOf(a, A4.Landscape(), k, nil)
			if s == nil {
				continue
			}
			labelled := map[string]bool{}
			for _, it := range s.Items {
				if l, ok := it.(Label); ok && l.Class == "indication-label" {
					id, _, _ := strings.Cut(l.Text, " ")
					labelled[id] = true
				}
			}
			worst, most := "", -1.0
			for i := range a.Result.Locations {
				if l := &a.Result.Locations[i]; l.Plate == k {
					if loss, ok := LossOf(l); ok && loss > most {
						worst, most = spotName(a, l), loss
					}
				}
			}
			if worst != "" && !labelled[worst] {
				t.Errorf("%s, plate %s: the worst place, %s with %.0f %%, has no label", name, a.Inspection.Plates[k].Label.Value, worst, most)
			}
		}
	}
}

// A number that no leader ties to its place stands nearer to that than to any
// other.
func TestDetailNumbersStandByTheirOwnPlace(t *testing.T) {
	floors := examples(t)
	floors["grown"], floors["busy"] = grown(t), crowded["busy"].assessment()
	for name, a := range floors {
		keys, alone := map[int]map[string]string{}, 0
		for i := range a.Result.Locations {
			l := &a.Result.Locations[i]
			if keys[l.Plate] == nil {
				keys[l.Plate] = map[string]string{}
			}
			keys[l.Plate][spotName(a, l)] = l.Label
		}
		works := PlannedWork(a)
		for k := range a.Plan.Plates {
			s := detailOf(a, A4.Landscape(), k, works)
			if s == nil {
				continue
			}
			marks := map[string]rect{}
			ends := newOccupied(rect{0, 0, s.Width, s.Height})
			for _, it := range s.Items {
				p, ok := it.(Path)
				if !ok {
					continue
				}
				if p.Class == "leader" {
					end := point{p.Segments[1].X, p.Segments[1].Y}
					ends.add(rect{end.x, end.y, end.x, end.y}.grow(0.5))
				}
				if strings.HasPrefix(p.Class, "indication") && p.ID != "" {
					var pts []point
					for _, q := range p.Segments {
						if q.Op != Close {
							pts = append(pts, point{q.X, q.Y})
						}
					}
					marks[p.ID] = bounds(pts)
				}
			}
			gap := func(a, b rect) float64 {
				return math.Hypot(max(0, a.x1-b.x2, b.x1-a.x2), max(0, a.y1-b.y2, b.y1-a.y2))
			}
			for _, it := range s.Items {
				l, ok := it.(Label)
				if !ok || l.Class != "indication-label" || ends.overlap(l.box(), 1) > 0 {
					continue
				}
				id, _, _ := strings.Cut(l.Text, " ")
				own := keys[k][id]
				alone++
				for key, m := range marks {
					if key != own && gap(m, l.box()) < gap(marks[own], l.box())-0.3 {
						t.Errorf("%s, plate %s: %q stands nearer to %s", name, a.Inspection.Plates[k].Label.Value, l.Text, key)
					}
				}
			}
		}
		if alone < 50 {
			t.Errorf("%s: only %d numbers beside their place", name, alone)
		}
	}
}
