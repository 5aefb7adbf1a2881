package workbook

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/assess"
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/std/api653_5"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Rows of the Summary that a later run reads to know whose results they are.
const (
	summarySite = "Site"
	summaryTank = "Tank"
)

func (rs *results) writeSummary(s *xlsx.NewSheet) {
	t := &rs.a.Inspection.Tank
	s.Print.Landscape = false
	s.Width(1, 1, 44)
	s.Width(2, 2, 26)
	s.Width(3, 4, 26)
	s.Row(xlsx.Text("Summary", xlsx.Title))
	standing, caution := rs.a.Standing()
	look := xlsx.Good
	if caution {
		look = xlsx.Bad
	}
	s.Row(xlsx.Text(standing, look))
	s.Skip(1)
	for _, p := range [][2]string{
		{"Report number", t.ReportNumber.Text},
		{"Revision", t.Revision.Text},
		{"Client", t.Client.Text},
		{summarySite, t.Site.Text},
		{summaryTank, t.Tank.Text},
		{"Inspection", t.InspectionStart.Value.String() + " to " + t.InspectionEnd.Value.String()},
		{"Report date", t.ReportDate.Value.String()},
	} {
		s.Row(xlsx.Text(p[0], xlsx.Muted), xlsx.Text(p[1], xlsx.Normal))
	}
	s.Skip(1)
	rs.writeStates(s)
	rs.writeSensitivity(s)
	rs.writeZones(s)
	rs.writeCoverage(s)
	rs.writeOpen(s)
}

// writeStates is the table of the floor before and after repair.
func (rs *results) writeStates(s *xlsx.NewSheet) {
	res := rs.a.Result
	head := []xlsx.Entry{xlsx.Text("Floor", xlsx.Header)}
	var states []*assess.StateResult
	for _, st := range assess.States {
		r := res.State(st)
		if r == nil {
			continue
		}
		states = append(states, r)
		words := sentence(res.StateWords(st))
		if st == res.PageOne {
			words += " (page one)"
		}
		head = append(head, xlsx.Text(words, xlsx.Header))
	}
	s.FitRow(head...)
	line := func(title string, cell func(*assess.StateResult) xlsx.Entry) {
		row := []xlsx.Entry{xlsx.Text(title, xlsx.Normal)}
		for _, r := range states {
			row = append(row, cell(r))
		}
		s.FitRow(row...)
	}
	thick, rate := unit.Thickness.Unit(rs.sys), unit.RateKind.Unit(rs.sys)
	line("Smallest remaining, soil side ("+thick+")", func(r *assess.StateResult) xlsx.Entry {
		return rs.shown("thickness.soil."+r.State.String(), unit.Thickness, float64(r.SoilMin.V), r.SoilMin.Known)
	})
	line("   at", func(r *assess.StateResult) xlsx.Entry { return rs.minimumAt(r.SoilMinAt, r.SoilMin) })
	line("Smallest remaining, product side ("+thick+")", func(r *assess.StateResult) xlsx.Entry {
		return rs.shown("thickness.product."+r.State.String(), unit.Thickness, float64(r.ProductMin.V), r.ProductMin.Known)
	})
	line("   at", func(r *assess.StateResult) xlsx.Entry { return rs.minimumAt(r.ProductMinAt, r.ProductMin) })
	line("Corrosion rate, soil side ("+rate+")", func(r *assess.StateResult) xlsx.Entry {
		return rs.shown("rate.soil."+r.State.String(), unit.RateKind, float64(r.SoilRate.V), r.SoilRate.Known)
	})
	line("Corrosion rate, product side ("+rate+")", func(r *assess.StateResult) xlsx.Entry {
		return rs.shown("rate.product."+r.State.String(), unit.RateKind, float64(r.ProductRate.V), r.ProductRate.Known)
	})
	line("Minimum remaining thickness, MRT ("+thick+")", func(r *assess.StateResult) xlsx.Entry {
		return rs.shown("mrt."+r.State.String(), unit.Thickness, float64(r.MRT.V), r.MRT.Known)
	})
	line("   after, rounded down (years)", func(r *assess.StateResult) xlsx.Entry {
		if !r.MRTYears.Known {
			return notKnown()
		}
		years := float64(r.MRTYears.V)
		if d := rs.a.Inspection.Tank.DesiredInterval; d.OK() && d.Plain && d.Ref.IsCell() {
			return liveTenth(rs.cellExpression(d.Ref, d.Scale, unit.Time), years)
		}
		id := "interval.adopted." + r.State.String()
		if st := rs.a.Result.Steps.Find(id); st != nil && st.Known && close9(st.Value, years) {
			return liveTenth(rs.cells[id], years)
		}
		return downToTenth(years)
	})
	line("Required thickness ("+thick+")", func(r *assess.StateResult) xlsx.Entry {
		id := "required.general"
		if st := rs.a.Result.Steps.Find("required.unlined"); st != nil && close9(st.Value, float64(r.Required.V)) {
			id = st.ID // of a state whose interval the lining does not live through
		}
		return rs.shown(id, unit.Thickness, float64(r.Required.V), r.Required.Known)
	})
	line("Calculated interval, rounded down (years)", func(r *assess.StateResult) xlsx.Entry {
		if !r.Interval.Known {
			return notKnown()
		}
		id := "interval.adopted." + r.State.String()
		if st := rs.a.Result.Steps.Find(id); st != nil && st.Known && close9(st.Value, float64(r.Interval.V)) {
			return liveTenth(rs.cells[id], float64(r.Interval.V))
		}
		return downToTenth(float64(r.Interval.V))
	})
	line("   governed by", func(r *assess.StateResult) xlsx.Entry {
		return xlsx.Text(r.GovernedBy.Words(), xlsx.Wrapped)
	})
	line("Calculated next date", func(r *assess.StateResult) xlsx.Entry {
		if r.NextDate == 0 {
			return notKnown()
		}
		return rs.shown("interval.next_date."+r.State.String(), unit.DateKind, float64(r.NextDate), true)
	})
	s.Skip(1)
}

