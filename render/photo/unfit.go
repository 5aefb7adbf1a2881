package photo

import (
	"bytes"
	"errors"
	"fmt"
	"image/jpeg"
	"strings"
)

// unfit is why a picture is not printed, to be read behind its name, and what
// to do about it. It holds no words of the system's: a job says the same on
// every machine.
type unfit struct{ why, do string }

func (u *unfit) Error() string { return u.why }

// Advice is why a picture is not printed, to be read behind its name, and what
// to do; "" where nothing more is known than that it is not there.
func Advice(err error) (why, do string) {
	if u := (*unfit)(nil); errors.As(err, &u) {
		return u.why, u.do
	}
	return "", ""
}

const (
	saveAs     = "Save it as JPEG, PNG or HEIC."
	fetchAgain = "Fetch it again from the camera, or save it as JPEG, PNG or HEIC."
	beside     = "Put it beside the workbook or into its photos folder, and name it without a path that leads elsewhere."
	plainName  = "Give it a plain name, and write that name here."
	saveSmall  = "Save it smaller: 4000 pixels on its long side are plenty."
)

var (
	errPlain   = &unfit{"is no plain file", "Name the picture file itself."}
	errFolder  = &unfit{"is a folder", "Name the picture file itself."}
	errOutside = &unfit{"leads out of the workbook's folder", beside}
	errLink    = &unfit{"is or holds a link that leads out of the workbook's folder or nowhere", beside}
	errRight   = &unfit{"cannot be read: no right to, or another program holds it", "Close it elsewhere, or ask for the right to read it; run again."}
	errEmpty   = &unfit{"is empty: a file of 0 bytes", fetchAgain}
	errLong    = &unfit{fmt.Sprintf("is larger than %d MB, the limit for a photo's file", maxFile>>20), saveSmall}
	errJPEG    = &unfit{"is a JPEG of a kind that is not read", "Save it as an ordinary JPEG: three colours (RGB), 8 bits each."}
	errZeros   = &unfit{"holds zeros only: it was never copied completely", fetchAgain}
	errDamaged = &unfit{"is damaged or cut off, and cannot be read", fetchAgain}
)

// otherKind is what a file is that is no picture of a kind that is printed.
func otherKind(data []byte) *unfit {
	head := data[:min(len(data), 512)]
	has := func(magic string) bool { return bytes.HasPrefix(head, []byte(magic)) }
	brand := ""
	if len(head) > 12 && string(head[4:8]) == "ftyp" {
		brand = string(head[8:12])
	}
	text := strings.ToLower(string(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n")))
	what := ""
	switch {
	case has("GIF8"):
		what = "a GIF picture"
	case has("RIFF") && len(head) > 12 && string(head[8:12]) == "WEBP":
		what = "a WebP picture"
	case has("II*\x00"), has("MM\x00*"), has("FUJIFILMCCD"), has("IIRO"), has("IIU\x00"):
		what = "a TIFF picture or a camera's raw file"
	case has("BM") && len(data) > 54:
		what = "a BMP picture"
	case has("\x00\x00\x00\x0cJXL "), has("\xff\x0a"):
		what = "a JPEG XL picture"
	case has("\x00\x00\x00\x0cjP  "):
		what = "a JPEG 2000 picture"
	case brand == "avif" || brand == "avis":
		what = "an AVIF picture"
	case brand != "", has("RIFF"), has("\x1aE\xdf\xa3"), has("\x00\x00\x01\xba"):
		what = "a film"
	case has("%PDF"):
		what = "a PDF"
	case has("PK\x03\x04"), has("\xd0\xcf\x11\xe0"):
		what = "a workbook, document or zip archive"
	case strings.HasPrefix(text, "<svg"), strings.HasPrefix(text, "<?xml") && strings.Contains(text, "<svg"):
		what = "an SVG drawing"
	case strings.HasPrefix(text, "<!doctype html"), strings.HasPrefix(text, "<html"):
		what = "a web page"
	case len(bytes.Trim(data, "\x00")) == 0:
		return errZeros
	}
	if what == "" {
		return &unfit{"is no JPEG, PNG or HEIC picture, whatever its name says", saveAs}
	}
	return &unfit{"is " + what + ", no JPEG, PNG or HEIC", saveAs}
}

// unreadable puts a decoder's error into words.
func unreadable(err error) error {
	if u := (*unfit)(nil); errors.As(err, &u) {
		return u
	}
	if kind := jpeg.UnsupportedError(""); errors.As(err, &kind) {
		return errJPEG
	}
	return errDamaged
}
