package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/floor"
	"platebook/rules/inspection"
	"platebook/rules/spelling"
	"platebook/rules/unit"
)

// Values judges values against what they can be, before a plan is drawn from
// them: the units of columns (C104), of a person or a day (C105), few percent
// left (C106), percent scales (C110), plates larger than the tank (R206). A value in error becomes unknown, so
// that nothing is placed, drawn or calculated from it.
func Values(in *inspection.Inspection) []finding.Hit {
	j := newJudge(in, nil)
	j.unitsOfSizes()
	j.tooLarge()
	j.unitsOfThickness()
	j.unitsOfPlaces()
	j.fewPercent()
	j.percentScales()
	return j.hits
}

// factors are what a value is off by when its unit is another than stated.
var factors = []float64{25.4, 1 / 25.4, 1000, 1. / 1000, 39.37, 1 / 39.37, 12, 1. / 12, 304.8, 1 / 304.8}

// share is how many of a column's values must be out of place, and come back
// by one factor, before the column's unit is doubted; three values at least.
const (
	share       = 0.8
	leastValues = 3
)

// sample is one value of a column with the band it should lie in.
type sample struct {
	v, low, high float64 // before a factor
	highAfter    float64 // after a factor
	field        *inspection.Length
	label        string // row key
}

func (s sample) inPlace(f float64) bool {
	v, high := s.v*f, s.high
	if f != 1 {
		high = s.highAfter
	}
	return v >= s.low && v <= high
}

// wrongUnit is the factor that explains a column's values, 0 when they are in
// place or no factor explains them.
func wrongUnit(all []sample) float64 {
	if len(all) < leastValues {
		return 0
	}
	out := 0
	for _, s := range all {
		if !s.inPlace(1) {
			out++
		}
	}
	if float64(out) < share*float64(len(all)) {
		return 0
	}
	best, most := 0.0, 0
	for _, f := range factors {
		n := 0
		for _, s := range all {
			if s.inPlace(f) {
				n++
			}
		}
		if float64(n) >= share*float64(len(all)) && n > most {
			best, most = f, n
		}
	}
	return best
}

// named is the units a length may really have been typed in, in mm.
var named = []struct {
	name string
	mm   float64
}{{"inches", 25.4}, {"millimetres", 1}, {"metres", 1000}, {"feet", 304.8}, {"mils", 0.0254}, {"micrometres", 0.001}}

// asked is the one unit that would put the values in place under a column
// whose numbers are stored by scale: "; inches?". With two such units, or
// none, nothing is asked.
func asked(all []sample, scale float64) string {
	if scale <= 0 {
		scale = 1
	}
	found := ""
	for _, u := range named {
		f := u.mm / scale
		if math.Abs(f-1) < 1e-9 {
			continue
		}
		n := 0
		for _, s := range all {
			if s.inPlace(f) {
				n++
			}
		}
		if float64(n) < share*float64(len(all)) {
			continue
		}
		if found != "" {
			return ""
		}
		found = u.name
	}
	if found == "" {
		return ""
	}
	return "; " + found + "?"
}

func (j *judge) scale(kind, column string) float64 {
	if s := j.in.Sheet(kind); s != nil {
		if c, ok := s.Columns[column]; ok && c.Scale > 0 {
			return c.Scale
		}
	}
	if j.in.Units == unit.US {
		return 25.4
	}
	return 1
}

// columnHit is a hit about a column's values: it stands on the first and says
// how many there are.
func (j *judge) columnHit(rule, kind, column string, values []finding.Ref, value, format string, args ...any) finding.Hit {
	h := finding.Hit{Rule: rule, Kind: kind, Column: column, Value: value, Message: fmt.Sprintf(format, args...)}
	if len(values) == 0 {
		h.Ref = j.in.HeaderRef(kind, column)
		return h
	}
	slices.SortFunc(values, func(a, b finding.Ref) int { return a.Row - b.Row })
	h.Ref = values[0]
	h.Cells = len(values)
	if last := values[len(values)-1]; last.Row > h.Ref.Row {
		h.LastRow = last.Row
	}
	h.Related = see("header", j.in.HeaderRef(kind, column))
	return h
}

