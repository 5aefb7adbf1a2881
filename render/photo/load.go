// Package photo makes photos ready to print: found beside the workbook, turned
// upright, scaled to the size they are printed at. The originals are only
// read.
package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/gen2brain/heic"
	"golang.org/x/image/draw"

	"platebook/render/report"
)

// Printed four to a page, 1100 pixels on the long side are about 300 to the
// inch of width: common practice, no source.
const (
	longSide  = 1100
	quality   = 80
	wanted    = 250 << 10 // bytes of a printed photo
	maxFile   = 100 << 20 // bytes of an original
	maxPixels = 120e6
	maxMemory = 600e6 // bytes of a decoded original
)

// Meta is what a photo's file tells.
type Meta struct {
	Format        string // "JPEG", "PNG", "HEIC"
	Width, Height int    // of the original, as stored
	TakenAt       Clock
}

// Purpose is what photos are loaded for.
type Purpose uint8

// The purposes.
const (
	ForPrint Purpose = iota
	ToCheck          // decoded, to know that they can be printed, but without a picture
)

// Load reads a photo and gives it upright and scaled for print.
func Load(name string) (*report.Picture, Meta, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, Meta{}, plainError(err)
	}
	if !info.Mode().IsRegular() {
		return nil, Meta{}, odd(info)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, Meta{}, plainError(err)
	}
	defer f.Close()
	return read(f, ForPrint)
}

// plainError drops the machine's path from an error: the caller knows which
// file it asked for, and a report must not differ between machines.
func plainError(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

func read(r io.Reader, why Purpose) (*report.Picture, Meta, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	if err != nil {
		return nil, Meta{}, errRight
	}
	if len(data) > maxFile {
		return nil, Meta{}, errLong
	}
	if len(data) == 0 {
		return nil, Meta{}, errEmpty
	}
	meta := Meta{Format: format(data)}
	if meta.Format == "" {
		return nil, meta, otherKind(data)
	}
	side, taken := exif(data, meta.Format)
	meta.TakenAt = taken
	cfg, err := config(data, meta.Format)
	if err != nil {
		return nil, meta, unreadable(err)
	}
	meta.Width, meta.Height = cfg.Width, cfg.Height
	if err := sane(cfg); err != nil {
		return nil, meta, err
	}
	src, err := decode(data, meta.Format)
	if err != nil {
		return nil, meta, unreadable(err)
	}
	if why == ToCheck {
		return nil, meta, nil
	}
	if meta.Format == "JPEG" && stands(data, cfg, side) {
		if b, ok := bare(data); ok {
			return &report.Picture{JPEG: b, Width: cfg.Width, Height: cfg.Height}, meta, nil
		}
	}
	p, err := printable(upright(scale(src, longSide), side))
	return p, meta, err
}

// format tells a picture by its first bytes, whatever its name.
func format(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("\xFF\xD8\xFF")):
		return "JPEG"
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1A\n")):
		return "PNG"
	case len(data) > 12 && string(data[4:8]) == "ftyp":
		switch string(data[8:12]) {
		case "heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1":
			return "HEIC"
		}
	}
	return ""
}

func config(data []byte, format string) (cfg image.Config, err error) {
	defer recovered(&err)
	switch format {
	case "JPEG":
		return jpeg.DecodeConfig(bytes.NewReader(data))
	case "PNG":
		return png.DecodeConfig(bytes.NewReader(data))
	}
	return heic.DecodeConfig(bytes.NewReader(data))
}

// leastHEIC is the width, in pixels, below which the decoder takes the rows of
// colour for shorter than they are stored, and gives noise.
const leastHEIC = 128

