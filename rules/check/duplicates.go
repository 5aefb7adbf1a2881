package check

import (
	"hash/fnv"
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
				a, b := o.apart(r)
				j.put(pairOf("R101", r.kind, o.row, r.row, o.key, r.key, "%s twice: %s, %s", trimKey(o.row.Key), a, b))
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
	j.readTwice(copied)
	j.shellPoints()
}

// readTwice looks for readings entered twice (R103): a reading has no label,
// only its place tells it from the others of its plate.
func (j *judge) readTwice(copied map[finding.Ref]bool) {
	first := make(map[string]int)
	for i := range j.in.Readings {
		r := &j.in.Readings[i]
		if !r.X.OK() || !r.Y.OK() || !r.Thickness.OK() || copied[rowRef(&r.Row)] {
			continue
		}
		var w writer
		w.text(r.Plate, r.By, r.Instrument, r.Remarks)
		number(&w, r.X, r.Y, r.Thickness)
		number(&w, r.Date)
		k, ok := first[w.String()]
		if !ok {
			first[w.String()] = i
			continue
		}
		o := &j.in.Readings[k]
		j.put(pairOf("R103", "Readings", &o.Row, &r.Row, o.Thickness.Ref, r.Thickness.Ref, "%s on %s is entered twice, at X %s, Y %s",
			j.thick(r.Thickness.Value), r.Plate.Text, j.bare(unit.Position, float64(r.X.Value)), j.place(float64(r.Y.Value))))
	}
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

// shellPoints looks for two shell points within 1° (R101). Each is held against
// the first that it is too near to: of many in one place each row is told once.
func (j *judge) shellPoints() {
	var points []*inspection.Survey
	for i := range j.in.Settlement {
		if s := &j.in.Settlement[i]; inspection.Is(s.Kind, "shell") && s.Bearing.OK() {
			points = append(points, s)
		}
	}
	for i, b := range points {
		for _, a := range points[:i] {
			apart := math.Abs(math.Remainder(float64(a.Bearing.Value-b.Bearing.Value), 360))
			if apart < 1-1e-9 && inspection.Fold(a.Point.Value) != inspection.Fold(b.Point.Value) {
				j.put(pairOf("R101", "Settlement", &a.Row, &b.Row, a.Bearing.Ref, b.Bearing.Ref,
					"points %s and %s are %s apart", a.Point.Text, b.Point.Text, j.bareAngle(apart)))
				break
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
			grid.around(float64(b.X.Value), float64(b.Y.Value), func(k int) (more bool) {
				if best >= 0 && k > best {
					return false
				}
				a := &j.in.Indications[k]
				if !near(a.X.Value, b.X.Value, reach) || !near(a.Y.Value, b.Y.Value, reach) || !alike(a, b) || copied[rowRef(&a.Row)] || copied[rowRef(&b.Row)] {
					return true
				}
				best = k
				return false
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

// around visits what lies in each square about a place, the earliest first,
// until there is enough of the square.
func (g *grid) around(x, y float64, visit func(i int) (more bool)) {
	c := g.of(x, y)
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, i := range g.at[[2]int{c[0] + dx, c[1] + dy}] {
				if !visit(i) {
					break
				}
			}
		}
	}
}

// A block is copied when five successive rows agree. Where the crew reads at
// the same places on every plate, places say nothing and twelve must agree.
const (
	leastBlock     = 5
	leastGridBlock = 12
)

// line is a row as the search for copied blocks sees it.
type line struct {
	row   *inspection.Row
	key   finding.Ref
	plate int
	place string
	value string // "" where the row cannot be compared
}

func (l line) equals(o line) bool {
	return l.value != "" && l.place == o.place && l.value == o.value
}

// window is a mark of successive rows: of their places alone, or with values.
// 0 is no mark.
func window(lines []line, values bool) uint64 {
	h := fnv.New64a()
	for _, l := range lines {
		if l.value == "" {
			return 0
		}
		_, _ = h.Write([]byte(l.place))
		if values {
			_, _ = h.Write([]byte(l.value))
		}
		_, _ = h.Write([]byte{0})
	}
	return h.Sum64()
}

// blocksIn looks for copied blocks in one sheet, and marks the copied rows.
func (j *judge) blocksIn(kind string, lines []line, copied map[finding.Ref]bool) {
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
	seen := make(map[uint64]start)
	plates := make(map[uint64]int) // plates with the same places in a row
	for _, p := range order {
		own := make(map[uint64]bool)
		for i := 0; i+leastBlock <= len(byPlate[p]); i++ {
			if w := window(byPlate[p][i:i+leastBlock], false); w != 0 && !own[w] {
				own[w] = true
				plates[w]++
			}
		}
	}
	for _, p := range order {
		own := byPlate[p]
		for i := 0; i+leastBlock <= len(own); i++ {
			w := window(own[i:i+leastBlock], true)
			if w == 0 {
				continue
			}
			from, ok := seen[w]
			if !ok {
				seen[w] = start{p, i}
				continue
			}
			if from.plate == p {
				continue
			}
			other := byPlate[from.plate]
			n := 0
			for i+n < len(own) && from.at+n < len(other) && own[i+n].equals(other[from.at+n]) {
				n++
			}
			if n < leastBlock || plates[window(own[i:i+leastBlock], false)] > 3 && n < leastGridBlock {
				continue
			}
			for k := range n {
				copied[rowRef(own[i+k].row)] = true
				copied[rowRef(other[from.at+k].row)] = true
			}
			j.put(j.copiedHit(kind, own[i], other[from.at], p, from.plate, n))
			i += n - 1
		}
	}
}

func (j *judge) copiedHit(kind string, own, other line, plate, from, n int) finding.Hit {
	a, b := j.in.Plates[from].Label.Value, j.in.Plates[plate].Label.Value
	h := onRow("R104", kind, own.row, own.key, own.key, "", "%d rows of %s equal those of %s", n, b, a)
	if other.row.Number > own.row.Number {
		h.Ref = other.key
	}
	h.Subject, h.Row, h.Worth = Pair(a, b), b, float64(n)
	h.Related = see("the other row", other.key)
	return h
}

// blocks looks for rows of one plate that repeat another's (R104), and gives
// the rows so copied.
func (j *judge) blocks() map[finding.Ref]bool {
	copied := make(map[finding.Ref]bool)
	in := j.in
	say := func(v ...inspection.Field[unit.Length]) string {
		b := make([]byte, 0, 32)
		any := false
		for _, f := range v {
			b = append(b, '|')
			if f.OK() {
				b = strconv.AppendFloat(b, float64(f.Value), 'g', -1, 64)
				any = true
			}
		}
		if !any {
			return ""
		}
		return string(b)
	}
	of := func(row *inspection.Row, key finding.Ref, plate inspection.Label, x, y inspection.Length, v ...inspection.Field[unit.Length]) line {
		l := line{row: row, key: key, plate: j.plate(plate)}
		if x.OK() && y.OK() {
			l.place, l.value = say(x, y), say(v...)
		}
		return l
	}
	lines := make([]line, 0, max(len(in.Indications), len(in.ProveUps), len(in.Readings)))
	for i := range in.Indications {
		r := &in.Indications[i]
		loss := inspection.Length{Value: unit.Length(r.Loss.Value), State: r.Loss.State}
		lines = append(lines, of(&r.Row, r.ID.Ref, r.Plate, r.X, r.Y, loss, r.Remaining, r.Depth))
	}
	j.blocksIn("Indications", lines, copied)
	lines = lines[:0]
	for i := range in.ProveUps {
		r := &in.ProveUps[i]
		lines = append(lines, of(&r.Row, r.ID.Ref, r.Plate, r.X, r.Y, r.Remaining, r.Depth))
	}
	j.blocksIn("Prove-ups", lines, copied)
	lines = lines[:0]
	for i := range in.Readings {
		r := &in.Readings[i]
		lines = append(lines, of(&r.Row, r.Plate.Ref, r.Plate, r.X, r.Y, r.Thickness))
	}
	j.blocksIn("Readings", lines, copied)
	return copied
}
