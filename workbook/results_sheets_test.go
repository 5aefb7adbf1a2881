package workbook

import (
	"math"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/unit"
	"platebook/workbook/cell"
	"platebook/workbook/demo"
	"platebook/workbook/form"
	"platebook/workbook/xlsx"
)

// sheetRows is a result sheet of an assessment, as it would be read back; nil
// when it is not written.
func sheetRows(t *testing.T, b *Book, a *rules.Assessment, name string) []xlsx.WrittenRow {
	t.Helper()
	d, err := resultDraft(t.Context(), b, a, Record{Version: "test", Rules: rules.Version})
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range d.Sheets() {
		if n == name {
			return d.NewSheet(n).Written()
		}
	}
	return nil
}

// rowOf is the first row whose leading cells hold the texts.
func rowOf(rows []xlsx.WrittenRow, texts ...string) *xlsx.WrittenRow {
	for i := range rows {
		same := true
		for k, text := range texts {
			same = same && writtenText(find(rows[i], k+1)) == text
		}
		if same {
			return &rows[i]
		}
	}
	return nil
}

func wantNumber(t *testing.T, what string, row *xlsx.WrittenRow, col int, want float64, live bool) {
	t.Helper()
	if row == nil {
		t.Errorf("%s: no row", what)
		return
	}
	c := find(*row, col)
	if c.Type != cell.Number || math.Abs(c.Number-want) > 1e-9*math.Max(1, math.Abs(want)) {
		t.Errorf("%s: %q, want %v", what, writtenText(c), want)
	}
	if live && c.Formula == "" {
		t.Errorf("%s: a number, not a formula", what)
	}
}

// without is the SI example with some sheets left empty.
func without(t *testing.T, sheets ...string) (*Book, *rules.Assessment) {
	t.Helper()
	book, err := demo.Example(unit.SI)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sheets {
		book.Rows[s] = []form.Record{}
	}
	return judged(t, saved(t, "less.xlsx", book))
}

func TestSizingSheet(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		b, a := judged(t, example(t, system))
		rows := sheetRows(t, b, a, "Sizing")
		f := &a.Result.Sizing.All
		all := rowOf(rows, "All")
		for _, v := range []struct {
			what string
			col  int
			v    float64
		}{
			{"pairs", sizePairs, float64(f.Pairs)},
			{"bias", sizeBias, float64(f.Bias.V)},
			{"sd", sizeSD, float64(f.SD.V)},
			{"within 10", sizeWithin, float64(f.Within10.V)},
			{"worst", sizeWorst, float64(f.WorstUnder.V)},
			{"slope", sizeSlope, float64(f.Slope.V)},
			{"intercept", sizeIntercept, float64(f.Intercept.V)},
			{"s", sizeResidual, float64(f.ResidualSD.V)},
		} {
			wantNumber(t, system.String()+" "+v.what, all, v.col, v.v, true)
		}
		for _, g := range a.Result.Sizing.ByPerson {
			wantNumber(t, g.Name, rowOf(rows, "Technician", g.Name), sizeBias, float64(g.Fit.Bias.V), true)
		}
		for _, g := range a.Result.Sizing.ByNominal {
			wantNumber(t, g.Name, rowOf(rows, "Nominal thickness", g.Name), sizeSlope, float64(g.Fit.Slope.V), true)
		}
		for _, p := range a.Result.Sizing.Pairs {
			ind, up := &b.Inspection.Indications[p.Indication], &b.Inspection.ProveUps[p.ProveUp]
			row := rowOf(rows, ind.Plate.Text, ind.ID.Text, up.ID.Text)
			wantNumber(t, ind.Key, row, pairedY, p.UT, true)
			if row != nil && (!strings.Contains(find(*row, pairedX).Formula, ind.Loss.Ref.String()) || !strings.Contains(find(*row, pairedR).Formula, up.Remaining.Ref.String())) {
				t.Errorf("%s: its formulas %q, %q do not lead to %s and %s", ind.Key, find(*row, pairedX).Formula, find(*row, pairedR).Formula, ind.Loss.Ref, up.Remaining.Ref)
			}
		}
	}
}

