package form

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"strconv"
	"testing"

	"platebook/templates"
)

var update = flag.Bool("update", false, "draw templates/guide.png anew")

var (
	ink   = color.RGBA{0x26, 0x32, 0x38, 0xff}
	steel = color.RGBA{0xe9, 0xee, 0xf3, 0xff}
	ring  = color.RGBA{0xd0, 0xda, 0xe5, 0xff}
	navy  = color.RGBA{0x1f, 0x38, 0x64, 0xff}
	spot  = color.RGBA{0xc5, 0x5a, 0x11, 0xff}
	white = color.RGBA{0xff, 0xff, 0xff, 0xff}
)

// sketch is the figure being drawn; the first error stays.
type sketch struct {
	*canvas
	err error
}

func (s *sketch) write(text string, x, y, size, align float64, bold bool, col color.Color) {
	if err := s.text(text, dot{x, y}, size, align, bold, col); err != nil && s.err == nil {
		s.err = err
	}
}

// measuringFigure is the drawing of how positions are measured.
func measuringFigure() (*image.Paletted, error) {
	c, err := newCanvas(figureWidth, figureHeight, figureDensity)
	if err != nil {
		return nil, err
	}
	s := &sketch{canvas: c}
	s.plan()
	s.plate()
	s.segment()
	if s.err != nil {
		return nil, s.err
	}
	return plain(c.img), nil
}

// plain is a picture with 16 steps a colour, which makes a small file.
func plain(img image.Image) *image.Paletted {
	b := img.Bounds()
	out := image.NewPaletted(b, nil)
	seen := map[color.RGBA]uint8{}
	step := func(v uint32) uint8 { return uint8((v>>8+8)/17) * 17 }
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, _ := img.At(x, y).RGBA()
			c := color.RGBA{step(r), step(g), step(bl), 0xff}
			i, ok := seen[c]
			if !ok && len(out.Palette) < 256 {
				i = uint8(len(out.Palette))
				seen[c] = i
				out.Palette = append(out.Palette, c)
			} else if !ok {
				i = uint8(out.Palette.Index(c))
			}
			out.Pix[out.PixOffset(x, y)] = i
		}
	}
	return out
}

// The picture is stored, so that a blank workbook has the same bytes on every
// machine. This draws it anew and holds it against the stored one; a few
// pixels at the edges may differ with the machine's arithmetic.
func TestGuideFigureIsCurrent(t *testing.T) {
	const path = "../../templates/guide.png"
	want, err := measuringFigure()
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, want); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := png.Decode(bytes.NewReader(templates.GuideFigure))
	if err != nil {
		t.Fatal(err)
	}
	if got.Bounds() != want.Bounds() {
		t.Fatalf("templates/guide.png is %v, drawn %v; run with -update", got.Bounds(), want.Bounds())
	}
	b := want.Bounds()
	off := 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r1, g1, b1, _ := got.At(x, y).RGBA()
			r2, g2, b2, _ := want.At(x, y).RGBA()
			for _, d := range []int{int(r1) - int(r2), int(g1) - int(g2), int(b1) - int(b2)} {
				if d > 0x3000 || d < -0x3000 {
					off++
					break
				}
			}
		}
	}
	if off > b.Dx()*b.Dy()/2000 {
		t.Errorf("templates/guide.png differs from the drawing in %d pixels; run with -update", off)
	}
}

// plan shows how rows and positions are counted.
func (s *sketch) plan() {
	centre, radius, rim := dot{112, 122}, 88.0, 74.0
	s.write("Plan: rows and positions", 12, 16, 12, 0, true, navy)
	s.fill(ring, arc(centre, radius, 0, 360)...)
	s.fill(steel, arc(centre, rim, 0, 360)...)
	const rows = 4
	height := 2 * rim / rows
	for i := range rows {
		bottom := centre.y + rim - float64(i)*height
		top := bottom - height
		far := func(y float64) float64 { return math.Sqrt(max(0, rim*rim-(y-centre.y)*(y-centre.y))) }
		if i < rows-1 {
			s.line(ink, 0.8, dot{centre.x - far(top), top}, dot{centre.x + far(top), top})
		}
		seams := []float64{-26, 26}
		if i%2 == 1 {
			seams = []float64{-42, 0, 42}
		}
		for _, x := range seams {
			inside := math.Sqrt(rim*rim - x*x)
			y1, y2 := min(bottom, centre.y+inside), max(top, centre.y-inside)
			if y1 > y2 {
				s.line(ink, 0.8, dot{centre.x + x, y1}, dot{centre.x + x, y2})
			}
		}
		names := []float64{-44, 0, 44}
		if i%2 == 1 {
			names = []float64{-56, -21, 21, 56}
		}
		if i == rows-1 {
			names[0], names[3] = -52, 52
		}
		for j, x := range names {
			y := (bottom+top)/2 + 3.5
			if i == 0 {
				y -= 9
			}
			if i == rows-1 {
				y += 9
			}
			s.write(strconv.Itoa(i+1)+"-"+strconv.Itoa(j+1), centre.x+x, y, 9, 0.5, false, ink)
		}
	}
	for b := 0.0; b < 360; b += 45 {
		a := arc(centre, 1, b, b+1)[0]
		ux, uy := a.x-centre.x, a.y-centre.y
		s.line(ink, 0.8, dot{centre.x + rim*ux, centre.y + rim*uy}, dot{centre.x + radius*ux, centre.y + radius*uy})
	}
	s.curve(ink, 1, centre, rim, 0, 360)
	s.curve(ink, 1.8, centre, radius, 0, 360)
	s.arrow(spot, 1.6, dot{12, 206}, dot{12, 156})
	s.write("rows", 6, 220, 10, 0, false, spot)
	s.arrow(spot, 1.6, dot{50, 224}, dot{110, 224})
	s.write("positions", 116, 228, 10, 0, false, spot)
	s.write("seen from above", 112, 245, 10, 0.5, false, ink)
}

