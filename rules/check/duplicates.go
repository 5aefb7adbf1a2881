package check

import (
	"math"
	"strconv"

	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
)

// pairOf is a hit about two rows: it stands on the lower one.
func pairOf(rule, kind string, a, b *inspection.Row, keyA, keyB finding.Ref, format string, args ...any) finding.Hit {
	if a.Number > b.Number {
		a, b, keyA, keyB = b, a, keyB, keyA
	}
	h := onRow(rule, kind, b, keyB, keyB, "", format, args...)
	h.Subject = Pair(a.Key, b.Key)
	h.Related = see("the other row", keyA)
	return h
}

// oneLabel looks for two rows under one label (R101) and for rows entered
// twice (R103). Rows copied as a block are left to R104.
func (j *judge) oneLabel(copied map[finding.Ref]bool) {
	for _, sheet := range j.labelled() {
		byLabel := make(map[string]int, len(sheet))
		byContent := make(map[string]int, len(sheet))
		for i := range sheet {
			r := &sheet[i]
			ref := finding.Ref{Sheet: r.row.Sheet, Row: r.row.Number}
			if copied[ref] {
				continue
			}
			same := -1
			if r.label != "" {
				if at, ok := byLabel[r.label]; ok {
					same = at
				} else {
					byLabel[r.label] = i
				}
			}
			if same >= 0 && sheet[same].content != r.content {
				o := &sheet[same]
				j.put(pairOf("R101", r.kind, o.row, r.row, o.key, r.key, "%s twice: %s, %s", trimKey(o.row.Key), o.shown, r.shown))
			}
			if r.placed {
				if at, ok := byContent[r.content]; ok {
					o := &sheet[at]
					h := pairOf("R103", r.kind, o.row, r.row, o.key, r.key, "%s and %s are equal in every column but the label: %s",
						o.row.Key, r.row.Key, r.shown)
					if o.label == r.label {
						h.Message = trimKey(o.row.Key) + " is entered twice: " + r.shown
					}
					j.told[h.Subject] = true
					j.put(h)
				} else {
					byContent[r.content] = i
				}
			} else if same >= 0 && sheet[same].content == r.content {
				o := &sheet[same]
				j.put(pairOf("R103", r.kind, o.row, r.row, o.key, r.key, "%s is entered twice", trimKey(o.row.Key)))
			}
		}
	}
	j.shellPoints()
}

// trimKey drops the "#2" that tells equal row keys apart.
func trimKey(key string) string {
	for i := len(key) - 1; i > 0; i-- {
		if key[i] == '#' && i < len(key)-1 {
			return key[:i]
		}
		if key[i] < '0' || key[i] > '9' {
			break
		}
	}
	return key
}

// shellPoints looks for two shell points within 1° (R101).
func (j *judge) shellPoints() {
	var points []*inspection.Survey
	for i := range j.in.Settlement {
		if s := &j.in.Settlement[i]; inspection.Is(s.Kind, "shell") && s.Bearing.OK() {
			points = append(points, s)
		}
	}
	for i, a := range points {
		for _, b := range points[i+1:] {
			if inspection.Fold(a.Point.Value) == inspection.Fold(b.Point.Value) {
				continue
			}
			apart := math.Abs(math.Remainder(float64(a.Bearing.Value-b.Bearing.Value), 360))
			if apart < 1-1e-9 {
				h := pairOf("R101", "Settlement", &a.Row, &b.Row, a.Bearing.Ref, b.Bearing.Ref,
					"points %s and %s are %s apart", a.Point.Text, b.Point.Text, j.bareAngle(apart))
				j.put(h)
			}
		}
	}
}

// Entered twice, by what was measured: losses within a point (0.1 mm), places
// within the position tolerance, or within 5 mm where a plate has many.
const (
	samePoints  = 1.0
	sameMM      = 0.1
	manyOnPlate = 10
	closeMM     = 5.0
)

// twice looks for indications entered twice under two IDs (R103).
func (j *judge) twice(copied map[finding.Ref]bool) {
	tol := j.in.Criteria.Number("Position tolerance")
	onPlate := make(map[int][]int)
	var order []int
	for i := range j.in.Indications {
		r := &j.in.Indications[i]
		if p := j.plate(r.Plate); p >= 0 && r.X.OK() && r.Y.OK() {
			if onPlate[p] == nil {
				order = append(order, p)
			}
			onPlate[p] = append(onPlate[p], i)
		}
	}
	for _, p := range order {
		reach := tol
		if len(onPlate[p]) > manyOnPlate {
			reach = closeMM
		}
		grid := newGrid(math.Max(reach, 1))
		for _, i := range onPlate[p] {
			b := &j.in.Indications[i]
			best := -1 // the earliest of those alike
			grid.around(float64(b.X.Value), float64(b.Y.Value), func(k int) {
				a := &j.in.Indications[k]
				if !near(a.X.Value, b.X.Value, reach) || !near(a.Y.Value, b.Y.Value, reach) || !alike(a, b) || copied[rowRef(&a.Row)] || copied[rowRef(&b.Row)] {
					return
				}
				if best < 0 || k < best {
					best = k
				}
			})
			grid.put(float64(b.X.Value), float64(b.Y.Value), i)
			if best < 0 {
				continue
			}
			a := &j.in.Indications[best]
			if j.told[Pair(a.Key, b.Key)] {
				continue
			}
			apart := math.Hypot(float64(a.X.Value-b.X.Value), float64(a.Y.Value-b.Y.Value))
			j.put(pairOf("R103", "Indications", &a.Row, &b.Row, a.ID.Ref, b.ID.Ref, "%s and %s on %s: %s apart, %s",
				a.ID.Text, b.ID.Text, j.in.Plates[p].Label.Value, j.place(apart), bothSay(j.worth(a.Loss, a.Remaining, a.Depth), j.worth(b.Loss, b.Remaining, b.Depth))))
		}
	}
}

