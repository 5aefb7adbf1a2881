package workbook

import (
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/repair"
	"platebook/rules/unit"
	"platebook/workbook/xlsx"
)

// Columns of the Repairs sheet.
const (
	repairLabel = iota + 1
	repairKind
	repairPlate
	repairX
	repairY
	repairLength
	repairWidth
	repairThickness
	repairShape
	repairZone
	repairCovers
	repairStatus
	repairFails
	repairWhy
	repairRadius
	repairWeld
	repairMass
	repairWeldSI // m: what the calculation refers to in a workbook in US units
	repairMassSI // kg
)

const firstRepair = 5

// layRepairs settles the columns that steps of repairs refer to.
func (rs *results) layRepairs() {
	n := max(1, len(rs.a.Repairs.Items))
	weld, mass := repairWeldSI, repairMassSI
	if rs.sys == unit.SI {
		weld, mass = repairWeld, repairMass
	}
	for name, col := range map[string]int{repair.WeldColumn: weld, repair.MassColumn: mass} {
		c := finding.ColumnName(col)
		rs.columns[name] = finding.QuoteSheet(rs.repairs.Name) + "!$" + c + "$" + strconv.Itoa(firstRepair) + ":$" + c + "$" + strconv.Itoa(firstRepair+n-1)
	}
}

// writeSteel writes the three sheets of repairs.
func (rs *results) writeSteel() {
	if rs.a.Repairs == nil {
		return
	}
	rs.writeRepairs()
	rs.writeCutting()
	rs.writeThresholds()
}

func (rs *results) headed(s *xlsx.NewSheet, texts ...string) int {
	row := make([]xlsx.Entry, len(texts))
	for i, t := range texts {
		row[i] = xlsx.Text(t, xlsx.Header)
	}
	return s.FitRow(row...)
}

func (rs *results) in(k unit.Kind) string { return " (" + k.Unit(rs.sys) + ")" }