func decode(data []byte, format string) (im image.Image, err error) {
	defer recovered(&err)
	switch format {
	case "JPEG":
		return jpeg.Decode(bytes.NewReader(data))
	case "PNG":
		return png.Decode(bytes.NewReader(data))
	}
	im, err = heic.Decode(bytes.NewReader(data))
	if err == nil {
		// The decoder reads sizes from the header a second time.
		b := im.Bounds()
		if b.Dx() < leastHEIC {
			return nil, &unfit{fmt.Sprintf("is %d pixels wide, too few for a HEIC file to be read", b.Dx()), "Save it as JPEG or PNG."}
		}
		err = sane(image.Config{ColorModel: im.ColorModel(), Width: b.Dx(), Height: b.Dy()})
	}
	return im, err
}

// recovered makes a decoder's panic over a broken file an error of that file.
func recovered(err *error) {
	if r := recover(); r != nil {
		*err = errDamaged
	}
}

// sane refuses pictures no camera takes, before memory is given to them.
func sane(cfg image.Config) error {
	w, h := float64(cfg.Width), float64(cfg.Height)
	if w < 1 || h < 1 {
		return &unfit{"holds no pixels", fetchAgain}
	}
	deep := 4.0
	switch cfg.ColorModel {
	case color.RGBA64Model, color.NRGBA64Model:
		deep = 8
	case color.YCbCrModel:
		deep = 3
	case color.GrayModel:
		deep = 1
	}
	size := fmt.Sprintf("%d × %d pixels", cfg.Width, cfg.Height)
	switch {
	case w*h > maxPixels:
		return &unfit{fmt.Sprintf("has %s, %.0f million; the limit for a photo is %.0f million", size, math.Ceil(w*h/1e6), maxPixels/1e6), saveSmall}
	case w*h*deep > maxMemory:
		return &unfit{fmt.Sprintf("has %s of %.0f bytes, %.0f MB in memory; the limit for a photo is %.0f MB", size, deep, math.Ceil(w*h*deep/1e6), maxMemory/1e6), "Save it with 8 bits a colour, or smaller: 4000 pixels on its long side are plenty."}
	case max(w, h) > 200*min(w, h):
		return &unfit{fmt.Sprintf("has %s: a line and no photo", size), "Name the right picture."}
	}
	return nil
}