// minimumAt is where a least thickness stands, and that it was not measured
// where it was not.
func (rs *results) minimumAt(label string, v unit.Maybe[unit.Length]) xlsx.Entry {
	switch l := rs.a.Result.At(label, v); {
	case l == nil:
	case l.Kind == assess.ThresholdAt:
		label += ", what the scan may have missed"
	case l.Estimated():
		label += ", estimated"
	}
	return xlsx.Text(label, xlsx.Wrapped)
}

func notKnown() xlsx.Entry { return xlsx.Text("–", xlsx.Normal) }

// tenth rounds an interval down, so that a printed one is never longer than
// the calculated one.
func tenth(years float64) float64 { return math.Floor(10*(years+1e-9)) / 10 }

// liveTenth is such a number, live from the cell or expression of the years.
func liveTenth(from string, years float64) xlsx.Entry {
	return xlsx.Live("INT(10*("+from+"+1E-09))/10", tenth(years), xlsx.Fixed1)
}

func downToTenth(years float64) xlsx.Entry { return xlsx.Number(tenth(years), xlsx.Fixed1) }

// shown is a value in the workbook's units, live from its step when the step
// has that value.
func (rs *results) shown(id string, k unit.Kind, v float64, known bool) xlsx.Entry {
	if !known {
		return notKnown()
	}
	style := fixed(k, rs.sys, 0)
	if k == unit.RateKind {
		style = xlsx.Fixed3
	}
	own := k.In(rs.sys, v)
	if k == unit.DateKind {
		own -= rs.since
	}
	st := rs.a.Result.Steps.Find(id)
	if st == nil || !st.Known || !close9(st.Value, v) {
		return xlsx.Number(own, style)
	}
	f := rs.cells[id]
	if factor := k.Factor(rs.sys) / k.Factor(unit.SI); factor != 1 {
		f += "/" + literal(factor)
		own = rs.si(k, v) / factor
	}
	return xlsx.Live(f, own, style)
}

// ofStep is the value of a step, live.
func (rs *results) ofStep(id string, k unit.Kind) xlsx.Entry {
	st := rs.a.Result.Steps.Find(id)
	if st == nil || !st.Known {
		return notKnown()
	}
	return rs.shown(id, k, st.Value, true)
}

// writeZones tells of each zone what it requires, what was measured, and what
// is left of that at the end of the interval: the verdict holds for both.
func (rs *results) writeZones(s *xlsx.NewSheet) {
	u := unit.Thickness.Unit(rs.sys)
	s.FitRow(xlsx.Text("Zones, as found", xlsx.Header), xlsx.Text("Required ("+u+")", xlsx.Header), xlsx.Text("Least measured ("+u+")", xlsx.Header),
		xlsx.Text("At the end of the interval ("+u+")", xlsx.Header), xlsx.Text("Verdict", xlsx.Header))
	for _, z := range []struct {
		name, steps string
		r           assess.ZoneResult
	}{{"Critical zone", "critical", rs.a.Result.CriticalZone}, {"Annular ring", "annular", rs.a.Result.Annular}} {
		verdict := xlsx.Text("not judged", xlsx.Warn)
		switch {
		case !z.r.Required.Known && !z.r.OKKnown && !z.r.Min.Known:
			verdict = notKnown()
		case z.r.OKKnown && z.r.OK:
			verdict = xlsx.Text("pass", xlsx.Good)
		case z.r.OKKnown:
			verdict = xlsx.Text("fail", xlsx.Bad)
		}
		s.Row(xlsx.Text(z.name, xlsx.Normal), rs.shown(z.steps+".required", unit.Thickness, float64(z.r.Required.V), z.r.Required.Known), rs.leastIn(&z.r),
			rs.ofStep(z.steps+".projected."+assess.AsFound.String(), unit.Thickness), verdict)
	}
	s.Skip(1)
}