// spoil makes values unknown.
func spoil(all []sample) []finding.Ref {
	refs := make([]finding.Ref, len(all))
	for i, s := range all {
		s.field.State = inspection.Wrong
		refs[i] = s.field.Ref
	}
	return refs
}

// typed says whether a value can be judged: usable, or out of its range
// alone, where the reader keeps the number.
func typed(f *inspection.Length) bool {
	return f.Value != 0 && (f.State == inspection.Given || f.State == inspection.Wrong)
}

func (j *judge) unitsOfThickness() {
	j.columnsOfThickness(func(column []measured) {
		var all []sample
		var from []measured
		for _, m := range column {
			t := float64(j.nominal(j.plate(*m.plate)))
			if !typed(m.value) || t == 0 {
				continue
			}
			s := sample{v: float64(m.value.Value), low: 0.05 * t, high: 1.5 * t, highAfter: 1.15 * t, field: m.value, label: m.row.Key}
			if m.depth {
				s.low, s.high, s.highAfter = 0.02*t, t, t
			}
			all, from = append(all, s), append(from, m)
		}
		if len(all) == 0 {
			return
		}
		kind, name := column[0].kind, column[0].column
		if wrongUnit(all) != 0 {
			rest := make([]*inspection.Length, len(column))
			for i := range column {
				rest[i] = column[i].value
			}
			j.put(j.unitHit(kind, name, all, rest, j.nominal(j.plate(*from[0].plate))))
			return
		}
		j.unitsOfPeople(kind, name, all, from, column)
	})
}

// unitHit makes every value of the column unknown, also those that could not
// be judged, since they were typed in the same unit.
func (j *judge) unitHit(kind, column string, all []sample, rest []*inspection.Length, nominal unit.Length) finding.Hit {
	worst := all[0]
	for _, s := range all {
		if !s.inPlace(1) {
			worst = s
			break
		}
	}
	question := asked(all, j.scale(kind, column))
	value := worst.field.Text
	message := fmt.Sprintf("%s %s is out of its range%s", column, value, question)
	if nominal > 0 {
		message = fmt.Sprintf("%s %s is %s of nominal %s%s", column, value,
			percent(100*worst.v/float64(nominal)), j.thick(nominal), question)
	}
	refs := spoil(all)
	for _, f := range rest {
		if f.OK() {
			f.State = inspection.Wrong
			refs = append(refs, f.Ref)
		}
	}
	h := j.columnHit("C104", kind, column, refs, value, "%s", message)
	h.Row = worst.label
	return h
}

// unitsOfPeople looks for one person's or one day's values in another unit.
func (j *judge) unitsOfPeople(kind, column string, all []sample, from, whole []measured) {
	done := make(map[int]bool)
	group := func(word string, of func(m measured) string) {
		var names []string
		rows := make(map[string][]int)
		for i, m := range from {
			name := of(m)
			if name == "" || done[i] {
				continue
			}
			if rows[name] == nil {
				names = append(names, name)
			}
			rows[name] = append(rows[name], i)
		}
		for _, name := range names {
			own := make([]sample, 0, len(rows[name]))
			for _, i := range rows[name] {
				own = append(own, all[i])
			}
			if len(own) == len(all) || wrongUnit(own) == 0 {
				continue
			}
			question := asked(own, j.scale(kind, column))
			like := "look like another unit"
			if question != "" {
				like = "look like " + strings.Trim(question, "; ?")
			}
			refs := spoil(own)
			for _, i := range rows[name] {
				done[i] = true
			}
			for _, m := range whole {
				if m.value.OK() && of(m) == name {
					m.value.State = inspection.Wrong
					refs = append(refs, m.value.Ref)
				}
			}
			j.put(finding.Hit{
				Rule: "C105", Kind: kind, Column: column, Subject: name, Ref: refs[0], Row: own[0].label, Value: own[0].field.Text,
				Message: fmt.Sprintf("%s of %s %s", spelling.Count(len(refs), "value", "values"), word+name, like),
				Related: see("", refs[1:]...),
			})
		}
	}
	group("", func(m measured) string { return strings.TrimSpace(m.by.Or("")) })
	group("the day ", func(m measured) string { return m.date.Or(0).String() })
}