func (rs *results) writeRepairs() {
	s, r := rs.repairs, rs.a.Repairs
	remark := "Planned repairs in crew order, held against the rules for patches."
	if r.Proposed {
		remark = "The program's proposal, in crew order, for the owner and the licensed people to decide on. X and Y are the centre from the plate's datum corner."
	}
	s.Width(1, repairMassSI, 11)
	s.Width(repairShape, repairShape, 17)
	s.Width(repairCovers, repairCovers, 20)
	s.Width(repairFails, repairWhy, 40)
	intro(s, "Repairs", remark, repairWhy)
	head := []string{
		"Repair", "Kind", "Plate", "X" + rs.in(unit.Position), "Y" + rs.in(unit.Position), "Length" + rs.in(unit.Size), "Width" + rs.in(unit.Size),
		"Thickness" + rs.in(unit.Thickness), "Shape", "Zone", "Covers", "Status", "Checks that fail", "Reason",
		"Corner radius" + rs.in(unit.Size), "Weld" + rs.in(unit.Height), "Mass of blank" + rs.in(unit.MassKind),
	}
	if rs.sys != unit.SI {
		head = append(head, "Weld (m)", "Mass of blank (kg)")
	}
	rs.headed(s, head...)
	s.FreezeRow, s.FreezeCol = firstRepair-1, 1
	s.Print.TitleRows = strconv.Itoa(firstRepair - 1)
	for i := range r.Items {
		s.FitRow(rs.repairRow(i)...)
	}
	if len(r.Items) == 0 {
		s.Row(xlsx.Text("No location needs a repair within the interval considered, and none is planned.", xlsx.Normal))
		return
	}
	s.Skip(1)
	rs.headed(s, "Total", "", "")
	s.Row(xlsx.Text("Area, each place once"+rs.in(unit.AreaKind), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.shown("repair.area", unit.AreaKind, float64(r.Area), true))
	s.Row(xlsx.Text("Weld"+rs.in(unit.Height), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.shown("repair.weld", unit.Height, float64(r.Weld), true))
	s.Row(xlsx.Text("Vacuum box"+rs.in(unit.Height), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.shown("repair.vacuum_box", unit.Height, float64(r.Vacuum), true))
	s.Row(xlsx.Text("Weld at the shell, MT or PT"+rs.in(unit.Height), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.figure(unit.Height, float64(r.ShellWeld), true))
	s.Row(xlsx.Text("Mass of blanks"+rs.in(unit.MassKind), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.shown("repair.mass", unit.MassKind, float64(r.Mass.V), r.Mass.Known))
	s.Row(xlsx.Text("Mass of replacement plates"+rs.in(unit.MassKind), xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.figure(unit.MassKind, float64(r.PlateMass.V), r.PlateMass.Known))
	s.Skip(1)
	rs.headed(s, "Repair", "Check", "", "Verdict", "Value", "Limit", "Unit", "Clause", "Source", "", "Note")
	for i := range r.Items {
		for _, c := range r.Items[i].Checks {
			verdict := xlsx.Text("not checked", xlsx.Muted)
			if c.Known && c.OK {
				verdict = xlsx.Text("pass", xlsx.Good)
			} else if c.Known {
				verdict = xlsx.Text("fail", xlsx.Bad)
			}
			value, limit, u := xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), ""
			if c.Value.Known && c.Limit.Known {
				value, limit, u = rs.figure(c.Kind, float64(c.Value.V), true), rs.figure(c.Kind, float64(c.Limit.V), true), c.Op+" "+c.Kind.Unit(rs.sys)
			}
			s.Row(xlsx.Text(r.Items[i].Label, xlsx.Bold), xlsx.Text(c.ID, xlsx.Normal), xlsx.Blank(xlsx.Normal), verdict, value, limit, xlsx.Text(u, xlsx.Muted),
				xlsx.Text(c.Clause, xlsx.Normal), xlsx.Text(c.Source, xlsx.Muted), xlsx.Blank(xlsx.Normal), xlsx.Text(c.Note, xlsx.Normal))
		}
	}
}

func (rs *results) writeCutting() {
	s, r := rs.cutting, rs.a.Repairs
	intro(s, "Cutting list", "Pieces by thickness and their place on the stock sheets, by cuts from edge to edge with the kerf kept. X and Y run along the sheet's length and width from its corner to the piece's near corner. Paint the mark on each piece.", 12)
	s.Width(2, 12, 12)
	s.Width(1, 1, 16)
	rs.headed(s, "Mark", "Repair", "Plate", "Thickness"+rs.in(unit.Thickness), "Length"+rs.in(unit.Size), "Width"+rs.in(unit.Size), "Corner radius"+rs.in(unit.Size),
		"Mass"+rs.in(unit.MassKind), "Sheet", "X"+rs.in(unit.Size), "Y"+rs.in(unit.Size), "Turned")
	s.FreezeRow = firstRepair - 1
	size := func(v float64) xlsx.Entry { return xlsx.Number(unit.Size.In(rs.sys, v), fixed(unit.Size, rs.sys, 0)) }
	sheets := 0
	for _, g := range r.Cutting.Groups {
		at := g.Places()
		for i, p := range g.Pieces {
			it := &r.Items[p.Item]
			cells := []xlsx.Entry{
				xlsx.Text(p.Mark, xlsx.Bold), xlsx.Text(it.Label, xlsx.Normal), xlsx.Text(rs.a.Inspection.Plates[it.Plate].Label.Text, xlsx.Normal),
				rs.figure(unit.Thickness, float64(g.Thickness), true), size(float64(p.Length)), size(float64(p.Width)), size(float64(p.Radius)),
				rs.figure(unit.MassKind, float64(repair.BlankMass(p.Length, p.Width, g.Thickness)), true),
			}
			if q := at[i]; q.Sheet >= 0 {
				turned := ""
				if q.Turned {
					turned = "turned"
				}
				cells = append(cells, xlsx.Number(float64(sheets+q.Sheet+1), xlsx.Whole), size(q.X), size(q.Y), xlsx.Text(turned, xlsx.Normal))
			} else {
				cells = append(cells, xlsx.Text("none", xlsx.Warn))
			}
			s.Row(cells...)
		}
		if g.Layout != nil {
			sheets += len(g.Layout.Sheets)
		}
	}
	if len(r.Cutting.Groups) == 0 {
		s.Row(xlsx.Text("No pieces to cut.", xlsx.Normal))
	}
	s.Skip(1)
	rs.headed(s, "Stock sheet", "Thickness"+rs.in(unit.Thickness), "Length"+rs.in(unit.Size), "Width"+rs.in(unit.Size), "Pieces", "Mass"+rs.in(unit.MassKind), "Offcuts worth keeping"+rs.in(unit.Size))
	n := 0
	for _, g := range r.Cutting.Groups {
		if g.Layout == nil {
			s.Row(xlsx.Text(g.Why, xlsx.Warn))
			continue
		}
		for _, sheet := range g.Layout.Sheets {
			n++
			var keep []string
			for _, o := range sheet.Offcuts {
				keep = append(keep, unit.Size.Text(rs.sys, o.Length, 0)+" × "+unit.Size.Text(rs.sys, o.Width, 0))
			}
			s.Row(xlsx.Number(float64(n), xlsx.Whole), rs.figure(unit.Thickness, float64(g.Thickness), true), size(sheet.Size.Length), size(sheet.Size.Width),
				xlsx.Number(float64(len(sheet.Pieces)), xlsx.Whole),
				rs.figure(unit.MassKind, float64(repair.BlankMass(unit.Length(sheet.Size.Length), unit.Length(sheet.Size.Width), g.Thickness)), true),
				xlsx.Text(strings.Join(keep, ", "), xlsx.Normal))
		}
	}
	s.Skip(1)
	for _, t := range []struct {
		text, id string
		k        unit.Kind
		v        float64
		known    bool
	}{
		{"Stock sheets", "cutting.sheets", unit.Number, float64(r.Sheets), true},
		{"Needed at least, by area", "cutting.bound_area", unit.Number, float64(r.BoundArea), true},
		{"Needed at least, by pieces that exclude each other", "cutting.bound_dual", unit.Number, float64(r.BoundDual), true},
		{"Yield (%)", "cutting.yield", unit.Share, float64(r.Yield.V), r.Yield.Known},
	} {
		s.Row(xlsx.Text(t.text, xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), rs.shown(t.id, t.k, t.v, t.known))
	}
	if len(r.Cutting.Separate)+len(r.Cutting.Unknown) > 0 {
		s.Skip(1)
		rs.headed(s, "Ordered separately", "Plate", "Length"+rs.in(unit.Size), "Width"+rs.in(unit.Size), "Thickness"+rs.in(unit.Thickness), "Why")
		for _, o := range r.Cutting.Separate {
			it := &r.Items[o.Item]
			s.Row(xlsx.Text(it.Label, xlsx.Bold), xlsx.Text(rs.a.Inspection.Plates[it.Plate].Label.Text, xlsx.Normal), size(float64(it.Length)), size(float64(it.Width)),
				rs.figure(unit.Thickness, float64(it.Thickness.V), it.Thickness.Known), xlsx.Text(o.Why, xlsx.Normal))
		}
		for _, n := range r.Cutting.Unknown {
			it := &r.Items[n]
			s.Row(xlsx.Text(it.Label, xlsx.Bold), xlsx.Text(rs.a.Inspection.Plates[it.Plate].Label.Text, xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal), xlsx.Blank(xlsx.Normal),
				xlsx.Text("thickness or size not known", xlsx.Warn))
		}
	}
}

func (rs *results) writeThresholds() {
	s, r := rs.thresholds, rs.a.Repairs
	intro(s, "Thresholds", "What repairing everything thinner than a threshold costs and gives, at the rates by the criterion Rate after repair. At least: the closed form, critical zone and annular ring apart.", 10)
	s.Width(1, 10, 14)
	rs.headed(s, "Repair below"+rs.in(unit.Thickness), "Repairs", "Area"+rs.in(unit.AreaKind), "Plates", "Mass of blanks"+rs.in(unit.MassKind), "Stock sheets", "Interval (years)", "Without cap (years)", "At least (years)")
	s.FreezeRow = firstRepair - 1
	s.Print.TitleRows = strconv.Itoa(firstRepair - 1)
	years := func(v unit.Maybe[unit.Years]) xlsx.Entry {
		if !v.Known {
			return notKnown()
		}
		return downToTenth(float64(v.V))
	}
	for _, l := range r.Thresholds() {
		s.Row(rs.figure(unit.Thickness, float64(l.Below), true), xlsx.Number(float64(l.Repairs), xlsx.Whole), rs.figure(unit.AreaKind, float64(l.Area), true),
			xlsx.Number(float64(l.Plates), xlsx.Whole), rs.figure(unit.MassKind, float64(l.Mass), true), xlsx.Number(float64(l.Sheets), xlsx.Whole),
			years(l.Interval), years(l.Uncapped), years(l.AtLeast))
	}
	if len(r.Thresholds()) == 0 {
		s.Row(xlsx.Text("Without a nominal thickness and a required thickness there are no thresholds.", xlsx.Normal))
	}
	s.Skip(1)
	s.Row(xlsx.Text("Needed for "+unit.Time.TextUnit(rs.sys, float64(r.Target), 0)+rs.in(unit.Thickness), xlsx.Bold), xlsx.Blank(xlsx.Normal), rs.shown("threshold.needed", unit.Thickness, float64(r.Needed.V), r.Needed.Known))
}
