package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var corners = [4]color.RGBA{{220, 30, 30, 255}, {30, 200, 30, 255}, {30, 30, 220, 255}, {240, 240, 240, 255}}

// quarters is a picture of four colours: upper left, upper right, lower left,
// lower right.
func quarters(w, h int) *image.RGBA {
	im := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			k := 0
			if x >= w/2 {
				k++
			}
			if y >= h/2 {
				k += 2
			}
			im.SetRGBA(x, y, corners[k])
		}
	}
	return im
}

func encode(t testing.TB, im image.Image, quality int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, im, &jpeg.Options{Quality: quality}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withExif puts an EXIF block with an orientation and a time into a JPEG.
// Layout: Exif 2.32, 4.5.2 to 4.6.3: TIFF header, IFD0 with 0x0112 and 0x8769,
// Exif IFD with 0x9003.
func withExif(file []byte, orientation int, taken string) []byte {
	var b bytes.Buffer
	le := binary.LittleEndian
	put := func(v ...any) {
		for _, x := range v {
			binary.Write(&b, le, x)
		}
	}
	b.WriteString("II*\x00")
	put(uint32(8), uint16(2))
	put(uint16(0x0112), uint16(3), uint32(1), uint32(orientation))
	put(uint16(0x8769), uint16(4), uint32(1), uint32(38), uint32(0))
	put(uint16(1), uint16(0x9003), uint16(2), uint32(20), uint32(56), uint32(0))
	b.WriteString(taken + "\x00")
	body := append([]byte("Exif\x00\x00"), b.Bytes()...)
	out := append([]byte{}, file[:2]...)
	out = append(out, 0xFF, 0xE1, byte((len(body)+2)>>8), byte(len(body)+2))
	out = append(out, body...)
	return append(out, file[2:]...)
}

func save(t testing.TB, dir, name string, data []byte) string {
	t.Helper()
	p := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return p
}

func near(a, b color.Color) bool {
	r1, g1, b1, _ := a.RGBA()
	r2, g2, b2, _ := b.RGBA()
	d := func(x, y uint32) float64 { return math.Abs(float64(x)-float64(y)) / 257 }
	return d(r1, r2) < 25 && d(g1, g2) < 25 && d(b1, b2) < 25
}

// Where row 0 and column 0 of the stored picture lie when it stands upright.
// Source: Exif 2.32, tag 0x0112: 1 top/left, 2 top/right, 3 bottom/right,
// 4 bottom/left, 5 left/top, 6 right/top, 7 right/bottom, 8 left/bottom.
func TestOrientation(t *testing.T) {
	const w, h = 160, 120
	want := quarters(w, h)
	edges := [9][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"}, 5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}
	dir := t.TempDir()
	for o := 1; o <= 8; o++ {
		row, col := edges[o][0], edges[o][1]
		sw, sh := w, h
		if row == "left" || row == "right" {
			sw, sh = h, w
		}
		stored := image.NewRGBA(image.Rect(0, 0, sw, sh))
		for sy := range sh {
			for sx := range sw {
				var x, y int
				place := func(edge string, n int) {
					switch edge {
					case "top":
						y = n
					case "bottom":
						y = h - 1 - n
					case "left":
						x = n
					case "right":
						x = w - 1 - n
					}
				}
				place(row, sy)
				place(col, sx)
				stored.Set(sx, sy, want.At(x, y))
			}
		}
		p, meta, err := Load(save(t, dir, fmt.Sprintf("%d.jpg", o), withExif(encode(t, stored, 95), o, "2026:02:17 10:11:12")))
		if err != nil {
			t.Fatal(err)
		}
		if p.Width != w || p.Height != h {
			t.Errorf("orientation %d: %d × %d, want %d × %d", o, p.Width, p.Height, w, h)
		}
		if got := meta.TakenAt.String(); got != "2026-02-17 10:11:12" {
			t.Errorf("orientation %d: taken %q", o, got)
		}
		im, err := jpeg.Decode(bytes.NewReader(p.JPEG))
		if err != nil {
			t.Fatal(err)
		}
		for k, at := range [4][2]int{{20, 15}, {140, 15}, {20, 105}, {140, 105}} {
			if !near(im.At(at[0], at[1]), corners[k]) {
				t.Errorf("orientation %d: corner %d is %v, want %v", o, k, im.At(at[0], at[1]), corners[k])
			}
		}
	}
}

func TestFormats(t *testing.T) {
	dir := t.TempDir()
	clear := image.NewNRGBA(image.Rect(0, 0, 50, 40))
	var b bytes.Buffer
	if err := png.Encode(&b, clear); err != nil {
		t.Fatal(err)
	}
	p, meta, err := Load(save(t, dir, "clear.dat", b.Bytes()))
	if err != nil || meta.Format != "PNG" || meta.TakenAt.Known {
		t.Fatalf("%v %+v", err, meta)
	}
	if im, _ := jpeg.Decode(bytes.NewReader(p.JPEG)); !near(im.At(25, 20), color.White) {
		t.Errorf("a clear pixel prints as %v, want white", im.At(25, 20))
	}
	p, meta, err = Load(filepath.Join("testdata", "gradient.heic"))
	if err != nil {
		t.Fatal(err)
	}
	if meta.Format != "HEIC" || p.Width != 320 || p.Height != 200 {
		t.Errorf("%+v %d × %d", meta, p.Width, p.Height)
	}
	im, _ := jpeg.Decode(bytes.NewReader(p.JPEG))
	if !near(im.At(160, 2), color.RGBA{254, 0, 0, 255}) || !near(im.At(160, 197), color.RGBA{0, 0, 254, 255}) {
		t.Errorf("the gradient runs from %v to %v, want red to blue", im.At(160, 2), im.At(160, 197))
	}
}

// A HEIC file that turns its picture as a phone held upright does, by its own
// property and by the tag that repeats it, is turned once, and its time is
// read. testdata/turned.heic: 320 × 240 as stored, red in its upper left corner,
// a quarter turn clockwise to see it; made with libheif's encoder, the
// property added by hand.
func TestTurnedHEIC(t *testing.T) {
	p, meta, err := Load(filepath.Join("testdata", "turned.heic"))
	if err != nil {
		t.Fatal(err)
	}
	if meta.Format != "HEIC" || p.Width != 240 || p.Height != 320 || meta.TakenAt.String() != "2026-04-21 14:05:00" {
		t.Errorf("%+v taken %q, %d × %d", meta, meta.TakenAt, p.Width, p.Height)
	}
	im, err := jpeg.Decode(bytes.NewReader(p.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	if red, _, blue, _ := im.At(220, 20).RGBA(); red < 3*blue {
		t.Errorf("the upper right corner is %v, want red", im.At(220, 20))
	}
	for _, at := range []image.Point{{20, 20}, {20, 300}, {220, 300}} {
		if red, _, blue, _ := im.At(at.X, at.Y).RGBA(); red > 3*blue {
			t.Errorf("red at %v", at)
		}
	}
}

// large is a picture of 12 megapixels with as much detail as rust has.
func large() *image.YCbCr {
	im := image.NewYCbCr(image.Rect(0, 0, 4032, 3024), image.YCbCrSubsampleRatio420)
	seed := uint32(1)
	for i := range im.Y {
		seed = seed*1664525 + 1013904223
		im.Y[i] = uint8(90 + (seed>>26)*2 + uint32(i/4032/8)%40)
	}
	for i := range im.Cb {
		im.Cb[i], im.Cr[i] = uint8(110+i%17), uint8(140+i%23)
	}
	return im
}

func TestLargePhotoIsScaled(t *testing.T) {
	p, meta, err := Load(save(t, t.TempDir(), "large.jpg", encode(t, large(), 85)))
	if err != nil {
		t.Fatal(err)
	}
	if meta.Width != 4032 || p.Width > longSide || p.Width*3 != p.Height*4 {
		t.Errorf("%d × %d from %d", p.Width, p.Height, meta.Width)
	}
	if len(p.JPEG) > wanted {
		t.Errorf("%d bytes, want at most %d", len(p.JPEG), wanted)
	}
}

// Means of a picture with odd sides, by hand: 5 × 3 by 2 gives 2 × 1, the last
// of each row and column joined by the rest.
func TestShrink(t *testing.T) {
	src := image.NewYCbCr(image.Rect(0, 0, 5, 3), image.YCbCrSubsampleRatio444)
	for i := range src.Y {
		src.Y[i], src.Cb[i], src.Cr[i] = uint8(i*10), 100, 200
	}
	got := shrink(src, 2)
	// Left: columns 0 and 1 of rows 0 to 2, 0 10 50 60 100 110; right: columns
	// 2 to 4, 20 30 40 70 80 90 120 130 140.
	if got.Rect.Dx() != 2 || got.Rect.Dy() != 1 || got.Y[0] != 55 || got.Y[1] != 80 || got.Cb[1] != 100 || got.Cr[0] != 200 {
		t.Errorf("%v %v %v %v", got.Rect, got.Y, got.Cb, got.Cr)
	}
}

// header is a PNG that claims a size and holds nothing.
func header(w, h uint32) []byte {
	b := []byte("\x89PNG\r\n\x1A\n\x00\x00\x00\x0D")
	c := []byte("IHDR")
	c = binary.BigEndian.AppendUint32(c, w)
	c = binary.BigEndian.AppendUint32(c, h)
	c = append(c, 8, 6, 0, 0, 0)
	b = append(b, c...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(c))
}

// deep is a PNG that claims a size and 16 bits a colour, and holds nothing.
func deep(w, h uint32) []byte {
	b := header(w, h)
	b[24] = 16
	return binary.BigEndian.AppendUint32(b[:29], crc32.ChecksumIEEE(b[12:29]))
}

func TestBrokenFiles(t *testing.T) {
	dir := t.TempDir()
	good := encode(t, quarters(200, 100), 80)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty.jpg":     {nil, "is empty: a file of 0 bytes"},
		"text.jpg":      {[]byte("no picture at all"), "no JPEG, PNG or HEIC"},
		"half.jpg":      {good[:len(good)/2], "is damaged or cut off"},
		"bomb.png":      {header(60000, 60000), "has 60000 × 60000 pixels, 3600 million; the limit for a photo is 120 million"},
		"wide.png":      {header(12001, 10000), "has 12001 × 10000 pixels, 121 million"},
		"deep.png":      {deep(9000, 9000), "has 9000 × 9000 pixels of 8 bytes, 648 MB in memory; the limit for a photo is 600 MB"},
		"line.png":      {header(30000, 1), "a line and no photo"},
		"headless.heic": {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), "cannot be read"},
		"progress.jpg":  {bytes.Replace(good, []byte{0xFF, 0xC0}, []byte{0xFF, 0xC3}, 1), "is a JPEG of a kind that is not read"},
		"moving.jpg":    {[]byte("GIF89a\x01\x00\x01\x00"), "is a GIF picture, no JPEG, PNG or HEIC"},
		"web.jpg":       {[]byte("RIFF\x00\x00\x00\x00WEBPVP8 "), "is a WebP picture"},
		"raw.jpg":       {[]byte("II*\x00\x08\x00\x00\x00"), "is a TIFF picture or a camera's raw file"},
		"film.jpg":      {[]byte("\x00\x00\x00\x14ftypqt  \x00\x00\x00\x00"), "is a film"},
		"av1.heic":      {[]byte("\x00\x00\x00\x14ftypavif\x00\x00\x00\x00"), "is an AVIF picture"},
		"zeros.jpg":     {make([]byte, 4000), "holds zeros only"},
		"book.jpg":      {[]byte("PK\x03\x04 and more"), "is a workbook, document or zip archive"},
	} {
		p, _, err := Load(save(t, dir, name, c.data))
		if err == nil || p != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
		if err != nil && strings.Contains(err.Error(), dir) {
			t.Errorf("%s: the message tells the machine's path: %v", name, err)
		}
		if why, do := Advice(err); why == "" || do == "" {
			t.Errorf("%s: %v without what to do", name, err)
		}
	}
	for _, bad := range []string{dir, filepath.Join(dir, "none.jpg")} {
		if _, _, err := Load(bad); err == nil || strings.Contains(err.Error(), dir) {
			t.Errorf("%v", err)
		}
	}
}

func TestFind(t *testing.T) {
	outside := t.TempDir()
	save(t, outside, "secret.jpg", []byte("x"))
	dir := filepath.Join(outside, "job")
	save(t, dir, "IMG_1.jpg", []byte("x"))
	save(t, dir, "photos/IMG_2.JPG", []byte("x"))
	save(t, dir, "photos/deep/3.png", []byte("x"))
	save(t, dir, "Case.jpg", []byte("x"))
	save(t, dir, "console.jpg", []byte("x"))
	save(t, dir, "photos/Gro\u0308\u00dfe 7.jpg", []byte("x")) // as a Mac stores it
	links := os.Symlink(filepath.Join(outside, "secret.jpg"), filepath.Join(dir, "link.jpg")) == nil &&
		os.Symlink(outside, filepath.Join(dir, "up")) == nil &&
		os.Symlink("IMG_1.jpg", filepath.Join(dir, "same.jpg")) == nil
	for name, want := range map[string]string{
		"IMG_1.jpg": "IMG_1.jpg", "IMG_2.JPG": "photos/IMG_2.JPG", "img_2.jpg": "photos/IMG_2.JPG", `photos\IMG_2.JPG`: "photos/IMG_2.JPG",
		"./IMG_1.jpg": "IMG_1.jpg", " IMG_1.jpg ": "IMG_1.jpg", "deep/3.png": "photos/deep/3.png", "console.jpg": "console.jpg", "CASE.JPG": "Case.jpg",
		"Gr\u00f6\u00dfe 7.jpg": "photos/Gro\u0308\u00dfe 7.jpg",
	} {
		got, err := Find(dir, name)
		if err != nil || got != filepath.Join(dir, filepath.FromSlash(want)) {
			t.Errorf("Find(%q) = %q, %v; want %s", name, got, err, want)
		}
	}
	refused := []string{
		"", "  ", "/etc/passwd", `\\server\share\a.jpg`, `C:\a.jpg`, "c:a.jpg", "../secret.jpg", "photos/../../secret.jpg", `..\secret.jpg`, "a/../IMG_1.jpg",
		"NUL", "con.jpg", "photos/Com1.png", "LPT9", "aux .jpg", "a\x00.jpg", "a\n.jpg", "IMG_1.jpg:stream", ".", "photos",
		"IMG_1.jpg.", "photos./IMG_2.JPG", "photos /IMG_2.JPG", "photos/...", "com¹.jpg", "CONOUT$", "nul.tar.gz",
	}
	if links {
		refused = append(refused, "link.jpg", "up/secret.jpg")
		if got, err := Find(dir, "same.jpg"); err != nil {
			t.Errorf("a link within the folder: %q, %v", got, err)
		}
	}
	for _, name := range refused {
		got, err := Find(dir, name)
		if err == nil {
			t.Errorf("Find(%q) = %q, want it refused", name, got)
		} else if why, do := Advice(err); why == "" || do == "" {
			t.Errorf("Find(%q): %v, without why or what to do", name, err)
		}
	}
	if _, err := Find(dir, "IMG_9.jpg"); !errors.Is(err, ErrNotFound) {
		t.Errorf("%v", err)
	}
	if _, err := Find(filepath.Join(outside, "nowhere"), "IMG_9.jpg"); err == nil {
		t.Error("a folder that is not there gave no error")
	}
}

func TestLoadAllKeepsOrder(t *testing.T) {
	dir := t.TempDir()
	var names []string
	for i := range 12 {
		n := fmt.Sprintf("p%02d.jpg", i)
		names = append(names, n)
		if i != 5 {
			save(t, dir, "photos/"+n, encode(t, quarters(100+i*10, 80), 80))
		}
	}
	names = append(names, "../p00.jpg")
	a, b := LoadAll(dir, names, ForPrint), LoadAll(dir, names, ForPrint)
	for i, l := range a {
		if l.Name != names[i] {
			t.Fatalf("place %d holds %s", i, l.Name)
		}
		if i == 5 || i == 12 {
			if l.Err == nil || l.Picture != nil {
				t.Errorf("%s: no error", l.Name)
			}
			continue
		}
		if l.Err != nil || l.Picture.Width != 100+i*10 {
			t.Errorf("%s: %v", l.Name, l.Err)
			continue
		}
		if !bytes.Equal(l.Picture.JPEG, b[i].Picture.JPEG) {
			t.Errorf("%s: other bytes the second time", l.Name)
		}
	}
	for i, l := range LoadAll(dir, names, ToCheck) {
		if l.Picture != nil || l.Meta != a[i].Meta || fmt.Sprint(l.Err) != fmt.Sprint(a[i].Err) {
			t.Errorf("%s: to check it is %+v, to print it was %+v", l.Name, l, a[i])
		}
	}
	if LoadAll(filepath.Join(dir, "none"), names, ForPrint)[0].Err == nil {
		t.Error("a folder that is not there gave no error")
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(withExif(encode(f, quarters(16, 16), 80), 6, "2026:02:17 10:11:12"))
	f.Add(header(4, 4))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, _, err := read(bytes.NewReader(data), ForPrint)
		if (p == nil) == (err == nil) {
			t.Errorf("picture %v with error %v", p != nil, err)
		}
	})
}

func BenchmarkLoad12Megapixels(b *testing.B) {
	data := encode(b, large(), 85)
	for b.Loop() {
		if _, _, err := read(bytes.NewReader(data), ForPrint); err != nil {
			b.Fatal(err)
		}
	}
}

// A logo that is white on a clear ground is made for a dark page: it gets a
// ground that it is seen on. One with colours of its own stands on white.
func TestAWhiteLogoIsSeen(t *testing.T) {
	dir := t.TempDir()
	for name, c := range map[string]struct {
		ink  color.NRGBA
		long int
		dark bool
	}{
		"white":           {color.NRGBA{255, 255, 255, 255}, 60, true},
		"white, reduced":  {color.NRGBA{250, 250, 252, 255}, 2400, true},
		"veiled white":    {color.NRGBA{255, 255, 255, 200}, 60, true},
		"blue":            {color.NRGBA{0, 60, 160, 255}, 60, false},
		"pale yellow":     {color.NRGBA{255, 240, 120, 255}, 60, false},
		"white, no clear": {color.NRGBA{255, 255, 255, 255}, 0, false},
	} {
		im := image.NewNRGBA(image.Rect(0, 0, max(60, c.long), max(40, c.long/2)))
		b := im.Bounds()
		for y := range b.Dy() {
			for x := range b.Dx() {
				if c.long == 0 || x > b.Dx()/4 && x < b.Dx()/2 {
					im.SetNRGBA(x, y, c.ink)
				}
			}
		}
		var out bytes.Buffer
		if err := png.Encode(&out, im); err != nil {
			t.Fatal(err)
		}
		p, _, err := Load(save(t, dir, name+".png", out.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		got, err := jpeg.Decode(bytes.NewReader(p.JPEG))
		if err != nil {
			t.Fatal(err)
		}
		ground := got.At(p.Width*7/8, p.Height/2)
		want := color.Color(color.White)
		if c.dark {
			want = slate.C
		}
		if !near(ground, want) {
			t.Errorf("%s: the ground is %v, want %v", name, ground, want)
		}
	}
}
