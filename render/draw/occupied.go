package draw

// occupied is the boxes on paper that a label must keep clear of, in a grid
// of cells so that a question looks only at what is near.
type occupied struct {
	area  rect
	cols  int
	rows  int
	last  []int32 // of each cell: its last entry, -1 without one
	in    []entry
	boxes []rect
}

// entry is a box in a cell.
type entry struct {
	box    int32
	before int32 // the entry before it in the cell, -1 without one
}

const cellSize = 4.0

func newOccupied(area rect) *occupied {
	o := &occupied{
		area: area,
		cols: max(1, int(area.width()/cellSize)+1),
		rows: max(1, int(area.height()/cellSize)+1),
	}
	o.last = make([]int32, o.cols*o.rows)
	for i := range o.last {
		o.last[i] = -1
	}
	return o
}

func (o *occupied) span(r rect) (c1, r1, c2, r2 int) {
	at := func(v float64, n int) int { return min(max(int(v/cellSize), 0), n-1) }
	return at(r.x1-o.area.x1, o.cols), at(r.y1-o.area.y1, o.rows), at(r.x2-o.area.x1, o.cols), at(r.y2-o.area.y1, o.rows)
}

// add takes the room of a box.
func (o *occupied) add(r rect) {
	id := int32(len(o.boxes))
	o.boxes = append(o.boxes, r)
	c1, r1, c2, r2 := o.span(r)
	for y := r1; y <= r2; y++ {
		for x := c1; x <= c2; x++ {
			last := &o.last[y*o.cols+x]
			o.in = append(o.in, entry{id, *last})
			*last = int32(len(o.in) - 1)
		}
	}
}

// others says whether any taken box but those within own meets r.
func (o *occupied) others(r, own rect) bool {
	c1, r1, c2, r2 := o.span(r)
	for y := r1; y <= r2; y++ {
		for x := c1; x <= c2; x++ {
			for at := o.last[y*o.cols+x]; at >= 0; at = o.in[at].before {
				if b := o.boxes[o.in[at].box]; b.meets(r) && !b.within(own) {
					return true
				}
			}
		}
	}
	return false
}

// keepOff takes the room of a run of lines and a little beside them.
func keepOff(taken *occupied, room float64, pts ...point) {
	for i := 1; i < len(pts); i++ {
		for r := range (segment{pts[i-1], pts[i]}).boxes(room) {
			taken.add(r)
		}
	}
}

// free says whether a box lies in the area and on nothing taken.
func (o *occupied) free(r rect) bool {
	return r.within(o.area) && o.overlap(r, 1) == 0
}

// overlap counts the taken boxes that meet r, up to a limit. A box spread over
// several cells may count more than once.
func (o *occupied) overlap(r rect, limit int) int {
	n := 0
	c1, r1, c2, r2 := o.span(r)
	for y := r1; y <= r2; y++ {
		for x := c1; x <= c2; x++ {
			for at := o.last[y*o.cols+x]; at >= 0; at = o.in[at].before {
				if o.boxes[o.in[at].box].meets(r) {
					if n++; n >= limit {
						return n
					}
				}
			}
		}
	}
	return n
}
