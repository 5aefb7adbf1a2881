package demo

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
)

// Size of the drawn pictures in pixels.
const (
	photoWidth  = 640
	photoHeight = 480
)

// view is what a drawn picture shows.
type view uint8

const (
	pitted view = iota // a plate from above with pits
	seam               // a lap weld across the picture
	sump               // the opening of a sump
	shell              // the corner between shell and floor
)

// hollow is a pit in a picture, in pixels; depth from 0 to 255.
type hollow struct{ x, y, across, along, depth int }

// drawPhoto is an invented picture: a shaded plate with its marks, a scale of
// squares and a chalked label. All arithmetic is on whole numbers, so that
// every machine makes the same file.
func drawPhoto(seed uint64, v view, hollows []hollow, label string) []byte {
	img := image.NewRGBA(image.Rect(0, 0, photoWidth, photoHeight))
	for y := range photoHeight {
		for x := range photoWidth {
			img.SetRGBA(x, y, tint(seed, v, hollows, x, y))
		}
	}
	scaleBar(img)
	chalk(img, label)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 82}); err != nil {
		panic("demo: a picture in memory: " + err.Error())
	}
	return b.Bytes()
}

// tint is the colour at a place: how bright the metal is, and how rusty.
func tint(seed uint64, v view, hollows []hollow, x, y int) color.RGBA {
	bright := 112 + (grain(seed, x, y, 64)-128)/5 + (grain(seed+1, x, y, 9)-128)/9 + (grain(seed+2, x*3, y, 5)-128)/14
	rust := grain(seed+3, x, y, 90) - 118 + (grain(seed+6, x, y, 31)-128)/3 + (grain(seed+8, x, y, 8)-128)/4
	switch v {
	case seam:
		bright, rust = seamTint(seed, y, x, bright, rust)
	case sump:
		if x > 170 && x < 470 && y > 120 && y < 400 {
			deep := min(min(x-170, 470-x), min(y-120, 400-y))
			bright -= min(78, 20+deep*2)
			if deep < 7 {
				bright += 60
			}
		}
	case shell:
		if y < 170 {
			bright += 18 - (170-y)/9
			rust -= 30
		} else if y < 200 {
			bright += 44 - 3*abs(y-182) + 2*abs((x+(y-182)*(y-182)/20)%11-5)
			rust -= 60
		} else if y < 214 {
			bright -= 2 * (214 - y)
		}
	}
	for _, h := range hollows {
		dx, dy := x-h.x, y-h.y
		r := dx*dx*1024/(h.across*h.across) + dy*dy*1024/(h.along*h.along) + (grain(seed+7, x, y, 12)-128)*2
		switch {
		case r < 1024:
			bright -= h.depth * (1024 - r) / 1500
			bright -= (dx*h.along + dy*h.across) * -40 / (2*h.across*h.along + 1)
			rust += 50
		case r < 1500:
			bright += (1500 - r) / 24
		}
	}
	rust = min(120, max(0, rust))
	bright = min(235, max(12, bright))
	return color.RGBA{
		R: uint8(min(255, bright+rust*34/120)),
		G: uint8(max(0, bright-rust*10/120)),
		B: uint8(max(0, bright+4-rust*44/120)),
		A: 255,
	}
}

// seamTint is a lap weld: the edge of the upper plate and the bead below it.
func seamTint(seed uint64, y, x, bright, rust int) (int, int) {
	edge := 232 + (grain(seed+4, x, 0, 22)-128)/32
	switch d := y - edge; {
	case d < -4:
		return bright + 10, rust
	case d < 0:
		return bright + 46, rust - 40
	case d < 26:
		ripple := (x + d*d/9) % 13
		return bright + 30 - 2*abs(d-11) + abs(ripple-6)*3, rust - 50
	case d < 40:
		return bright - 34 + (d-26)*2, rust
	}
	return bright, rust
}

// grain is smooth noise from 0 to 255 with cells of the given size.
func grain(seed uint64, x, y, cell int) int {
	cx, cy := x/cell, y/cell
	fx, fy := x%cell, y%cell
	row := func(yy int) int { return knot(seed, cx, yy)*(cell-fx) + knot(seed, cx+1, yy)*fx }
	return (row(cy)*(cell-fy) + row(cy+1)*fy) / (cell * cell)
}

func knot(seed uint64, x, y int) int {
	h := seed*0x9E3779B97F4A7C15 + uint64(x)*0xBF58476D1CE4E5B9 + uint64(y)*0x94D049BB133111EB
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	h ^= h >> 32
	return int(h & 255)
}

func abs(v int) int { return max(v, -v) }

// scaleBar draws a ruler of ten squares at the lower edge.
func scaleBar(img *image.RGBA) {
	const left, top, size = 30, 440, 24
	box(img, left-3, top-3, left+10*size+3, top+size+3, color.RGBA{250, 250, 245, 255})
	for i := range 10 {
		if i%2 == 0 {
			box(img, left+i*size, top, left+(i+1)*size, top+size, color.RGBA{20, 20, 20, 255})
		}
	}
}

func box(img *image.RGBA, x1, y1, x2, y2 int, c color.RGBA) {
	for y := y1; y < y2; y++ {
		for x := x1; x < x2; x++ {
			img.SetRGBA(x, y, c)
		}
	}
}

// chalked letters on a grid of three by five: one number a row, three bits
// wide.
var chalked = map[rune][5]uint8{
	'0': {7, 5, 5, 5, 7}, '1': {2, 6, 2, 2, 7}, '2': {7, 1, 7, 4, 7}, '3': {7, 1, 7, 1, 7}, '4': {5, 5, 7, 1, 1},
	'5': {7, 4, 7, 1, 7}, '6': {7, 4, 7, 5, 7}, '7': {7, 1, 2, 2, 2}, '8': {7, 5, 7, 5, 7}, '9': {7, 5, 7, 1, 7},
	'A': {2, 5, 7, 5, 5}, 'C': {7, 4, 4, 4, 7}, 'S': {7, 4, 7, 1, 7}, '-': {0, 0, 7, 0, 0}, '/': {1, 1, 2, 4, 4},
}

// chalk writes the label at the upper left.
func chalk(img *image.RGBA, label string) {
	const left, top, size = 34, 30, 9
	x := left
	for _, r := range label {
		for row, bits := range chalked[r] {
			for col := range 3 {
				if bits>>(2-col)&1 == 1 {
					for dy := range size {
						for dx := range size {
							px, py := x+col*size+dx, top+row*size+dy
							if grain(91, px, py, 3) > 70 {
								img.SetRGBA(px, py, color.RGBA{236, 233, 214, 255})
							}
						}
					}
				}
			}
		}
		x += 4 * size
	}
}
