package check

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// citation is one place where a row names a plate.
type citation struct {
	kind   string
	row    *inspection.Row
	label  string // as typed
	ref    finding.Ref
	column string
	x, y   *inspection.Length
}

// citations is every place that names a plate.
func (j *judge) citations() []citation {
	var all []citation
	j.spots(func(s spot) {
		if s.plate != nil && s.plate.OK() {
			all = append(all, citation{s.kind, s.row, s.plate.Value, s.plate.Ref, "Plate", s.x, s.y})
		}
	})
	for i := range j.in.Tracks {
		if r := &j.in.Tracks[i]; r.Plate.OK() {
			all = append(all, citation{"Tracks", &r.Row, r.Plate.Value, r.Plate.Ref, "Plate", nil, nil})
		}
	}
	for i := range j.in.Welds {
		r := &j.in.Welds[i]
		for _, part := range j.seam(r.Seam) {
			all = append(all, citation{"Welds", &r.Row, part, r.Seam.Ref, "Seam", nil, nil})
		}
	}
	return all
}

// seam is the plates a seam names: one, or two divided by a slash; none for
// the joint of shell and floor.
func (j *judge) seam(f inspection.Label) []string {
	if !f.OK() || inspection.Fold(f.Value) == "shell-to-floor" {
		return nil
	}
	if _, ok := j.plates[inspection.Fold(f.Value)]; ok {
		return []string{f.Value}
	}
	var parts []string
	for _, p := range strings.Split(f.Value, "/") {
		if p = strings.TrimSpace(p); p != "" && inspection.Fold(p) != "shell" {
			parts = append(parts, p)
		}
	}
	return parts
}

// platesCited judges every label of a plate that is cited (R102, R105).
func (j *judge) platesCited() {
	if !j.hasColumn("Plates", "Plate") {
		return
	}
	doubtful := make(map[string]bool)
	known := make([]string, len(j.in.Plates))
	for i := range j.in.Plates {
		l := &j.in.Plates[i].Label
		known[i] = l.Or("")
		if l.State == inspection.Wrong {
			for _, reading := range dateReadings(l.Text) {
				doubtful[reading] = true
			}
		}
	}
	type group struct{ kind, label string }
	unknown := make(map[group][]citation)
	spelled := make(map[group][]citation)
	var order, spellings []group
	for _, c := range j.citations() {
		fold := inspection.Fold(c.label)
		at, ok := j.plates[fold]
		g := group{c.kind, c.label}
		switch {
		case !ok && doubtful[fold]:
		case !ok:
			if unknown[g] == nil {
				order = append(order, g)
			}
			unknown[g] = append(unknown[g], c)
		case known[at[0]] != c.label:
			if spelled[g] == nil {
				spellings = append(spellings, g)
			}
			spelled[g] = append(spelled[g], c)
		}
	}
	for _, g := range order {
		all := unknown[g]
		question := ""
		if near := closest(g.label, known, func(i int) bool { return j.fits(i, all) }); near != "" {
			question = "; " + near + "?"
		}
		j.put(citedHit("R105", g.label, all, "no plate %s%s", g.label, question))
	}
	for _, g := range spellings {
		as := known[j.plates[inspection.Fold(g.label)][0]]
		j.put(citedHit("R102", g.label, spelled[g], "%s read as %s", g.label, as))
	}
}

// fits says whether all positions cited lie within the size of a plate.
func (j *judge) fits(plate int, all []citation) bool {
	p := &j.in.Plates[plate]
	tol := j.in.Criteria.Number("Position tolerance")
	for _, c := range all {
		for _, v := range [][2]*inspection.Length{{c.x, &p.Length}, {c.y, &p.Width}} {
			if v[0] != nil && v[0].OK() && v[1].OK() && (float64(v[0].Value) < -tol || float64(v[0].Value-v[1].Value) > tol) {
				return false
			}
		}
	}
	return true
}

func citedHit(rule, label string, all []citation, format string, args ...any) finding.Hit {
	slices.SortStableFunc(all, func(a, b citation) int { return a.row.Number - b.row.Number })
	c := all[0]
	h := onRow(rule, c.kind, c.row, c.ref, c.ref, label, format, args...)
	h.Subject, h.Column = label, c.column
	for _, o := range all[1:] {
		h.Related = append(h.Related, see("", o.ref)...)
	}
	return h
}

func (j *judge) hasColumn(kind, column string) bool {
	s := j.in.Sheet(kind)
	if s == nil {
		return false
	}
	if len(s.Columns) == 0 {
		return true
	}
	_, ok := s.Columns[column]
	return ok
}