func TestStatisticsSheet(t *testing.T) {
	b, a := judged(t, example(t, unit.SI))
	rows := sheetRows(t, b, a, "Statistics")
	s := a.Statistics()
	wantNumber(t, "count", rowOf(rows, "Indications with a known loss"), 2, float64(s.Count), true)
	wantNumber(t, "mean", rowOf(rows, "Mean loss (%)"), 2, float64(s.Mean.V), true)
	wantNumber(t, "90 %", rowOf(rows, "90 % of the losses are at most (%)"), 2, float64(s.Quantiles[4].Loss.V), true)
	for _, g := range s.ByPlate {
		row := rowOf(rows, "Plate", g.Name)
		for k, band := range g.Bands {
			wantNumber(t, "plate "+g.Name, row, 5+k, float64(band.Count), true)
		}
	}
	for _, g := range s.BySide {
		wantNumber(t, "side "+g.Name, rowOf(rows, "Side", g.Name), 3, float64(g.Count), true)
	}
	e := &a.Result.Extreme
	if !e.Made {
		t.Fatalf("the example has no extreme-value estimate: %s", e.Why)
	}
	wantNumber(t, "location", rowOf(rows, "Location u"), 2, e.Fit.Location, true)
	wantNumber(t, "standard error", rowOf(rows, "Standard error of the scale"), 2, math.Sqrt(e.Fit.VarA), true)
	for _, block := range e.Blocks {
		wantNumber(t, "block "+block.Label, rowOf(rows, block.Label, "100"), blockX, float64(block.Largest), true)
		break
	}
	for _, c := range sheetCautions(e) {
		if rowOf(rows, c) == nil {
			t.Errorf("a caution is missing: %s", c)
		}
	}
}

func TestSettlementResultsSheet(t *testing.T) {
	for _, system := range []unit.System{unit.SI, unit.US} {
		b, a := judged(t, example(t, system))
		rows := sheetRows(t, b, a, "Settlement results")
		r, factor := a.Settlement, unit.Settlement.Factor(system)
		worst := rowOf(rows, "Out of plane, worst point")
		wantNumber(t, "out of plane", worst, 2, r.Ring.MaxOut/factor, true)
		wantNumber(t, "allowable", worst, 4, float64(r.Allowable.V)/factor, true)
		if worst != nil && writtenText(find(*worst, 5)) != "pass" {
			t.Errorf("verdict %q", writtenText(find(*worst, 5)))
		}
		for _, p := range r.Shell {
			wantNumber(t, "point "+p.Name, rowOf(rows, p.Name), levelOut, float64(p.S)/factor, true)
		}
		if len(r.Edge) != 1 || len(r.Bulge) != 2 {
			t.Fatalf("%d edges and %d bulges in the example", len(r.Edge), len(r.Bulge))
		}
		d := rowOf(rows, "D1", "depression")
		wantNumber(t, "depression", d, 7, float64(r.Bulge[1].Limit.V)/factor, true)
		if d != nil && (writtenText(find(*d, 8)) != "fail" || !strings.HasPrefix(writtenText(find(*d, 10)), "Seams within it")) {
			t.Errorf("the depression's verdict %q and disposition %q", writtenText(find(*d, 8)), writtenText(find(*d, 10)))
		}
	}
}

// A sheet without data is not written, or says why it is empty.
func TestSheetsWithoutData(t *testing.T) {
	b, a := without(t, "Settlement", "Prove-ups", "Indications", "Photos", "Answers")
	if rows := sheetRows(t, b, a, "Settlement results"); rows != nil {
		t.Error("a settlement sheet without a survey")
	}
	holds := func(name, text string) {
		t.Helper()
		for _, row := range sheetRows(t, b, a, name) {
			for _, c := range row.Cells {
				if strings.Contains(writtenText(c), text) {
					return
				}
			}
		}
		t.Errorf("%s does not say %q", name, text)
	}
	holds("Sizing", "sizing was not checked on this floor")
	holds("Statistics", "No indication was recorded that is relevant")
	holds("Statistics", "No estimate")
}

func TestSensitivityInTheSummary(t *testing.T) {
	b, a := judged(t, example(t, unit.SI))
	rows := sheetRows(t, b, a, "Summary")
	base := a.Result.State(a.Result.PageOne).Interval
	changes := a.Sensitivity()
	if len(changes) != 8 {
		t.Fatalf("%d changes", len(changes))
	}
	for _, c := range changes {
		row := rowOf(rows, sentence(c.Input), c.Change)
		wantNumber(t, c.Input+" "+c.Change, row, 3, float64(c.Interval.V), false)
		wantNumber(t, c.Input+" "+c.Change+", difference", row, 4, float64(c.Interval.V-base.V), true)
	}
}

// The shell's plane is not judged from three points, and its rows stay.
func TestSettlementOfFewPoints(t *testing.T) {
	book, err := demo.Example(unit.SI)
	if err != nil {
		t.Fatal(err)
	}
	book.Rows["Settlement"] = book.Rows["Settlement"][:3]
	b, a := judged(t, saved(t, "few.xlsx", book))
	rows := sheetRows(t, b, a, "Settlement results")
	if a.Settlement == nil || a.Settlement.Fitted || len(rows) == 0 {
		t.Fatal("a plane through three points")
	}
	if rowOf(rows, "Fitted plane", "not known") == nil || rowOf(rows, "3") == nil {
		t.Error("the sheet does not say that no plane is known, or lost a point")
	}
}