// plate shows X and Y on a plate.
func (s *sketch) plate() {
	const left, right, top, bottom = 250.0, 460.0, 70.0, 180.0
	s.write("Plate", 240, 16, 12, 0, true, navy)
	corners := []dot{{left, bottom}, {right, bottom}, {right, top}, {left, top}}
	s.fill(steel, corners...)
	s.outline(ink, 1.6, corners...)
	centre := dot{370, 112}
	box := []dot{{centre.x - 22, centre.y + 13}, {centre.x + 22, centre.y + 13}, {centre.x + 22, centre.y - 13}, {centre.x - 22, centre.y - 13}}
	s.fill(white, box...)
	s.outline(spot, 1.2, box...)
	s.fill(spot, arc(centre, 3, 0, 360)...)
	s.line(ink, 0.6, dot{centre.x, centre.y + 16}, dot{centre.x, bottom - 4})
	s.arrow(spot, 1.8, dot{left, bottom - 14}, dot{centre.x, bottom - 14})
	s.write("X", (left+centre.x)/2, bottom-20, 13, 0.5, true, spot)
	s.line(ink, 0.6, dot{left + 4, centre.y}, dot{centre.x - 25, centre.y})
	s.arrow(spot, 1.8, dot{left + 18, bottom}, dot{left + 18, centre.y})
	s.write("Y", left+24, (bottom+centre.y)/2-4, 13, 0, true, spot)
	s.fill(navy, arc(dot{left, bottom}, 5, 0, 360)...)
	s.write("datum corner: bottom left,", left-6, bottom+19, 10, 0, false, navy)
	s.write("if Plates does not say otherwise", left-6, bottom+32, 10, 0, false, navy)
	s.write("indication: Length along X, Width along Y", left, top-28, 10, 0, false, spot)
	s.line(spot, 0.8, dot{centre.x, top - 24}, dot{centre.x, centre.y - 15})
	s.write("length of the plate", (left+right)/2+20, 245, 10, 0.5, false, ink)
	s.line(ink, 0.8, dot{left, 227}, dot{left, 237})
	s.line(ink, 0.8, dot{right, 227}, dot{right, 237})
	s.arrow(ink, 0.8, dot{(left + right) / 2, 232}, dot{right, 232})
	s.arrow(ink, 0.8, dot{(left + right) / 2, 232}, dot{left, 232})
}

// segment shows X and Y on an annular plate.
func (s *sketch) segment() {
	s.write("Annular plate", 490, 16, 12, 0, true, navy)
	centre, outer, inner := dot{592, 330}, 270.0, 180.0
	const from, to = -20.0, 20.0
	shape := append(arc(centre, outer, from, to), arc(centre, inner, to, from)...)
	s.fill(ring, shape...)
	s.outline(ink, 1.2, shape...)
	s.curve(ink, 4, centre, outer+2, from-2, to+2)
	s.write("shell", centre.x, 46, 10, 0.5, false, ink)
	const at, in = 6.0, 52.0
	point := arc(centre, outer-in, at, at+1)[0]
	foot := arc(centre, outer-1, at, at+1)[0]
	s.arrow(spot, 1.8, arc(centre, outer-9, from, at)...)
	mid := arc(centre, outer-22, -9, -8)[0]
	s.write("X", mid.x, mid.y+4, 13, 0.5, true, spot)
	s.arrow(spot, 1.8, foot, point)
	s.write("Y", (foot.x+point.x)/2+8, (foot.y+point.y)/2+8, 13, 0, true, spot)
	s.fill(spot, arc(point, 3.5, 0, 360)...)
	seam := arc(centre, inner, from, from+1)[0]
	s.write("first radial seam", seam.x-44, seam.y+22, 10, 0, false, navy)
	s.line(navy, 2.6, arc(centre, outer, from, from+1)[0], seam)
	s.write("X clockwise along the shell,", centre.x, 222, 10, 0.5, false, ink)
	s.write("Y from the shell inward", centre.x, 235, 10, 0.5, false, ink)
}