// dateReadings is what a label that became a date can have been, folded.
func dateReadings(text string) []string {
	var d unit.Date
	text = strings.TrimSpace(text)
	if n, err := strconv.ParseFloat(text, 64); err == nil {
		d = unit.DateOf(n)
	} else {
		d = unit.DateIn(text, "2006-01-02", "02-Jan-2006", "2-Jan-2006", "02-Jan", "2-Jan", "2006-01-02T15:04:05Z")
	}
	if d == 0 {
		return nil
	}
	t := d.Time()
	m, day, y := int(t.Month()), t.Day(), t.Year()%100
	var out []string
	for _, p := range [][2]int{{m, day}, {day, m}, {m, y}, {y, m}} {
		for _, mark := range []string{"-", "/", "."} {
			out = append(out, inspection.Fold(fmt.Sprintf("%d%s%d", p[0], mark, p[1])))
		}
	}
	return out
}

// link is one place where a row cites an indication.
type link struct {
	kind  string
	row   *inspection.Row
	key   finding.Ref
	plate *inspection.Label
	id    string
	ref   finding.Ref
}

func (j *judge) links() []link {
	var all []link
	for i := range j.in.ProveUps {
		if r := &j.in.ProveUps[i]; r.Indication.OK() {
			all = append(all, link{"Prove-ups", &r.Row, r.ID.Ref, &r.Plate, r.Indication.Value, r.Indication.Ref})
		}
	}
	for i := range j.in.Photos {
		if r := &j.in.Photos[i]; r.Indication.OK() {
			all = append(all, link{"Photos", &r.Row, r.File.Ref, &r.Plate, r.Indication.Value, r.Indication.Ref})
		}
	}
	for i := range j.in.Repairs {
		r := &j.in.Repairs[i]
		if r.Indications.OK() {
			for _, id := range r.Indications.Value {
				all = append(all, link{"Planned repairs", &r.Row, r.Label.Ref, &r.Plate, id, r.Indications.Ref})
			}
		}
	}
	return all
}

// indicationOn is the indication of an ID on a plate, -1 without one, or when
// two of that plate bear it.
func (j *judge) indicationOn(plate int, id string) int {
	found := -1
	for _, i := range j.ids[inspection.Fold(id)] {
		if j.plate(j.in.Indications[i].Plate) == plate {
			if found >= 0 {
				return -1
			}
			found = i
		}
	}
	return found
}

// broken is a link to an indication that is not where it is said to be.
type broken struct {
	link
	named int // the one indication its suggestion names, -1
}

// indicationsCited judges every ID of an indication that is cited (R102, R106,
// R107) and gives the broken links, which R307 must know.
func (j *judge) indicationsCited() []broken {
	if !j.hasColumn("Indications", "ID") {
		return nil
	}
	doubtful := make(map[string]bool)
	known := make([]string, len(j.in.Indications))
	for i := range j.in.Indications {
		id := &j.in.Indications[i].ID
		known[i] = id.Or("")
		if id.State == inspection.Wrong {
			for _, reading := range dateReadings(id.Text) {
				doubtful[reading] = true
			}
		}
	}
	type group struct{ kind, id string }
	unknown := make(map[group][]link)
	spelled := make(map[group][]citation)
	var order, spellings []group
	as := make(map[group]string)
	var off []broken
	for _, l := range j.links() {
		fold := inspection.Fold(l.id)
		at := j.ids[fold]
		g := group{l.kind, l.id}
		cited := citation{l.kind, l.row, l.id, l.ref, "Indication", nil, nil}
		plate := -1
		given := l.plate.State == inspection.Given || l.plate.State == inspection.Wrong
		if given {
			if plate = j.plate(*l.plate); plate < 0 {
				continue // its plate is unknown, and reported so
			}
		}
		switch {
		case len(at) == 0 && doubtful[fold]:
			continue
		case len(at) == 0:
			if unknown[g] == nil {
				order = append(order, g)
			}
			unknown[g] = append(unknown[g], l)
			continue
		case given && !j.anyOn(at, plate) && j.anyOn(at, -1):
			continue // that indication's own plate is unknown, and reported so
		case given && !j.anyOn(at, plate):
			b := broken{l, -1}
			where := j.in.Indications[at[0]].Plate.Text
			if len(at) == 1 {
				b.named = at[0]
			}
			h := onRow("R107", l.kind, l.row, l.ref, l.key, l.id, "indication %s is on %s, not %s", l.id, where, l.plate.Text)
			h.Related = see("", j.in.Indications[at[0]].ID.Ref)
			j.put(h)
			off = append(off, b)
			continue
		case !given && len(at) > 1:
			j.put(onRow("R107", l.kind, l.row, l.ref, l.key, l.id, "%s is on %s, and no plate is given", l.id, j.platesOf(at)))
			off = append(off, broken{l, -1})
			continue
		}
		i := at[0]
		if given {
			for _, k := range at {
				if j.plate(j.in.Indications[k].Plate) == plate {
					i = k
					break
				}
			}
		}
		if known[i] != l.id {
			if spelled[g] == nil {
				spellings = append(spellings, g)
				as[g] = known[i]
			}
			spelled[g] = append(spelled[g], cited)
		}
	}
	onPlate := j.idsByPlate(len(order) > 0)
	for _, g := range order {
		var ids []string
		var cited []citation
		asked := make(map[int]bool)
		for _, l := range unknown[g] {
			cited = append(cited, citation{l.kind, l.row, l.id, l.ref, "Indication", nil, nil})
			if p := j.plate(*l.plate); !asked[p] {
				asked[p] = true
				ids = append(ids, onPlate[p]...)
			}
		}
		near, question := closest(g.id, ids, nil), ""
		if near != "" {
			question = "; " + near + "?"
		}
		j.put(citedHit("R106", g.id, cited, "no indication %s%s", g.id, question))
		for _, l := range unknown[g] {
			b := broken{l, -1}
			if near != "" {
				b.named = j.indicationOn(j.plate(*l.plate), near)
			}
			off = append(off, b)
		}
	}
	for _, g := range spellings {
		j.put(citedHit("R102", g.id, spelled[g], "%s read as %s", g.id, as[g]))
	}
	return off
}

