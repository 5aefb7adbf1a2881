package form

import (
	"image"
	"image/color"
	"image/draw"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"platebook/templates"
)

// canvas is a small picture drawn with smooth edges. Coordinates are pixels
// of a screen of 96 to the inch, y downward; the picture is density times as
// fine.
type canvas struct {
	img           *image.RGBA
	density       float64
	regular, bold *opentype.Font
}

type dot struct{ x, y float64 }

func newCanvas(width, height, density int) (*canvas, error) {
	c := &canvas{img: image.NewRGBA(image.Rect(0, 0, width*density, height*density)), density: float64(density)}
	draw.Draw(c.img, c.img.Bounds(), image.White, image.Point{}, draw.Src)
	for name, into := range map[string]**opentype.Font{"Regular": &c.regular, "Bold": &c.bold} {
		data, err := templates.Fonts.ReadFile("fonts/LiberationSans-" + name + ".ttf")
		if err != nil {
			return nil, err
		}
		if *into, err = opentype.Parse(data); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// fill fills a closed outline. Only the box around it is touched.
func (c *canvas) fill(col color.Color, outline ...dot) {
	x1, y1, x2, y2 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, d := range outline {
		x1, y1 = min(x1, d.x*c.density), min(y1, d.y*c.density)
		x2, y2 = max(x2, d.x*c.density), max(y2, d.y*c.density)
	}
	box := image.Rect(int(math.Floor(x1)), int(math.Floor(y1)), int(math.Ceil(x2))+1, int(math.Ceil(y2))+1)
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	at := func(d dot) (float32, float32) {
		return float32(d.x*c.density - float64(box.Min.X)), float32(d.y*c.density - float64(box.Min.Y))
	}
	x, y := at(outline[0])
	r.MoveTo(x, y)
	for _, d := range outline[1:] {
		x, y = at(d)
		r.LineTo(x, y)
	}
	r.ClosePath()
	r.Draw(c.img, box, image.NewUniform(col), image.Point{})
}

// line draws a path of the given width.
func (c *canvas) line(col color.Color, width float64, path ...dot) {
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		l := math.Hypot(b.x-a.x, b.y-a.y)
		if l == 0 {
			continue
		}
		nx, ny := -(b.y-a.y)/l*width/2, (b.x-a.x)/l*width/2
		c.fill(col, dot{a.x + nx, a.y + ny}, dot{b.x + nx, b.y + ny}, dot{b.x - nx, b.y - ny}, dot{a.x - nx, a.y - ny})
	}
}

// outline draws a closed path.
func (c *canvas) outline(col color.Color, width float64, path ...dot) {
	c.line(col, width, append(path, path[0])...)
}

// arrow draws a path that ends in a head.
func (c *canvas) arrow(col color.Color, width float64, path ...dot) {
	n := len(path)
	a, b := path[n-2], path[n-1]
	l := math.Hypot(b.x-a.x, b.y-a.y)
	ux, uy := (b.x-a.x)/l, (b.y-a.y)/l
	const head, half = 9, 3.6
	c.fill(col, b, dot{b.x - head*ux - half*uy, b.y - head*uy + half*ux}, dot{b.x - head*ux + half*uy, b.y - head*uy - half*ux})
	shaft := append([]dot{}, path[:n-1]...)
	c.line(col, width, append(shaft, dot{b.x - 0.8*head*ux, b.y - 0.8*head*uy})...)
}

// curve draws an arc of the given width in one piece.
func (c *canvas) curve(col color.Color, width float64, centre dot, radius, from, to float64) {
	c.fill(col, append(arc(centre, radius+width/2, from, to), arc(centre, radius-width/2, to, from)...)...)
}

// arc is the path of a circle between bearings in degrees clockwise from the
// top.
func arc(centre dot, radius, from, to float64) []dot {
	n := max(8, int(math.Abs(to-from)*radius/60))
	path := make([]dot, n+1)
	for i := range path {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		path[i] = dot{centre.x + radius*math.Sin(a), centre.y - radius*math.Cos(a)}
	}
	return path
}

// text writes a line; align is 0 for its left end, 0.5 for its middle and 1
// for its right end at the place, which is on the base line.
func (c *canvas) text(s string, at dot, size, align float64, bold bool, col color.Color) error {
	f := c.regular
	if bold {
		f = c.bold
	}
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size * c.density, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return err
	}
	defer face.Close()
	w := font.MeasureString(face, s)
	d := font.Drawer{Dst: c.img, Src: image.NewUniform(col), Face: face}
	d.Dot = fixed.Point26_6{X: fixed.Int26_6(at.x*c.density*64) - fixed.Int26_6(float64(w)*align), Y: fixed.Int26_6(at.y * c.density * 64)}
	d.DrawString(s)
	return nil
}