// leastIn is the least thickness in a zone, live from its place or reading.
func (rs *results) leastIn(z *assess.ZoneResult) xlsx.Entry {
	if !z.Min.Known {
		return notKnown()
	}
	mm, style := float64(z.Min.V), fixed(unit.Thickness, rs.sys, 0)
	for i := range rs.a.Result.Locations {
		if l := &rs.a.Result.Locations[i]; l.Label == z.MinAt && l.Remaining == z.Min {
			return rs.fromPlace(placeRemaining, i, mm, style)
		}
	}
	for i := range rs.a.Inspection.Readings {
		if r := &rs.a.Inspection.Readings[i]; r.Key == z.MinAt && r.Thickness.OK() && r.Thickness.Value == z.Min.V {
			return rs.lengthCell(r.Thickness, unit.Thickness)
		}
	}
	return xlsx.Number(unit.Thickness.In(rs.sys, mm), style)
}

func (rs *results) writeCoverage(s *xlsx.NewSheet) {
	s.Row(xlsx.Text("Coverage and repairs", xlsx.Header), xlsx.Text("", xlsx.Header))
	shares := rs.shares()
	for i, name := range []string{"Scanned by MFL (%)", "Scanned by hand (%)", "Gridded by UT (%)", "Not examined (%)"} {
		s.Row(xlsx.Text(name, xlsx.Normal), shares[i])
	}
	count := map[assess.Verdict]int{}
	for i := range rs.a.Result.Locations {
		count[rs.a.Result.Locations[i].Verdict]++
	}
	for _, v := range []assess.Verdict{assess.RepairFirst, assess.Repair, assess.Engineering, assess.Repaired} {
		n := xlsx.Number(0, xlsx.Whole)
		if len(rs.a.Result.Locations) > 0 {
			n = xlsx.Live("COUNTIF("+span(rs.places.Name, placeVerdict, firstPlace, firstPlace+len(rs.a.Result.Locations)-1)+",\""+string(v)+"\")", float64(count[v]), xlsx.Whole)
		}
		s.Row(xlsx.Text("Places with the verdict "+string(v), xlsx.Normal), n)
	}
	rs.writeSteelTotals(s)
	if n := len(rs.a.Result.Limitations); n > 0 {
		s.Skip(1)
		s.Row(xlsx.Text("What the numbers leave open", xlsx.Header))
		for _, l := range rs.a.Result.Limitations {
			rs.paragraph(s, l)
		}
	}
	s.Skip(1)
}

// writeSteelTotals tells how many repairs there are and what they take.
func (rs *results) writeSteelTotals(s *xlsx.NewSheet) {
	r := rs.a.Repairs
	if r == nil {
		return
	}
	what := "Repairs planned or completed"
	if r.Proposed {
		what = "Repairs, the program's proposal"
	}
	if len(r.Items) == 0 {
		s.Row(xlsx.Text(what, xlsx.Normal), xlsx.Text("none", xlsx.Normal))
		return
	}
	s.Row(xlsx.Text(what, xlsx.Normal), xlsx.Live("COUNTA("+span(rs.repairs.Name, repairLabel, firstRepair, firstRepair+len(r.Items)-1)+")", float64(len(r.Items)), xlsx.Whole))
	for _, t := range []struct {
		text, step string
		k          unit.Kind
	}{
		{"Area of repairs, each place once" + rs.in(unit.AreaKind), "repair.area", unit.AreaKind},
		{"Weld" + rs.in(unit.Height), "repair.weld", unit.Height},
		{"Mass of blanks" + rs.in(unit.MassKind), "repair.mass", unit.MassKind},
		{"Stock sheets", "cutting.sheets", unit.Number},
	} {
		s.Row(xlsx.Text(t.text, xlsx.Normal), rs.ofStep(t.step, t.k))
	}
}

// paragraph is a text across the page.
func (rs *results) paragraph(s *xlsx.NewSheet, text string) {
	lines := 1 + len(text)/110
	row := s.TallRow(float64(15*lines), xlsx.Text(text, xlsx.Wrapped))
	s.Merge(xlsx.Area{Col1: 1, Row1: row, Col2: 4, Row2: row})
}

const mostOpen = 30 // open findings on the one page; all are in Findings

