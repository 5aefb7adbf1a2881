package draw

// occupied is the boxes on paper that a label must keep clear of, in a grid
// of cells so that a question looks only at what is near.
type occupied struct {
	area  rect
	cols  int
	rows  int
	cells [][]int32
	boxes []rect
}

const cellSize = 4.0

func newOccupied(area rect) *occupied {
	o := &occupied{
		area: area,
		cols: max(1, int(area.width()/cellSize)+1),
		rows: max(1, int(area.height()/cellSize)+1),
	}
	o.cells = make([][]int32, o.cols*o.rows)
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
			o.cells[y*o.cols+x] = append(o.cells[y*o.cols+x], id)
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
			for _, id := range o.cells[y*o.cols+x] {
				if o.boxes[id].meets(r) {
					if n++; n >= limit {
						return n
					}
				}
			}
		}
	}
	return n
}
