package pdf

import (
	"bytes"
	"math"
	"strconv"
	"unicode/utf16"

	"platebook/render/draw"
	"platebook/render/lettering"
	"platebook/render/report"
)

// ink is a colour.
type ink struct{ r, g, b uint8 }

// The few colours of a report. Each differs from its neighbours in grey
// print too.
var (
	black  = ink{0x1A, 0x1A, 0x1A}
	white  = ink{0xFF, 0xFF, 0xFF}
	grey   = ink{0x5A, 0x5F, 0x66}
	hair   = ink{0xC9, 0xCE, 0xD4}
	pale   = ink{0xEE, 0xF1, 0xF4}
	deep   = ink{0x1F, 0x3A, 0x52}
	alarm  = ink{0x8E, 0x1F, 0x1B}
	rose   = ink{0xF7, 0xE3, 0xE0}
	cream  = ink{0xFA, 0xF1, 0xD9}
	amber  = ink{0xA8, 0x6A, 0x00}
	shaded = ink{0xE3, 0xE8, 0xED}
)

// run is one piece of text on its baseline, millimetres from the page's top
// left corner, size in points.
type run struct {
	x, y, size float64
	bold       bool
	ink        ink
	text       string
	figure     *drawn // whose number the text begins with
}

// link is a rectangle that leads to a place.
type link struct {
	x, y, w, h float64
	to         *place
}

// place is a spot in the document, known once it is laid out.
type place struct {
	sheet *sheet
	y     float64
}

// sheet is one page: drawing operators beneath, text above.
type sheet struct {
	w, h     float64
	faces    *faces
	under    bytes.Buffer
	runs     []run
	links    []link
	pictures *pictures
	drawing  bool   // a page for one drawing, with narrow margins
	own      bool   // the text is written here too, maroto leaves the page blank
	packed   []byte // what an own page shows, as an object of the file
}

// number appends v with two decimals: a hundredth of a point is beyond any
// printer.
func number(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		v = 0
	}
	n := int64(math.Round(v * 100))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = strconv.AppendInt(b, n/100, 10)
	if c := n % 100; c != 0 {
		b = append(b, '.', byte('0'+c/10))
		if c%10 != 0 {
			b = append(b, byte('0'+c%10))
		}
	}
	return b
}

func (s *sheet) op(name string, values ...float64) {
	b := s.under.AvailableBuffer()
	for _, v := range values {
		b = append(number(b, v), ' ')
	}
	s.under.Write(append(append(b, name...), '\n'))
}

func (s *sheet) colour(c ink, name string) {
	b := s.under.AvailableBuffer()
	for _, v := range [...]uint8{c.r, c.g, c.b} {
		b = strconv.AppendFloat(b, math.Round(float64(v)/255*1000)/1000, 'f', -1, 64)
		b = append(b, ' ')
	}
	s.under.Write(append(append(b, name...), '\n'))
}

// fill paints a rectangle.
func (s *sheet) fill(x, y, w, h float64, c ink) {
	s.colour(c, "rg")
	s.op("re", x*mm, (s.h-y-h)*mm, w*mm, h*mm)
	s.op("f")
}

// rule draws a straight line, width in millimetres.
func (s *sheet) rule(x1, y1, x2, y2, width float64, c ink) {
	s.colour(c, "RG")
	s.op("w", width*mm)
	s.op("m", x1*mm, (s.h-y1)*mm)
	s.op("l", x2*mm, (s.h-y2)*mm)
	s.op("S")
}

// frame draws the outline of a rectangle.
func (s *sheet) frame(x, y, w, h, width float64, c ink) {
	s.colour(c, "RG")
	s.op("w", width*mm)
	s.op("re", x*mm, (s.h-y-h)*mm, w*mm, h*mm)
	s.op("S")
}

// text sets a line that is clean and fits already.
func (s *sheet) text(x, y, size float64, bold bool, c ink, line string) {
	if line == "" {
		return
	}
	s.runs = append(s.runs, run{x: x, y: y, size: size, bold: bold, ink: c, text: line})
}

// simple says whether maroto can set the page: it knows neither letters from
// right to left nor a second font.
func (s *sheet) simple() bool {
	for i := range s.runs {
		if !lettering.Simple(s.runs[i].text) {
			return false
		}
	}
	return true
}

// textRight sets a line that ends at x.
func (s *sheet) textRight(x, y, size float64, bold bool, c ink, line string) {
	s.text(x-s.faces.of(bold).width(line, size), y, size, bold, c, line)
}

// textMiddle sets a line around x.
func (s *sheet) textMiddle(x, y, size float64, bold bool, c ink, line string) {
	s.text(x-s.faces.of(bold).width(line, size)/2, y, size, bold, c, line)
}

// scene draws a scene with its top left corner at x, y, clipped to its frame.
func (s *sheet) scene(sc *draw.Scene, x, y, scale float64) {
	w, h := sc.Width*scale, sc.Height*scale
	s.op("q")
	s.op("re", x*mm, (s.h-y-h)*mm, w*mm, h*mm)
	s.op("W n")
	sc.PDF(&s.under, x*mm, (s.h-y-h)*mm, scale, s.label)
	s.op("Q")
}

