package draw

import "math"

// The colours. Meaning is never carried by colour alone: bands have letters,
// sides have shapes, verdicts have words.
var (
	ink    = Paint{R: 0x1c, G: 0x24, B: 0x2c, On: true} // text, plate edges
	steel  = Paint{R: 0x55, G: 0x60, B: 0x6b, On: true} // second lines, small words
	mist   = Paint{R: 0xa3, G: 0xac, B: 0xb5, On: true} // plates under a busy layer
	haze   = Paint{R: 0xf1, G: 0xf3, B: 0xf5, On: true} // areas set apart
	paper  = Paint{R: 0xff, G: 0xff, B: 0xff, On: true}
	accent = Paint{R: 0x9c, G: 0x2a, B: 0x1d, On: true} // cautions, the marked place
)

// Line widths, mm.
const (
	hair   = 0.08
	fine   = 0.12
	plain  = 0.18
	strong = 0.35
	heavy  = 0.5
)

// ramp is one hue from light to dark. Lightness falls at every stop, so the
// order survives grey print and every kind of colour blindness.
var ramp = [...]Paint{
	{R: 0xe6, G: 0xef, B: 0xf7, On: true},
	{R: 0xbd, G: 0xd3, B: 0xe8, On: true},
	{R: 0x86, G: 0xad, B: 0xd3, On: true},
	{R: 0x4c, G: 0x80, B: 0xb5, On: true},
	{R: 0x22, G: 0x54, B: 0x8e, On: true},
	{R: 0x0b, G: 0x29, B: 0x52, On: true},
}

// shade is colour i of n along the ramp, 0 the lightest.
func shade(i, n int) Paint {
	if n < 2 {
		return ramp[len(ramp)/2]
	}
	t := float64(i) / float64(n-1) * float64(len(ramp)-1)
	k := min(int(t), len(ramp)-2)
	t -= float64(k)
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + t*(float64(b)-float64(a)) + 0.5) }
	a, b := ramp[k], ramp[k+1]
	return Paint{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B), On: true}
}

// light is how bright a colour looks, 0 black to 1 white.
// Source: relative luminance, WCAG 2.1.
func (p Paint) light() float64 {
	linear := func(c uint8) float64 {
		v := float64(c) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(p.R) + 0.7152*linear(p.G) + 0.0722*linear(p.B)
}

// over is ink on a light ground, white on a dark one.
func over(ground Paint) Paint {
	if !ground.On || ground.light() > 0.2 {
		return ink
	}
	return paper
}