func bothSay(a, b string) string {
	if a == b {
		return "both " + a
	}
	return a + " and " + b
}

func alike(a, b *inspection.Indication) bool {
	if a.Side.Value != b.Side.Value || a.Method.Value != b.Method.Value || !a.Method.OK() {
		return false
	}
	if !sameExtent(a.Length, b.Length) || !sameExtent(a.Width, b.Width) {
		return false
	}
	compared := false
	if a.Loss.OK() && b.Loss.OK() {
		if math.Abs(float64(a.Loss.Value-b.Loss.Value)) > samePoints+1e-9 {
			return false
		}
		compared = true
	}
	for _, v := range [][2]inspection.Length{{a.Remaining, b.Remaining}, {a.Depth, b.Depth}} {
		if v[0].OK() && v[1].OK() {
			if !near(v[0].Value, v[1].Value, sameMM) {
				return false
			}
			compared = true
		}
	}
	return compared
}

func rowRef(r *inspection.Row) finding.Ref { return finding.Ref{Sheet: r.Sheet, Row: r.Number} }

// grid finds what lies near a place without looking at everything.
type grid struct {
	cell float64
	at   map[[2]int][]int
}

func newGrid(cell float64) *grid { return &grid{cell: cell, at: make(map[[2]int][]int)} }

func (g *grid) of(x, y float64) [2]int {
	return [2]int{int(math.Floor(x / g.cell)), int(math.Floor(y / g.cell))}
}

func (g *grid) put(x, y float64, i int) {
	c := g.of(x, y)
	g.at[c] = append(g.at[c], i)
}

func (g *grid) around(x, y float64, visit func(i int)) {
	c := g.of(x, y)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, i := range g.at[[2]int{c[0] + dx, c[1] + dy}] {
				visit(i)
			}
		}
	}
}

// leastBlock is how many successive rows make a copied block.
const leastBlock = 5

// blocks looks for rows of one plate that repeat another's (R104), and gives
// the rows so copied.
func (j *judge) blocks() map[finding.Ref]bool {
	copied := make(map[finding.Ref]bool)
	in := j.in
	type line struct {
		row   *inspection.Row
		key   finding.Ref
		plate int
		text  string // "" where the row cannot be compared
	}
	look := func(kind string, lines []line) {
		byPlate := make(map[int][]line)
		var order []int
		for _, l := range lines {
			if l.plate < 0 {
				continue
			}
			if byPlate[l.plate] == nil {
				order = append(order, l.plate)
			}
			byPlate[l.plate] = append(byPlate[l.plate], l)
		}
		type start struct{ plate, at int }
		seen := make(map[string]start)
		for _, p := range order {
			own := byPlate[p]
			for i := 0; i+leastBlock <= len(own); i++ {
				key := ""
				for _, l := range own[i : i+leastBlock] {
					if l.text == "" {
						key = ""
						break
					}
					key += l.text
				}
				if key == "" {
					continue
				}
				from, ok := seen[key]
				if !ok {
					seen[key] = start{p, i}
					continue
				}
				if from.plate == p {
					continue
				}
				other := byPlate[from.plate]
				n := 0
				for i+n < len(own) && from.at+n < len(other) && own[i+n].text != "" && own[i+n].text == other[from.at+n].text {
					copied[rowRef(own[i+n].row)] = true
					copied[rowRef(other[from.at+n].row)] = true
					n++
				}
				a, b := in.Plates[from.plate].Label.Value, in.Plates[p].Label.Value
				h := onRow("R104", kind, own[i].row, own[i].key, own[i].key, "", "%d rows of %s equal those of %s", n, b, a)
				if other[from.at].row.Number > own[i].row.Number {
					h.Ref = other[from.at].key
				}
				h.Subject = Pair(a, b)
				h.Related = see("the other row", other[from.at].key)
				h.Row = b
				h.Worth = float64(n)
				j.put(h)
				i += n - 1
			}
		}
	}
	text := func(x, y inspection.Length, v ...inspection.Field[unit.Length]) string {
		if !x.OK() || !y.OK() {
			return ""
		}
		b := make([]byte, 0, 40)
		put := func(v unit.Length) {
			b = append(strconv.AppendFloat(b, float64(v), 'g', -1, 64), '|')
		}
		put(x.Value)
		put(y.Value)
		any := false
		for _, f := range v {
			b = append(b, '|')
			if f.OK() {
				put(f.Value)
				any = true
			}
		}
		if !any {
			return ""
		}
		return string(append(b, ';'))
	}
	var lines []line
	for i := range in.Indications {
		r := &in.Indications[i]
		loss := inspection.Length{Value: unit.Length(r.Loss.Value), State: r.Loss.State}
		lines = append(lines, line{&r.Row, r.ID.Ref, j.plate(r.Plate), text(r.X, r.Y, loss, r.Remaining, r.Depth)})
	}
	look("Indications", lines)
	lines = lines[:0]
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		lines = append(lines, line{&r.Row, r.ID.Ref, j.plate(r.Plate), text(r.X, r.Y, r.Remaining, r.Depth)})
	}
	look("Prove-ups", lines)
	lines = lines[:0]
	for i := range in.Readings {
		r := &in.Readings[i]
		lines = append(lines, line{&r.Row, r.Plate.Ref, j.plate(r.Plate), text(r.X, r.Y, r.Thickness)})
	}
	look("Readings", lines)
	return copied
}