// scale brings the long side down to a number of pixels; a smaller picture stays
// as large as it is. Where it is clear it stands on white, or on a ground that
// shows it where it is white itself.
func scale(src image.Image, long int) *image.RGBA {
	b := src.Bounds()
	w, h := b.Dx(), b.Dy()
	if m := max(w, h); m > long {
		w, h = max(1, (w*long+m/2)/m), max(1, (h*long+m/2)/m)
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	if w == b.Dx() && h == b.Dy() {
		draw.Draw(dst, dst.Bounds(), src, b.Min, draw.Src)
		return grounded(dst)
	}
	if y, ok := src.(*image.YCbCr); ok {
		if n := max(b.Dx(), b.Dy()) / long; n > 1 {
			src = shrink(y, n)
		}
	}
	draw.BiLinear.Scale(dst, dst.Bounds(), src, src.Bounds(), draw.Src, nil)
	return grounded(dst)
}

// slate is a ground on which white is seen, and black too.
var slate = image.NewUniform(color.RGBA{0x5E, 0x66, 0x72, 0xFF})

// grounded is a picture without clear places: on white, or on slate where most
// of what it shows is white, as a logo made for a dark page is.
func grounded(im *image.RGBA) *image.RGBA {
	if im.Opaque() {
		return im
	}
	shown, white := 0, 0
	for i := 0; i < len(im.Pix); i += 4 {
		alpha := int(im.Pix[i+3])
		if alpha < 128 {
			continue
		}
		shown++
		// Nearly white, of a colour that is multiplied with its cover.
		if least := int(min(im.Pix[i], im.Pix[i+1], im.Pix[i+2])); least*255 >= 225*alpha {
			white++
		}
	}
	ground := image.White
	if white*2 > shown {
		ground = slate
	}
	out := image.NewRGBA(im.Rect)
	draw.Draw(out, out.Rect, ground, image.Point{}, draw.Src)
	draw.Draw(out, out.Rect, im, im.Rect.Min, draw.Over)
	return out
}

// shrink makes each n × n pixels of a camera's picture one, their mean: the
// quick part of the way down. A rest of fewer than n pixels at the right and
// lower edge joins the last.
func shrink(src *image.YCbCr, n int) *image.YCbCr {
	b := src.Bounds()
	dst := image.NewYCbCr(image.Rect(0, 0, b.Dx()/n, b.Dy()/n), image.YCbCrSubsampleRatio444)
	w, h := dst.Rect.Dx(), dst.Rect.Dy()
	for y := range h {
		y1, y2 := b.Min.Y+y*n, b.Min.Y+(y+1)*n
		if y == h-1 {
			y2 = b.Max.Y
		}
		for x := range w {
			x1, x2 := b.Min.X+x*n, b.Min.X+(x+1)*n
			if x == w-1 {
				x2 = b.Max.X
			}
			sum, cb, cr := 0, 0, 0
			for v := y1; v < y2; v++ {
				for _, p := range src.Y[src.YOffset(x1, v):][:x2-x1] {
					sum += int(p)
				}
				c := src.COffset(x1, v)
				cb += int(src.Cb[c])
				cr += int(src.Cr[c])
			}
			count, rows := (x2-x1)*(y2-y1), y2-y1
			i := y*dst.YStride + x
			dst.Y[i] = uint8((sum + count/2) / count)
			dst.Cb[i] = uint8((cb + rows/2) / rows)
			dst.Cr[i] = uint8((cr + rows/2) / rows)
		}
	}
	return dst
}

// printable packs a picture as JPEG, in steps down in quality and then in
// size until it is no larger than a printed photo should be.
func printable(im *image.RGBA) (*report.Picture, error) {
	var b bytes.Buffer
	for _, try := range []struct{ quality, long int }{
		{quality, longSide}, {70, longSide}, {60, longSide}, {60, longSide * 3 / 4}, {50, longSide / 2},
	} {
		b.Reset()
		if m := max(im.Rect.Dx(), im.Rect.Dy()); m > try.long {
			im = scale(im, try.long)
		}
		if err := jpeg.Encode(&b, im, &jpeg.Options{Quality: try.quality}); err != nil {
			return nil, fmt.Errorf("the picture cannot be packed: %w", err)
		}
		if b.Len() <= wanted {
			break
		}
	}
	return &report.Picture{JPEG: b.Bytes(), Width: im.Rect.Dx(), Height: im.Rect.Dy()}, nil
}

// Loaded is one photo of a list, or why there is none.
type Loaded struct {
	Name    string
	Picture *report.Picture
	Meta    Meta
	Err     error
}

// LoadAll finds and loads the photos a workbook in dir names, several at a
// time; the result is in the order of the names. A file that fails is an error
// of its own and stops no other.
func LoadAll(dir string, names []string, why Purpose) []Loaded {
	out := make([]Loaded, len(names))
	root, err := os.OpenRoot(dir)
	if err != nil {
		for i, n := range names {
			out[i] = Loaded{Name: n, Err: fmt.Errorf("%s %w", n, ErrNotFound)}
		}
		return out
	}
	defer root.Close()
	// Decoded originals are large: no more at once than there is memory for.
	workers := max(1, min(runtime.GOMAXPROCS(0), 4, len(names)))
	next := make(chan int)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := range next {
				out[i] = loadIn(root, names[i], why)
			}
		})
	}
	for i := range names {
		next <- i
	}
	close(next)
	wait.Wait()
	return out
}

func loadIn(root *os.Root, name string, why Purpose) Loaded {
	l := Loaded{Name: name}
	rel, err := find(root, name)
	if err != nil {
		l.Err = err
		return l
	}
	f, err := root.Open(filepath.FromSlash(rel))
	if err != nil {
		l.Err = fmt.Errorf("%s %w", name, errRight)
		return l
	}
	defer f.Close()
	if l.Picture, l.Meta, err = read(f, why); err != nil {
		l.Picture, l.Err = nil, fmt.Errorf("%s %w", name, err)
	}
	return l
}
