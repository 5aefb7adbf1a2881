package xlsx

import (
	"bytes"
	"image"
	"image/png"
	"testing"
)

func TestPicturesDoNotChangeTheBytes(t *testing.T) {
	var picture bytes.Buffer
	if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 4, 4))); err != nil {
		t.Fatal(err)
	}
	var first []byte
	for range 8 {
		d := NewDraft("pictures")
		d.Sheet("One").Image(Image{Col: 1, Row: 1, PNG: picture.Bytes(), Scale: 1})
		var out bytes.Buffer
		if err := d.Write(&out); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = out.Bytes()
		} else if !bytes.Equal(first, out.Bytes()) {
			t.Fatal("two writings differ")
		}
	}
}
