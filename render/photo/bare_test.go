package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"
)

// A picture that needs nothing done is printed as its file has it, without
// what the camera wrote beside it.
func TestSmallUprightPhotoStaysAsItIs(t *testing.T) {
	dir := t.TempDir()
	plain := encode(t, quarters(320, 200), 80)
	noted := withExif(plain, 1, "2026:02:17 10:11:12")
	p, meta, err := Load(save(t, dir, "a.jpg", append(noted, "trailing words"...)))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(p.JPEG, plain) || p.Width != 320 || p.Height != 200 || !meta.TakenAt.Known {
		t.Errorf("%d bytes of %d × %d, want the %d of the picture alone", len(p.JPEG), p.Width, p.Height, len(plain))
	}
	for name, data := range map[string][]byte{
		"turned": withExif(plain, 3, "2026:02:17 10:11:12"),
		"wide":   encode(t, quarters(longSide+2, 200), 80),
		"grey":   encode(t, image.NewGray(image.Rect(0, 0, 320, 200)), 80),
	} {
		p, _, err := Load(save(t, dir, name+".jpg", data))
		if err != nil || bytes.Equal(p.JPEG, data) {
			t.Errorf("%s: %v, or not packed for print", name, err)
		}
	}
}

// Source: ITU-T T.81, table B.1, and annex B.2.
func TestBareRefusesOtherKinds(t *testing.T) {
	good := encode(t, quarters(64, 48), 80)
	if b, ok := bare(good); !ok || !bytes.Equal(b, good) {
		t.Fatal("a baseline JPEG is refused")
	}
	frame := bytes.Index(good, []byte{0xFF, 0xC0})
	scan := bytes.Index(good, []byte{0xFF, 0xDA})
	with := func(at int, b byte) []byte {
		out := bytes.Clone(good)
		out[at] = b
		return out
	}
	segment := func(marker byte, body string) []byte {
		out := append(append([]byte{}, good[:2]...), 0xFF, marker, 0, byte(len(body)+2))
		return append(append(out, body...), good[2:]...)
	}
	for name, data := range map[string][]byte{
		"progressive":       with(frame+1, 0xC2),
		"12 bits":           with(frame+4, 12),
		"four components":   with(frame+9, 4),
		"components R, G":   with(frame+10, 'R'),
		"one of three":      with(scan+4, 1),
		"Adobe":             segment(0xEE, "Adobe\x00\x64\x00\x00\x00\x00\x00"),
		"arithmetic tables": segment(0xCC, "\x00\x10"),
		"no end":            good[:len(good)-2],
		"no scan":           good[:scan],
		"length over all":   with(frame+2, 0xFF),
		"length of none":    with(frame+3, 1),
		"no picture":        []byte("\xFF\xD8"),
		"several scans":     append(append(bytes.Clone(good[:len(good)-2]), good[scan:len(good)-2]...), 0xFF, 0xD9),
	} {
		if _, ok := bare(data); ok {
			t.Errorf("%s: taken as it is", name)
		}
	}
	b, ok := bare(segment(0xE1, "Exif and a place"))
	if !ok || !bytes.Equal(b, good) {
		t.Error("notes are not left behind")
	}
	if _, err := jpeg.Decode(bytes.NewReader(b)); err != nil {
		t.Error(err)
	}
}
