package workbook

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/rules"
	"platebook/rules/check"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/workbook/xlsx"
)

// FuzzHeaders looks for headers in whatever stands in the first rows.
func FuzzHeaders(f *testing.F) {
	f.Add("= Readings\nPlate | X (mm) | Y\n3-4 | 1 | 2")
	f.Add("= Readings\nPlate | X\n | (mm)\nmerge A1:A2")
	f.Add("= Tank\nItem | Value (\nUnits | [in")
	words := newLanguage()
	f.Fuzz(func(t *testing.T, text string) {
		for _, tb := range sketch(t, text) {
			for name, v := range words.sheets {
				h := findHeader(tb.grid, v)
				if h.known > len(h.headings) {
					t.Errorf("%s: %d known of %d", name, h.known, len(h.headings))
				}
				if h.known > 0 && (h.first < 1 || h.first > headerRows || h.last < h.first || h.last > h.first+2) {
					t.Errorf("%s: header in rows %d to %d", name, h.first, h.last)
				}
			}
		}
	})
}

// finite says that an inspection holds numbers only: no infinity, no NaN,
// which JSON cannot hold.
func finite(t *testing.T, in *inspection.Inspection) {
	t.Helper()
	if _, err := json.Marshal(in); err != nil {
		t.Fatal(err)
	}
}

// FuzzRead reads changed workbooks: whatever they hold, the reader ends with
// an inspection of finite values or says why there is none, and every hit has
// a known rule and a place.
func FuzzRead(f *testing.F) {
	f.Add(cleanSketch)
	f.Add(strings.NewReplacer("| 6.28 |", "| <3 |", "Loss %", "Loss", "3-5 | sketch", "| sketch", "soil", "top?").Replace(cleanSketch))
	f.Add(strings.NewReplacer("| 6.28 |", "| 1e308 |", "6000", "NaN", "1800", "-1e308").Replace(cleanSketch))
	f.Fuzz(func(t *testing.T, text string) {
		r, err := readSketch(t, text)
		if err != nil {
			return
		}
		finite(t, r.ins)
		for _, h := range r.hits {
			if h.Rule == "" || h.Message == "" || h.Ref.Row > 0 && h.Ref.Sheet == "" {
				t.Errorf("%+v", h)
			}
			if _, ok := check.Find(h.Rule); !ok {
				t.Errorf("no rule %s", h.Rule)
			}
		}
	})
}

// FuzzFile reads whatever bytes a file holds: it is an inspection, or it is
// refused with the reason.
func FuzzFile(f *testing.F) {
	f.Add(fileOf(f, sketch(f, cleanSketch)))
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte("Plate,Type\n3-4,sketch\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := OpenBytes(context.Background(), "fuzz.xlsx", data, Options{})
		var u *finding.Unusable
		if err != nil && !errors.As(err, &u) {
			t.Errorf("%v is no reason a person can act on", err)
		}
		if err != nil && (u.Rule == "" || u.Message == "" || u.Do == "") {
			t.Errorf("%+v", u)
		}
		if err == nil {
			finite(t, b.Inspection)
		}
	})
}

// FuzzCriteria reads a sheet of criteria. What is in force is finite and in
// its legal range or the default, and a value that is not taken is told of.
func FuzzCriteria(f *testing.F) {
	f.Add("Minimum thickness | 3 | mm | because")
	f.Add("Prove-up threshold | 400 | %\nPatch minimum | 1/2 | in\nLoss bands | 20; 40; x")
	f.Add("MFL threshold | TBC\nMFL threshold | 20\nNo such | 1")
	f.Add("Side of unknown | soil\nMinimum thickness | 1e308\nMinimum thickness | -0")
	f.Fuzz(func(t *testing.T, text string) {
		if strings.Contains(text, "=") {
			return // another sheet
		}
		r, err := readSketch(t, cleanSketch+"= Criteria\nCriterion | Value | Unit | Note\n"+text)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range criteria.Table {
			v := r.ins.Criteria.Get(d.Name)
			for _, n := range append(slices.Clone(v.Numbers), v.Number) {
				if math.IsNaN(n) || math.IsInf(n, 0) {
					t.Fatalf("%s is %v", d.Name, n)
				}
			}
			if !v.Given {
				if want := criteria.Defaults(r.ins.Units).Get(d.Name); v.Number != want.Number || v.Text != want.Text || v.Changed {
					t.Fatalf("%s: %+v without a value, default %+v", d.Name, v, want)
				}
				continue
			}
			switch {
			case d.Shape == criteria.Choice && !slices.Contains(d.Words, v.Text),
				d.Shape != criteria.Choice && d.Shape != criteria.List && v.Set && (v.Number < d.Low-1e-9 || v.Number > d.High+1e-9):
				t.Fatalf("%s is in force as %+v, range %v to %v, words %q", d.Name, v, d.Low, d.High, d.Words)
			}
		}
	})
}

