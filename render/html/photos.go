package html

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/jpeg"
	"slices"
	"strings"

	"golang.org/x/image/draw"

	"platebook/rules"
	"platebook/rules/inspection"
)

// Thumb is a small picture to carry in the page.
type Thumb struct {
	File    string // as the workbook names it
	JPEG    []byte
	Missing string // why there is none, "" when there is
}

// thumbSide is the longer side of a thumbnail, pixels: enough to know the
// place again, small enough for hundreds in a page.
const thumbSide = 360

// Thumbnail makes a picture small.
func Thumbnail(picture []byte) ([]byte, error) {
	src, err := jpeg.Decode(bytes.NewReader(picture))
	if err != nil {
		return nil, err
	}
	b := src.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > thumbSide {
		w, h = max(1, w*thumbSide/long), max(1, h*thumbSide/long)
	}
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.BiLinear.Scale(dst, dst.Bounds(), src, b, draw.Src, nil)
	var out bytes.Buffer
	err = jpeg.Encode(&out, dst, &jpeg.Options{Quality: 72})
	return out.Bytes(), err
}

// PhotoFiles is the picture files that the workbook names, each once, those
// of the Photos sheet first.
func PhotoFiles(in *inspection.Inspection) []string {
	var out []string
	seen := map[string]bool{}
	add := func(cell inspection.Text, several bool) {
		names := []string{cell.Or("")}
		if several {
			names = fileNames(cell.Or(""))
		}
		for _, n := range names {
			if n = oneLine(n); n != "" && !seen[fileKey(n)] {
				seen[fileKey(n)] = true
				out = append(out, n)
			}
		}
	}
	for i := range in.Photos {
		add(in.Photos[i].File, false)
	}
	for i := range in.Indications {
		add(in.Indications[i].Photo, true)
	}
	for i := range in.Visual {
		add(in.Visual[i].Photo, true)
	}
	for i := range in.Welds {
		add(in.Welds[i].Photo, true)
	}
	return out
}

// fileNames is the files of a cell that may name several.
func fileNames(cell string) []string {
	return strings.FieldsFunc(cell, func(r rune) bool { return r == ';' || r == ',' })
}

type photoPart struct {
	File    string     `json:"file"`
	Caption string     `json:"caption,omitempty"`
	Facing  string     `json:"facing,omitempty"`
	Plate   string     `json:"plate,omitempty"`
	Number  int        `json:"number"` // in the report, 0 for one that is not in the Photos sheet
	At      *[2]number `json:"at"`
	Picture string     `json:"picture,omitempty"`
	Same    int        `json:"same,omitempty"` // the photo that carries the picture, counted from 1, where another of the file did before
	Missing string     `json:"missing,omitempty"`
}

// shelf is the photos: those of the Photos sheet, then others that rows name.
type shelf struct {
	list    []photoPart
	thumbs  map[string]*Thumb // by fileKey
	byFile  map[string][]int
	byPlace map[string][]int // by folded plate and indication
}

func newShelf(a *rules.Assessment, thumbs []Thumb) *shelf {
	s := &shelf{list: []photoPart{}, thumbs: map[string]*Thumb{}, byFile: map[string][]int{}, byPlace: map[string][]int{}}
	for i := range thumbs {
		if key := fileKey(thumbs[i].File); s.thumbs[key] == nil {
			s.thumbs[key] = &thumbs[i]
		}
	}
	index := plateIndex(a)
	for i := range a.Inspection.Photos {
		r := &a.Inspection.Photos[i]
		p := photoPart{File: oneLine(r.File.Text), Caption: oneLine(r.Caption.Or("")), Facing: oneLine(r.Direction.Or("")), Plate: oneLine(r.Plate.Text), Number: i + 1}
		if k, ok := index[inspection.Fold(r.Plate.Value)]; ok && r.X.OK() && r.Y.OK() {
			if at, ok := a.Plan.ToPlan(k, float64(r.X.Value), float64(r.Y.Value)); ok {
				p.At = &[2]number{place(at.X), place(at.Y)}
			}
		}
		s.put(p)
		if r.Indication.Or("") != "" {
			key := inspection.Fold(r.Plate.Value) + "/" + inspection.Fold(r.Indication.Value)
			s.byPlace[key] = append(s.byPlace[key], i)
		}
	}
	return s
}

func fileKey(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

func (s *shelf) put(p photoPart) int {
	n, key := len(s.list), fileKey(p.File)
	if t := s.thumbs[key]; t != nil {
		before := s.byFile[key]
		switch p.Missing = t.Missing; {
		case t.Missing != "":
		case len(before) > 0:
			p.Same = before[0] + 1
		default:
			p.Picture = "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(t.JPEG)
		}
	}
	s.list = append(s.list, p)
	s.byFile[key] = append(s.byFile[key], n)
	return n
}

// named is the photos of a cell that may name several files.
func (s *shelf) named(cell string) []int {
	var out []int
	for _, name := range fileNames(cell) {
		if name = oneLine(name); name == "" {
			continue
		}
		found := s.byFile[fileKey(name)]
		if len(found) == 0 {
			found = []int{s.put(photoPart{File: name})}
		}
		out = append(out, found...)
	}
	return out
}

// of is the photos of a place: those its row names, and those of the Photos
// sheet that name it.
func (s *shelf) of(plate, name, cell string, indication bool) []int {
	out := s.named(cell)
	if indication {
		for _, n := range s.byPlace[inspection.Fold(plate)+"/"+inspection.Fold(name)] {
			if !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}