// unitsOfSizes holds sizes and other thicknesses against their band.
func (j *judge) unitsOfSizes() {
	in := j.in
	column := func(kind, name string, low, high float64, n int, at func(i int) (*inspection.Length, string)) {
		var all []sample
		for i := range n {
			f, label := at(i)
			if typed(f) {
				all = append(all, sample{v: float64(f.Value), low: low, high: high, highAfter: high, field: f, label: label})
			}
		}
		if wrongUnit(all) != 0 {
			j.put(j.unitHit(kind, name, all, nil, 0))
		}
	}
	plates := func(name string, low, high float64, f func(p *inspection.Plate) *inspection.Length) {
		column("Plates", name, low, high, len(in.Plates), func(i int) (*inspection.Length, string) {
			return f(&in.Plates[i]), in.Plates[i].Key
		})
	}
	plates("Length", 50, 20000, func(p *inspection.Plate) *inspection.Length { return &p.Length })
	plates("Width", 50, 6000, func(p *inspection.Plate) *inspection.Length { return &p.Width })
	plates("Nominal", 2, 50, func(p *inspection.Plate) *inspection.Length { return &p.Nominal })
	plates("Coating", 0, 10, func(p *inspection.Plate) *inspection.Length { return &p.Coating })
	column("Existing patches", "Thickness", 2, 50, len(in.Patches), func(i int) (*inspection.Length, string) {
		return &in.Patches[i].Thickness, in.Patches[i].Key
	})
	column("Planned repairs", "Thickness", 2, 50, len(in.Repairs), func(i int) (*inspection.Length, string) {
		return &in.Repairs[i].Thickness, in.Repairs[i].Key
	})
}

// The unit of X and Y is doubted when half lie off their plate and one factor
// brings all back, or when twenty or more all huddle in the datum corner.
const (
	leastHuddled = 20
	huddle       = 0.05
)

// axis is one coordinate of one sheet.
type axis struct{ kind, column string }

// coordinates is the values of X and Y by sheet, in order, with the size of
// their plate as the band; rest is those on plates that are not known.
func (j *judge) coordinates() (order []axis, all map[axis][]sample, rest map[axis][]*inspection.Length) {
	tol := j.in.Criteria.Number("Position tolerance")
	all, rest = make(map[axis][]sample), make(map[axis][]*inspection.Length)
	kind, rows := "", j.rowsOf()
	var found [2][]sample
	var unknown [2][]*inspection.Length
	columns := [2]string{"X", "Y"}
	store := func() {
		for i, column := range columns {
			a := axis{kind, column}
			if len(found[i]) > 0 {
				order, all[a] = append(order, a), found[i]
			}
			if len(unknown[i]) > 0 {
				rest[a] = unknown[i]
			}
			found[i], unknown[i] = nil, nil
		}
	}
	j.spots(func(s spot) {
		if s.plate == nil {
			return
		}
		if s.kind != kind {
			store()
			kind = s.kind
		}
		n := j.plate(*s.plate)
		if n < 0 {
			unknown[0], unknown[1] = append(unknown[0], s.x), append(unknown[1], s.y)
			return
		}
		p := &j.in.Plates[n]
		for i, f := range [2]*inspection.Length{s.x, s.y} {
			size := &p.Length
			if i == 1 {
				size = &p.Width
			}
			if !f.OK() || !size.OK() {
				continue
			}
			if found[i] == nil {
				found[i] = make([]sample, 0, rows[kind])
			}
			most := float64(size.Value) + tol
			found[i] = append(found[i], sample{v: float64(f.Value), low: -tol, high: most, highAfter: most, field: f, label: s.row.Key})
		}
	})
	store()
	return order, all, rest
}

