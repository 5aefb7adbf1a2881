package pdf

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"platebook/render/report"
)

var placed = regexp.MustCompile(`([0-9.]+) 0 0 ([0-9.]+) [0-9.]+ [0-9.]+ cm\n/Im`)

// One or two photos that have a page to themselves are larger than four on a
// page, and stay on it.
func TestFewPhotosAreLarge(t *testing.T) {
	picture := samplePicture(80, 60, 1)
	for _, letter := range []bool{false, true} {
		for n := 1; n <= 10; n++ {
			var b report.Photos
			for i := range n {
				b.Photos = append(b.Photos, report.Photo{Number: i + 1, Caption: fmt.Sprintf("Photo %d", i+1), Place: "plate 1", File: "a.jpg", Picture: picture})
			}
			r := &report.Report{Letter: letter, Strip: true, Sections: []report.Section{{Number: 1, Name: "Plan", Blocks: []report.Block{report.Paragraph{Text: "Text."}}}, {Number: 2, Break: true, Blocks: []report.Block{b}}}}
			d, _ := layOutForTest(t, r)
			if want := 1 + (n+3)/4; len(d.sheets) != want {
				t.Errorf("letter %v, %d photos: %d pages, want %d", letter, n, len(d.sheets), want)
			}
			var last []string
			for _, s := range d.sheets {
				for _, m := range placed.FindAllStringSubmatch(s.under.String(), -1) {
					last = append(last, m[1])
				}
			}
			if len(last) != n {
				t.Fatalf("%d photos: %d placed", n, len(last))
			}
			wide, err := strconv.ParseFloat(last[n-1], 64)
			if err != nil {
				t.Fatal(err)
			}
			usual := 83.0 * mm
			switch n % 4 {
			case 1:
				if wide < 1.8*usual {
					t.Errorf("letter %v, the last of %d photos is %.0f points wide", letter, n, wide)
				}
			case 2:
				if wide < 1.15*usual {
					t.Errorf("letter %v, the last of %d photos is %.0f points wide", letter, n, wide)
				}
			default:
				if wide > 1.1*usual {
					t.Errorf("letter %v, the last of %d photos is %.0f points wide", letter, n, wide)
				}
			}
		}
	}
}

// The last photo joins the page that a long caption has begun.
func TestTheLastPhotoJoinsAPageBegun(t *testing.T) {
	picture := samplePicture(80, 60, 1)
	var b report.Photos
	for i := range 5 {
		b.Photos = append(b.Photos, report.Photo{Number: i + 1, Caption: "Caption", File: "a.jpg", Picture: picture})
	}
	b.Photos[0].Caption = strings.Repeat("A caption that goes on and on. ", 60)
	r := &report.Report{Strip: true, Sections: []report.Section{{Number: 1, Name: "Photos", Break: true, Blocks: []report.Block{b}}}}
	d, _ := layOutForTest(t, r)
	var pages []int
	for _, s := range d.sheets {
		pages = append(pages, len(placed.FindAllString(s.under.String(), -1)))
	}
	if want := []int{0, 2, 3}; !slices.Equal(pages, want) {
		t.Errorf("photos on the pages: %v, want %v", pages, want)
	}
}