// FuzzAnswers reads answers, from their own sheet and from a Findings sheet,
// and judges the inspection. Only a warning is ever answered, by an answer
// with a reason, a name and a date; each answer counts for something or is
// told of.
func FuzzAnswers(f *testing.F) {
	const key = "R301:Prove-ups:17 ~ U44"
	f.Add("R315:Readings:3-4/300,900:Thickness | Measured twice, the same | A. Day | 2026-04-30 |", key+" | 3.5 | Measured twice, the same | A. Day | 2026-04-30")
	f.Add("R308:Indications:3-4/17; R301:Prove-ups:* | ok | A. Day | 30/04/2026", "C101:Readings:[Thickness] | | | A. Day")
	f.Add("T101:: | The sketch plates are not all there | A. Day | 2026-04-30 | 2026-05-01\nT101:: | again and again | B | 2026-05-01", "R209:: | | Seen and accepted | B. Low | 2026-05-01 | x")
	f.Fuzz(func(t *testing.T, sheet, typed string) {
		if strings.Contains(sheet+typed, "= ") {
			return // another sheet
		}
		r, err := readSketch(t, cleanSketch+"= Answers\nFinding | Answer | By | Date | Until\n"+sheet)
		if err != nil {
			t.Fatal(err)
		}
		own := sketch(t, "= Findings\nKey | Value as typed | Answer | Answered by | Date | Until | Members\n"+typed)
		for _, tb := range own {
			r.ins.Answers = append(r.ins.Answers, answersInFindings(tb.sheet.Name, tb.grid, false)...)
		}
		finite(t, r.ins)
		a := rules.Assess(r.ins, r.hits, nil)
		told := map[finding.Ref]bool{}
		for _, fd := range a.Findings {
			row := fd.Ref
			row.Col = 0
			for last := max(fd.LastRow, row.Row); row.Row <= last; row.Row++ {
				told[row] = true
			}
			for _, rel := range fd.Related {
				told[finding.Ref{Sheet: rel.Ref.Sheet, Row: rel.Ref.Row}] = true
			}
			switch {
			case fd.Answer == nil:
			case fd.Severity != finding.Warning:
				t.Fatalf("%s is answered: %+v", fd.Key, fd)
			case len([]rune(fd.Answer.Text)) < leastLetters || strings.TrimSpace(fd.Answer.By) == "" || fd.Answer.Date == "":
				t.Fatalf("%s counts as answered by %+v", fd.Key, fd.Answer)
			}
		}
		keys := map[string]bool{}
		for _, fd := range a.Findings {
			for _, k := range append(slices.Clone(fd.Members), fd.Key) {
				if fd.Answer != nil {
					keys[strings.ToLower(strings.Join(strings.Fields(k), " "))] = true
				}
			}
		}
		for _, g := range r.ins.Answers {
			counts := slices.ContainsFunc(g.Findings.Value, func(k string) bool {
				return keys[strings.ToLower(strings.Join(strings.Fields(k), " "))]
			})
			if !counts && !told[finding.Ref{Sheet: g.Row.Sheet, Row: g.Row.Number}] {
				t.Fatalf("the answer in %s row %d is lost: %+v", g.Row.Sheet, g.Row.Number, g)
			}
		}
	})
}

// leastLetters is the fewest letters of a reason.
const leastLetters = 10

// FuzzReadList takes a list apart. Each line is a row, a broken row or blank;
// what is refused is written so that it reads back as it stood, and so that no
// spreadsheet program runs it.
func FuzzReadList(f *testing.F) {
	for _, s := range []string{"ID;Plate\n1;2", "sep=\t\na\tb", "\"a\nb\",c\n\"", "\xff\xfea\x00", "a|b\n=1|+2", "a,b\n'=x,\"-1\n@\"\n+5,-"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := ReadList("a.csv", data, 0)
		if err != nil {
			return
		}
		if len(l.Rows) != len(l.Lines) || l.Header == nil {
			t.Errorf("%d rows, %d lines", len(l.Rows), len(l.Lines))
		}
		m := &Import{Header: l.Header, Refused: slices.Clone(l.Broken)}
		for i, r := range l.Rows {
			m.Refused = append(m.Refused, RefusedRow{l.Lines[i], r, []string{"refused"}})
		}
		var out strings.Builder
		if err := m.WriteRefused(&out); err != nil {
			t.Fatal(err)
		}
		harmlessList(t, out.String())
		if strings.ContainsRune(out.String(), '\ufffd') || strings.HasPrefix(strings.ToLower(out.String()), "sep=") {
			return // bytes that were no text, or a first header that is a setting
		}
		again, err := ReadList("a.csv", []byte(out.String()), ',')
		if err != nil {
			t.Fatal(err)
		}
		if len(again.Rows) != len(m.Refused) {
			t.Fatalf("%d rows written, %d read:\n%s", len(m.Refused), len(again.Rows), out.String())
		}
		for i, r := range m.Refused {
			for n, field := range r.Fields {
				if got := again.Rows[i][n]; oneEnd(got) != oneEnd(field) {
					t.Fatalf("%q is read again as %q", field, got)
				}
			}
		}
	})
}