// rowsOf is how many rows the sheets of spots have.
func (j *judge) rowsOf() map[string]int {
	n := make(map[string]int)
	j.spots(func(s spot) { n[s.kind]++ })
	return n
}

func (j *judge) unitsOfPlaces() {
	order, all, rest := j.coordinates()
	if j.doubted(order, all) {
		return // the areas do not balance either: the plates' sizes are wrong
	}
	tol := j.in.Criteria.Number("Position tolerance")
	for _, a := range order {
		if h, wrong := j.wrongPlaces(a.kind, a.column, all[a], tol); wrong {
			for _, f := range rest[a] {
				if f.OK() {
					f.State = inspection.Wrong
				}
			}
			j.put(h)
		}
	}
}

// sizesDoubted says whether the plates' sizes are in doubt rather than what
// lies on them: half of the places lie off their plates in two sheets or more,
// and in most sheets, and the areas do not balance.
func (j *judge) sizesDoubted() bool {
	order, all, _ := j.coordinates()
	return j.doubted(order, all)
}

func (j *judge) doubted(order []axis, all map[axis][]sample) bool {
	sheets, off := make(map[axis]int), make(map[string]int)
	judged := make(map[string]int)
	for _, a := range order {
		if len(all[a]) < leastValues {
			continue
		}
		judged[a.column]++
		for _, s := range all[a] {
			if !s.inPlace(1) {
				sheets[a]++
			}
		}
		if 2*sheets[a] >= len(all[a]) {
			off[a.column]++
		}
	}
	for _, column := range []string{"X", "Y"} {
		if off[column] >= 2 && 2*off[column] > judged[column] {
			b := floor.Place(j.in).Balance
			return b.Known && math.Abs(float64(b.V)) > j.in.Criteria.Number("Area balance")+1e-9
		}
	}
	return false
}

func (j *judge) wrongPlaces(kind, column string, all []sample, tol float64) (finding.Hit, bool) {
	if len(all) < leastValues {
		return finding.Hit{}, false
	}
	off, near := 0, 0
	var worst sample
	for _, s := range all {
		if !s.inPlace(1) {
			if off == 0 {
				worst = s
			}
			off++
		}
		if math.Abs(s.v) <= huddle*(s.high-tol) {
			near++
		}
	}
	if 2*off >= len(all) {
		for _, f := range factors {
			back := 0
			for _, s := range all {
				if s.inPlace(f) {
					back++
				}
			}
			if back == len(all) {
				h := j.columnHit("C104", kind, column, spoil(all), worst.field.Text, "%s %s: %d of %d lie off their plate%s",
					column, worst.field.Text, off, len(all), asked(all, j.scale(kind, column)))
				h.Row = worst.label
				return h, true
			}
		}
	}
	if len(all) >= leastHuddled && near == len(all) {
		h := j.columnHit("C104", kind, column, spoil(all), all[0].field.Text,
			"all %d values of %s lie within 5 %% of the plate from its datum%s", len(all), column, asked(all, j.scale(kind, column)))
		h.Row = all[0].label
		return h, true
	}
	return finding.Hit{}, false
}

// fewPercent marks values that leave almost nothing.
func (j *judge) fewPercent() {
	j.columnsOfThickness(func(column []measured) {
		for _, m := range column {
			if m.depth || !m.value.OK() {
				continue
			}
			n := j.plate(*m.plate)
			t := float64(j.nominal(n))
			q := float64(m.value.Value)
			if t == 0 || q <= 0 || q >= 0.05*t {
				continue
			}
			h := onCell("C106", m.kind, m.row, m.column, m.value.Ref, m.value.Text, "%s is %s of nominal %s",
				j.thick(m.value.Value), percent(100*q/t), j.thick(unit.Length(t)))
			h.Worth = -q
			h.Related = see("nominal", j.nominalRef(n))
			j.put(h)
		}
	})
}