func (rs *results) writeOpen(s *xlsx.NewSheet) {
	if n := len(rs.a.LeftOut); n > 0 {
		s.Row(xlsx.Text(count(n, "row")+" left out for an error", xlsx.Header))
		for _, r := range rs.a.LeftOut[:min(n, mostOpen)] {
			s.LinkTo(1, s.Next(), r.Ref(1).String())
			s.Row(xlsx.Text(r.Sheet+" row "+strconv.Itoa(r.Number)+": "+r.Key, xlsx.Link))
		}
		if n > mostOpen {
			s.Row(xlsx.Text(fmt.Sprintf("and %d more", n-mostOpen), xlsx.Muted))
		}
		s.Skip(1)
	}
	var open []*finding.Finding
	for i := range rs.a.Findings {
		if f := &rs.a.Findings[i]; f.Severity >= finding.Error || f.Severity == finding.Warning && f.Answer == nil {
			open = append(open, f)
		}
	}
	if len(open) == 0 {
		s.Row(xlsx.Text("No error and no unanswered warning", xlsx.Good))
		return
	}
	slices.SortStableFunc(open, func(a, b *finding.Finding) int { return int(b.Severity) - int(a.Severity) })
	s.Row(xlsx.Text("Open errors and unanswered warnings", xlsx.Header))
	for _, f := range open[:min(len(open), mostOpen)] {
		rs.paragraph(s, f.Severity.String()+" "+f.Rule+": "+strings.TrimPrefix(f.Place()+": ", ": ")+f.Message)
	}
	if n := len(open); n > mostOpen {
		s.Row(xlsx.Text(fmt.Sprintf("first %d of %d; all are in %s", mostOpen, n, rs.draft.Sheets()[1]), xlsx.Muted))
	}
}

// writeRecord is what a reviewer needs to run the same again.
func (rs *results) writeRecord(s *xlsx.NewSheet, b *Book, r Record) {
	in := rs.a.Inspection
	s.Width(1, 1, 38)
	s.Width(2, 3, 28)
	s.Width(4, 4, 12)
	s.Width(5, 6, 30)
	s.Row(xlsx.Text("Record", xlsx.Title))
	s.Row(xlsx.Text("What these results were made of and by. The same input gives the same results.", xlsx.Muted))
	s.Skip(1)
	for _, p := range [][2]string{
		{recordProgram, "platebook " + r.Version},
		{recordRules, r.Rules},
		{recordStandard, api653_5.Document + ", " + api653_5.Editions[0].Name},
		{recordInput, b.File.Name},
		{recordFile, in.File.SHA256},
		{recordValues, in.File.ValuesSHA256},
		{"Units", rs.sys.String()},
		{recordTime, in.AsOf.String()},
	} {
		s.Row(xlsx.Text(p[0], xlsx.Normal), xlsx.Text(p[1], xlsx.Normal))
	}
	if names, hash, err := sheetHashes(b); err == nil { // so that a reviewer sees which sheet changed
		for _, n := range names {
			s.Row(xlsx.Text(recordSheet+n, xlsx.Normal), xlsx.Text(hash[n], xlsx.Normal))
		}
	}
	s.Skip(1)
	row := s.Next()
	s.Row(xlsx.Text("Criterion", xlsx.Header), xlsx.Text("In force", xlsx.Header), xlsx.Text("Default", xlsx.Header), xlsx.Text("Unit", xlsx.Header), xlsx.Text("Source of the default", xlsx.Header), xlsx.Text("Note", xlsx.Header))
	s.Print.TitleRows = strconv.Itoa(row)
	set := rs.criteria()
	for _, d := range criteria.Table {
		v := set.Get(d.Name)
		value := v.Text
		if !v.Set {
			value = "none"
		}
		look, cell := xlsx.Normal, xlsx.Normal
		if v.Changed {
			look = xlsx.Warn
		}
		if v.Ref.IsCell() {
			cell = xlsx.Link
			s.LinkTo(1, s.Next(), v.Ref.String())
		}
		fallback := d.Default(rs.sys)
		if fallback == "" {
			fallback = "none"
		}
		s.Row(xlsx.Text(string(d.Name), cell), xlsx.Text(value, look), xlsx.Text(fallback, xlsx.Normal), xlsx.Text(d.Unit(rs.sys), xlsx.Muted),
			xlsx.Text(strings.TrimSpace(string(d.Mark)+" "+d.Clause), xlsx.Normal), xlsx.Text(v.Note, xlsx.Wrapped))
	}
	if verify := rs.a.Verify(); len(verify) > 0 {
		s.Skip(1)
		s.Row(xlsx.Text("Used from memory: to be verified against a licensed copy of the standard", xlsx.Heading))
		for _, t := range verify {
			s.Row(xlsx.Text(t, xlsx.Normal))
		}
	}
	writeFingerprints(s, b)
}