// label writes a label of a drawing: a light outline first where it asks for
// one, then the letters.
func (s *sheet) label(w *bytes.Buffer, l draw.Run) {
	face, text := s.faces.of(l.Bold), s.faces.clean(l.Text)
	sin, cos := math.Sincos(l.Angle * math.Pi / 180)
	b := w.AvailableBuffer()
	b = append(b, "BT\n"...)
	place := func() {
		for _, v := range [...]float64{cos, sin, -sin, cos} {
			b = append(strconv.AppendFloat(b, math.Round(v*1e5)/1e5+0, 'f', -1, 64), ' ')
		}
		b = append(number(b, l.X), ' ')
		b = append(number(b, l.Y), " Tm\n"...)
	}
	place()
	if l.Halo {
		// The outline stands for no text: a search finds the label once.
		b = append(b, "/Span <</ActualText ()>> BDC 1 Tr 1 1 1 RG 1 j "...)
		b = append(number(b, l.Size*0.22), " w [] 0 d "...)
		b, _ = face.show(b, text, l.Size, "", false)
		b = append(b, "0 Tr EMC\n"...)
		// Showing text moves on by its width: back to the start.
		place()
	}
	for _, v := range [...]uint8{l.Paint.R, l.Paint.G, l.Paint.B} {
		b = append(strconv.AppendFloat(b, math.Round(float64(v)/255*1000)/1000, 'f', -1, 64), ' ')
	}
	b = append(b, "rg "...)
	b, _ = face.show(b, text, l.Size, "", true)
	b = append(b, "ET\n"...)
	w.Write(b)
}

// show appends the operators that show a clean line, in the font in force or
// others it sets, and gives the font then in force. Numbers that stand for
// letters carry what they mean. Letters from right to left do not: readers
// turn them back by their places, and would turn their meaning too.
func (f *face) show(b []byte, line string, size float64, font string, meaning bool) ([]byte, string) {
	part := func(family lettering.Family, glyphs string) {
		if name := fontName(family, f.bold); name != font {
			font = name
			b = append(append(b, name...), ' ')
			b = append(number(b, size), " Tf "...)
		}
		b = append(f.glyphs(b, family, glyphs), " Tj\n"...)
	}
	if lettering.Simple(line) {
		part(lettering.Main, line)
		return b, font
	}
	for _, s := range lettering.Spans(line) {
		if s.Text == "" || s.Right || !meaning {
			part(s.Family, s.Glyphs)
			continue
		}
		b = append(b, "/Span <</ActualText "...)
		b = append(utf16Text(b, s.Text), ">> BDC "...)
		part(s.Family, s.Glyphs)
		b = append(b, "EMC\n"...)
	}
	return b, font
}

// glyphs appends a text as a PDF string in the fonts' encoding, UTF-16, and
// notes its letters for the subset.
func (f *face) glyphs(b []byte, family lettering.Family, text string) []byte {
	used := &f.used[family]
	b = append(b, '(')
	for _, r := range text {
		used.add(r)
		if r >= ' ' && r < 0x7F && r != '(' && r != ')' && r != '\\' {
			b = append(b, 0, byte(r))
			continue
		}
		b = appendString(b, byte(r>>8), byte(r))
	}
	return append(b, ')')
}

// utf16Text appends a text string that is not bound to a font.
func utf16Text(b []byte, text string) []byte {
	b = append(b, '(', 0xFE, 0xFF)
	for _, u := range utf16.Encode([]rune(text)) {
		b = appendString(b, byte(u>>8), byte(u))
	}
	return append(b, ')')
}

func appendString(b []byte, bytes ...byte) []byte {
	for _, c := range bytes {
		switch c {
		case '(', ')', '\\':
			b = append(b, '\\', c)
		case '\r':
			b = append(b, '\\', 'r')
		case '\n':
			b = append(b, '\\', 'n')
		default:
			b = append(b, c)
		}
	}
	return b
}

// The resource names under which maroto's fonts are found.
func fontName(family lettering.Family, bold bool) string {
	switch {
	case family == lettering.Reserve && bold:
		return "/QB"
	case family == lettering.Reserve:
		return "/QR"
	case family == lettering.East && bold:
		return "/EB"
	case family == lettering.East:
		return "/ER"
	case bold:
		return "/PB"
	}
	return "/PR"
}

// setText writes the page's text beneath as operators: what maroto would do
// run by run, in less than a tenth of the time.
func (s *sheet) setText() {
	var (
		last run
		font string
	)
	b := make([]byte, 0, 64*len(s.runs))
	b = append(b, "BT\n"...)
	px, py := 0.0, 0.0
	for i, r := range s.runs {
		if r.size != last.size {
			font = ""
		}
		if i == 0 || r.ink != last.ink {
			for _, v := range [...]uint8{r.ink.r, r.ink.g, r.ink.b} {
				b = append(strconv.AppendFloat(b, math.Round(float64(v)/255*1000)/1000, 'f', -1, 64), ' ')
			}
			b = append(b, "rg\n"...)
		}
		// Offsets are taken between rounded places so that they do not add up
		// to a drift.
		x, y := math.Round(r.x*mm*100)/100, math.Round((s.h-r.y)*mm*100)/100
		b = append(number(b, x-px), ' ')
		b = append(number(b, y-py), " Td "...)
		b, font = s.faces.of(r.bold).show(b, r.text, r.size, font, true)
		px, py, last = x, y, r
	}
	b = append(b, "ET\n"...)
	s.under.Write(b)
	s.runs = nil
}

// picture draws an image into a rectangle.
func (s *sheet) picture(p *report.Picture, x, y, w, h float64) {
	name := s.pictures.name(p)
	s.op("q")
	s.op("cm", w*mm, 0, 0, h*mm, x*mm, (s.h-y-h)*mm)
	s.under.WriteString("/" + name + " Do\n")
	s.op("Q")
}
