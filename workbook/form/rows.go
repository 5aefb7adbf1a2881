package form

import (
	"fmt"
	"math"
	"strconv"

	"platebook/rules/unit"
)

// Slot is one plate of a generated layout. Sizes in mm, bearings in degrees.
type Slot struct {
	Label         string
	Type          string // rectangular, sketch, annular
	Row, Position int    // 0 for annular plates
	Length, Width float64
	Start, End    float64 // annular plates
}

// Layout is the plates of a floor: rows of full-width plates centred on the
// tank, then the segments of the annular ring. The rows are placed as the
// method places plates from row and position (method section 2), so that
// together they cover the floor out to its rim:
//
//	n·W − (n − 1)·lap ≥ 2·Rc
//
// with n rows (–), plate width W (mm), lap (mm) and rim radius Rc (mm), which
// is the tank radius less the width of the ring. A row's length covers its
// widest chord. Neighbouring rows are in brick bond: odd ones with a plate
// over the centre line, even ones with a seam there. Sizes of cut plates are
// rounded up to 10 mm, or to half an inch.
//
// Source: common practice, no source. Check: the areas balance within 1 %,
// TestLayoutCoversTheFloor.
func Layout(o Options) ([]Slot, error) {
	d, length, width, lap, ring := float64(o.Diameter), float64(o.PlateLength), float64(o.PlateWidth), float64(o.Lap), float64(o.AnnularWidth)
	length, width = max(length, width), min(length, width)
	rim := d/2 - ring
	switch {
	case d < 2000 || d > 150_000:
		return nil, fmt.Errorf("diameter %s is outside 2 to 150 m", unit.Height.TextUnit(o.Units, d, 0))
	case width < 50 || width > 6000 || length < 50 || length > 20_000:
		return nil, fmt.Errorf("plate %s × %s is outside 50 to 6000 mm by 50 to 20000 mm", unit.Size.TextUnit(o.Units, width, 0), unit.Size.TextUnit(o.Units, length, 0))
	case length > d+lap:
		return nil, fmt.Errorf("plate length %s is larger than the tank", unit.Size.TextUnit(o.Units, length, 0))
	case lap < 0 || lap > 200 || 4*lap > width:
		return nil, fmt.Errorf("lap %s is outside 0 to 200 mm or over a quarter of the plate's width", unit.Size.TextUnit(o.Units, lap, 0))
	case ring != 0 && (ring < 200 || ring > 3000):
		return nil, fmt.Errorf("annular width %s is outside 0.2 to 3 m", unit.Size.TextUnit(o.Units, ring, 0))
	case rim < 500:
		return nil, fmt.Errorf("an annular ring of %s leaves no floor", unit.Size.TextUnit(o.Units, ring, 0))
	}
	step := 10.0
	if o.Units == unit.US {
		step = 12.7
	}
	rows := max(1, int(math.Ceil((2*rim-lap)/(width-lap)-1e-9)))
	if rows > 300 {
		return nil, fmt.Errorf("%d rows of plates: check the sizes", rows)
	}
	stack := float64(rows)*width - float64(rows-1)*lap
	var slots []Slot
	for i := range rows {
		bottom := -stack/2 + float64(i)*(width-lap)
		lengths := rowLengths(chord(rim, bottom, bottom+width), length, lap, step, i%2 == 0)
		left := -(sum(lengths) - float64(len(lengths)-1)*lap) / 2
		for j, l := range lengths {
			far := math.Hypot(max(-left, left+l), max(-bottom, bottom+width))
			kind := "rectangular"
			if far > rim {
				kind = "sketch"
			}
			slots = append(slots, Slot{
				Label: strconv.Itoa(i+1) + "-" + strconv.Itoa(j+1), Type: kind,
				Row: i + 1, Position: j + 1, Length: l, Width: width,
			})
			left += l - lap
		}
	}
	if ring > 0 {
		slots = append(slots, ringSlots(d/2, ring, length)...)
	}
	return slots, nil
}

// chord is the widest chord of the rim within a row.
func chord(rim, bottom, top float64) float64 {
	if bottom <= 0 && top >= 0 {
		return 2 * rim
	}
	y := min(math.Abs(bottom), math.Abs(top))
	return 2 * math.Sqrt(max(0, rim*rim-y*y))
}

// rowLengths are the plates of a row that covers a chord, from left to right:
// whole plates with two equal cut ones at the ends. Ends under a fifth of a
// plate are shared out, for nobody lays such slivers.
func rowLengths(chord, length, lap, step float64, plateOverCentre bool) []float64 {
	up := func(v float64) float64 { return math.Ceil(v/step-1e-9) * step }
	if chord <= length {
		return []float64{min(length, up(chord))}
	}
	whole := 0
	if plateOverCentre {
		whole = 1
	}
	end := func(n int) float64 { return (chord - float64(n)*length + float64(n+1)*lap) / 2 }
	for end(whole) > length {
		whole += 2
	}
	cut := end(whole)
	var lengths []float64
	fill := func(n int, l float64) {
		for range n {
			lengths = append(lengths, l)
		}
	}
	switch {
	case cut >= length/5 || whole == 0:
		fill(1, min(length, up(cut)))
		fill(whole, length)
		fill(1, lengths[0])
	case whole == 1:
		fill(3, min(length, up((length+2*cut)/3)))
	default:
		shared := min(length, up((length+cut)/2))
		fill(2, shared)
		fill(whole-2, length)
		fill(2, shared)
	}
	return lengths
}

// ringSlots are equal segments, none longer than a plate, at whole degrees
// where that needs few more of them.
func ringSlots(radius, width, plate float64) []Slot {
	n := max(4, int(math.Ceil(2*math.Pi*radius/plate-1e-9)))
	for m := n; m <= n+n/4; m++ {
		if 360%m == 0 {
			n = m
			break
		}
	}
	slots := make([]Slot, n)
	bearing := func(i int) float64 { return math.Round(36000*float64(i)/float64(n)) / 100 }
	for i := range slots {
		start, end := bearing(i), bearing(i+1)
		slots[i] = Slot{
			Label: "A" + strconv.Itoa(i+1), Type: "annular", Width: width, Start: start, End: end,
			Length: math.Round(radius * (end - start) * math.Pi / 180),
		}
	}
	return slots
}

func sum(values []float64) (total float64) {
	for _, v := range values {
		total += v
	}
	return total
}