// oneEnd makes the line ends in a text alike, as CSV does, and drops the mark
// of a text that is no formula.
func oneEnd(s string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "").Replace(strings.TrimPrefix(s, "'"))
}

// harmlessList fails when a field of a CSV text would be run as a formula.
func harmlessList(t *testing.T, text string) {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for _, field := range row {
			if field == "" || !strings.ContainsRune("=+-@\t\r", rune(field[0])) {
				continue
			}
			if _, err := strconv.ParseFloat(field, 64); err != nil {
				t.Fatalf("a spreadsheet program would run %q", field)
			}
		}
	}
}

// FuzzImport imports a list into a sheet: each row is added or refused with a
// reason, and the copy reads as a workbook in which the person's cells are
// unchanged.
func FuzzImport(f *testing.F) {
	for _, s := range []string{
		"Plate,X (mm),Y (mm),Thickness (mm)\n3-4,10,20,6.1\n3-4,x,20,\"6,1\"\n=1+1,1,1,1",
		"Plate;X;Y;Thickness\n3-4;1;1;1e308\n3-4;;;",
		"Plate|X (in)|Y (in)|Thickness (in)|By\n'3-5|1|1|1/4|@x\n3-5|1|1|0,25|+x",
	} {
		f.Add([]byte(s))
	}
	file := fileOf(f, sketch(f, cleanSketch))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := ReadList("a.csv", data, 0)
		if err != nil {
			return
		}
		b := openBytes(t, file)
		m, err := NewImport(b, "Readings", l, nil)
		if err != nil {
			var u *finding.Unusable
			if !errors.As(err, &u) {
				t.Fatal(err)
			}
			return
		}
		blank := 0
		for _, r := range l.Rows {
			if strings.TrimSpace(strings.Join(r, "")) == "" {
				blank++
			}
		}
		if got, want := m.Rows+len(m.Refused), len(l.Rows)+len(l.Broken); got > want || got < want-blank {
			t.Fatalf("%d added, %d refused of %d rows, %d of them blank", m.Rows, len(m.Refused), want, blank)
		}
		for _, r := range m.Refused {
			if len(r.Reasons) == 0 {
				t.Fatalf("line %d is refused without a reason", r.Line)
			}
		}
		var out bytes.Buffer
		if err := b.File.WriteAppended(&out, m.added); err != nil {
			t.Fatal(err)
		}
		copied := openBytes(t, out.Bytes())
		finite(t, copied.Inspection)
		for _, s := range copied.File.Sheets {
			g, err := s.Read()
			if err != nil {
				t.Fatal(err)
			}
			for _, row := range g.Rows {
				for _, c := range row.Cells {
					if c.Formula != "" || c.NoStored {
						t.Fatalf("%s row %d holds the formula %q", s.Name, row.Number, c.Formula)
					}
				}
			}
		}
	})
}

// FuzzResults runs the whole job but the paper on a changed workbook: it ends
// with a results workbook that reads back, in which no formula comes from a
// person's text.
func FuzzResults(f *testing.F) {
	f.Add(cleanSketch)
	f.Add(strings.NewReplacer("East", "=cmd|'/c calc'!A1", "A. Day", "+A", "3-4", "=3-4", "soil", "@soil", "coil", "-coil").Replace(cleanSketch))
	f.Add(strings.NewReplacer("= Readings", "= Read'ings", "6000", "f(6000) 6000").Replace(cleanSketch))
	f.Add(strings.NewReplacer("6.35", "1e300", "1800", "1e-300").Replace(cleanSketch))
	f.Fuzz(func(t *testing.T, text string) {
		for _, tb := range sketch(t, text) {
			if tb.sheet.Name == "" || len([]rune(tb.sheet.Name)) > 31 || strings.ContainsAny(tb.sheet.Name, `\/?*[]:`) {
				return // no sheet can have that name
			}
		}
		data, err := tryFile(sketch(t, text))
		if err != nil {
			return
		}
		b, err := OpenBytes(context.Background(), "east-7.xlsx", data, Options{})
		if err != nil {
			return
		}
		finite(t, b.Inspection)
		a := rules.Assess(b.Inspection, b.Hits, nil)
		if a.Result == nil {
			return
		}
		draft, err := resultDraft(context.Background(), b, a, Record{Version: "test", Rules: rules.Version})
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := b.File.WriteWith(t.Context(), &out, draft, b.Results); err != nil {
			t.Fatal(err)
		}
		again, err := xlsx.OpenBytes("east-7.results.xlsx", out.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		ownFormulas(t, again)
	})
}
