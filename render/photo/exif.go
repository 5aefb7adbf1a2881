package photo

import (
	"bytes"
	"image"
	"time"

	"github.com/bep/imagemeta"

	"platebook/rules/unit"
)

// Clock is what the camera's clock said: a local time without a zone.
type Clock struct {
	Date  unit.Date // zero: not told
	Hour  int
	Min   int
	Sec   int
	Known bool
}

// String is "2026-02-17 10:11:12", "" when not told.
func (c Clock) String() string {
	if !c.Known {
		return ""
	}
	return c.Date.Time().Add(time.Duration(c.Hour)*time.Hour + time.Duration(c.Min)*time.Minute + time.Duration(c.Sec)*time.Second).Format("2006-01-02 15:04:05")
}

// side is how a stored picture must be turned to stand upright, 1 to 8.
// Source: Exif 2.32, tag 0x0112, Orientation.
type side int

// exif reads which way up a picture is and when it was taken. Broken metadata
// is no reason to refuse a picture: then nothing is known.
func exif(data []byte, format string) (side, Clock) {
	of := map[string]imagemeta.ImageFormat{"JPEG": imagemeta.JPEG, "PNG": imagemeta.PNG, "HEIC": imagemeta.HEIF}[format]
	turn, taken, stored := side(1), Clock{}, Clock{}
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: of, Sources: imagemeta.EXIF, Timeout: 5 * time.Second,
		HandleTag: func(t imagemeta.TagInfo) error {
			switch t.Tag {
			case "Orientation":
				if v, ok := whole(t.Value); ok && v >= 1 && v <= 8 {
					turn = side(v)
				}
			case "DateTimeOriginal":
				taken = clock(t.Value)
			case "DateTime", "ModifyDate":
				stored = clock(t.Value)
			}
			return nil
		},
	})
	if format == "HEIC" {
		// A HEIC file turns its picture by its own properties, which the decoder
		// obeys; the tag repeats them.
		turn = 1
	}
	if !taken.Known {
		taken = stored
	}
	return turn, taken
}

func whole(v any) (int, bool) {
	switch v := v.(type) {
	case uint8:
		return int(v), true
	case uint16:
		return int(v), true
	case uint32:
		return int(v), true
	case int:
		return v, true
	}
	return 0, false
}

func clock(v any) Clock {
	text, ok := v.(string)
	if !ok {
		return Clock{}
	}
	t, err := time.Parse("2006:01:02 15:04:05", text)
	if err != nil {
		return Clock{}
	}
	return Clock{unit.NewDate(t.Year(), t.Month(), t.Day()), t.Hour(), t.Minute(), t.Second(), true}
}

// upright turns and mirrors a picture by its orientation: 2 mirrored, 3 half a
// turn, 4 upside down, 6 and 8 a quarter turn to the right and to the left, 5
// and 7 the same of the mirrored picture.
func upright(im *image.RGBA, o side) *image.RGBA {
	if o <= 1 || o > 8 {
		return im
	}
	w, h := im.Rect.Dx(), im.Rect.Dy()
	tw, th := w, h
	if o >= 5 {
		tw, th = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, tw, th))
	for y := range th {
		for x := range tw {
			var sx, sy int
			switch o {
			case 2:
				sx, sy = w-1-x, y
			case 3:
				sx, sy = w-1-x, h-1-y
			case 4:
				sx, sy = x, h-1-y
			case 5:
				sx, sy = y, x
			case 6:
				sx, sy = y, h-1-x
			case 7:
				sx, sy = w-1-y, h-1-x
			case 8:
				sx, sy = w-1-y, x
			}
			copy(out.Pix[out.PixOffset(x, y):][:4], im.Pix[im.PixOffset(sx, sy):][:4])
		}
	}
	return out
}