// idsByPlate is the IDs of indications on each plate.
func (j *judge) idsByPlate(wanted bool) map[int][]string {
	if !wanted {
		return nil
	}
	ids := make(map[int][]string)
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if p := j.plate(r.Plate); p >= 0 && r.ID.OK() {
			ids[p] = append(ids[p], r.ID.Value)
		}
	}
	return ids
}

func (j *judge) anyOn(at []int, plate int) bool {
	return slices.ContainsFunc(at, func(i int) bool { return j.plate(j.in.Indications[i].Plate) == plate })
}

func (j *judge) platesOf(at []int) string {
	var names []string
	for _, i := range at {
		if n := j.in.Indications[i].Plate.Text; !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	return strings.Join(names, " and on ")
}

// repeated looks for IDs on two plates where most IDs are the only one (R108).
func (j *judge) repeated(copied map[finding.Ref]bool) {
	type use struct {
		first  int
		second int
	}
	seen := make(map[string]use)
	var order []string
	twice := 0
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if !r.ID.OK() || j.plate(r.Plate) < 0 {
			continue
		}
		id := inspection.Fold(r.ID.Value)
		u, ok := seen[id]
		switch {
		case !ok:
			seen[id] = use{i, -1}
			order = append(order, id)
		case u.second < 0 && j.plate(j.in.Indications[u.first].Plate) != j.plate(r.Plate):
			seen[id] = use{u.first, i}
			twice++
		}
	}
	if 5*twice >= len(order) {
		return
	}
	for _, id := range order {
		u := seen[id]
		if u.second < 0 {
			continue
		}
		a, b := &j.in.Indications[u.first], &j.in.Indications[u.second]
		if copied[rowRef(&a.Row)] || copied[rowRef(&b.Row)] {
			continue
		}
		h := onRow("R108", "Indications", &a.Row, a.ID.Ref, a.ID.Ref, a.ID.Text, "indication %s on %s and on %s", a.ID.Text, a.Plate.Text, b.Plate.Text)
		h.Subject = a.ID.Value
		h.Related = see("", b.ID.Ref)
		j.put(h)
	}
}

var rowAndPosition = regexp.MustCompile(`^\s*0*([0-9]+)\s*-\s*0*([0-9]+)\s*$`)

// labelsAgainstRows holds labels such as 3-4 against Row and Position (R111).
func (j *judge) labelsAgainstRows() {
	type labelled struct {
		plate int
		fits  bool
	}
	var all []labelled
	fit := 0
	for i := range j.in.Plates {
		p := &j.in.Plates[i]
		m := rowAndPosition.FindStringSubmatch(p.Label.Or(""))
		if m == nil || !p.RowNo.OK() || !p.Position.OK() {
			continue
		}
		l := labelled{i, inspection.Fold(p.RowNo.Value) == m[1] && inspection.Fold(p.Position.Value) == m[2]}
		if l.fits {
			fit++
		}
		all = append(all, l)
	}
	if len(all) < 10 || 5*fit < 4*len(all) {
		return
	}
	for _, l := range all {
		if !l.fits {
			p := &j.in.Plates[l.plate]
			h := onRow("R111", "Plates", &p.Row, p.RowNo.Ref, p.Label.Ref, p.Label.Text, "%s stands in row %s, position %s",
				p.Label.Text, p.RowNo.Text, p.Position.Text)
			h.Related = see("", p.Label.Ref)
			j.put(h)
		}
	}
}
