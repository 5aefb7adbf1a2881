package pdf

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image/color"
	"image/jpeg"
	"strconv"

	"platebook/render/report"
)

// pictures are the images of a document, each stored once.
type pictures struct {
	names map[[32]byte]string
	all   []image
}

type image struct {
	name          string
	jpeg          []byte
	width, height int
	space         string
	inverted      bool
}

// name is the resource name of a picture that check has found good.
func (p *pictures) name(pic *report.Picture) string {
	sum := sha256.Sum256(pic.JPEG)
	if n, ok := p.names[sum]; ok {
		return n
	}
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(pic.JPEG))
	if err != nil {
		panic("pdf: a picture that was not checked: " + err.Error())
	}
	im := image{name: "Im" + strconv.Itoa(len(p.all)+1), jpeg: pic.JPEG, width: cfg.Width, height: cfg.Height, space: "DeviceRGB"}
	switch cfg.ColorModel {
	case color.GrayModel:
		im.space = "DeviceGray"
	case color.CMYKModel:
		im.space, im.inverted = "DeviceCMYK", true
	}
	p.names[sum] = im.name
	p.all = append(p.all, im)
	return im.name
}

// check says why a picture cannot be printed, or "".
func check(pic *report.Picture) string {
	cfg, err := jpeg.DecodeConfig(bytes.NewReader(pic.JPEG))
	if err != nil {
		return fmt.Sprintf("the picture cannot be read: %v", err)
	}
	if cfg.Width <= 0 || cfg.Height <= 0 {
		return "the picture is empty"
	}
	return ""
}

const mapSide = 24.0 // of the plan beside a photo's words

// photos sets pictures two by two, and one or two that have a page to
// themselves one below the other in the width of the text. Captions grow
// downwards; one that would push its picture off the page goes on below it, on
// the next page if need be.
func (t *setter) photos(all []report.Photo) {
	const gap = 6.0
	const perPage = 4
	full := t.paper.width()
	half := (full - gap) / 2
	// Two rows fill a page, with three lines of words under each picture.
	row := t.paper.body()/2 - 39
	last := len(all) % perPage
	if last > 2 {
		last = 0
	}
	first, rest := all[:len(all)-last], all[len(all)-last:]
	for i := 0; i < len(first); i += 2 {
		t.photoRow(first[i:min(i+2, len(first))], half, gap, min(half*0.96, row))
	}
	// A long caption before them may have left a page begun: they join it as
	// they are in all other rows.
	if frame := min(half*0.96, row); len(first) > 0 && len(rest) > 0 && t.open && t.left() >= frame+mapSide+7 {
		t.photoRow(rest, half, gap, frame)
		return
	}
	if last == 1 {
		row = full * 3 / 4
	}
	for i := range rest {
		t.photoRow(rest[i:i+1], full, gap, row)
	}
}

func (t *setter) photoRow(row []report.Photo, width, gap, frame float64) {
	head, plain, small := style{8.8, 4.2, true, deep}, style{8.8, 4.2, false, black}, style{7.8, 4.2, false, grey}
	type word struct {
		text string
		style
	}
	type cell struct {
		x       float64
		photo   report.Photo
		missing []string
		words   []word
	}
	cells := make([]cell, len(row))
	most := 0
	mapped := false
	for i, ph := range row {
		c := cell{x: t.paper.left + float64(i)*(width+gap), photo: ph}
		reason := ph.Missing
		if ph.Picture != nil {
			if why := check(ph.Picture); why != "" {
				c.photo.Picture, reason = nil, why
			}
		}
		if c.photo.Picture == nil {
			text := "No picture"
			if reason != "" {
				text += ": " + reason
			}
			c.missing = t.wrap(text, style{9, 4.4, true, alarm}, width-12)
		}
		w := width
		if ph.Map != nil && ph.Map.Width > 0 && ph.Map.Height > 0 {
			w -= mapSide + 3
			mapped = true
		}
		add := func(text string, st style) {
			for _, l := range t.wrap(text, st, w) {
				c.words = append(c.words, word{l, st})
			}
		}
		add("Photo "+strconv.Itoa(ph.Number), head)
		for _, text := range []struct {
			text string
			st   style
		}{{ph.Caption, plain}, {ph.Place, small}, {ph.File, small}} {
			if text.text != "" {
				add(text.text, text.st)
			}
		}
		most = max(most, len(c.words))
		cells[i] = c
	}
	// What fits beside the picture on one page stays with it.
	first := min(most, int((t.paper.body()-frame-10)/head.lead))
	words := float64(first) * head.lead
	if mapped {
		words = max(words, mapSide)
	}
	line := func(s *sheet, c cell, k int, y float64) {
		l := c.words[k]
		s.text(c.x, y+head.lead*0.76, l.size, l.bold, l.ink, l.text)
	}
	long := func(c cell) bool { return float64(len(c.missing))*4.4 > frame-8 }
	t.add(piece{height: frame + 2 + words, space: 5, draw: func(s *sheet, y float64) {
		for _, c := range cells {
			if p := c.photo.Picture; p != nil {
				k := min(width/float64(max(1, p.Width)), frame/float64(max(1, p.Height)))
				w, h := float64(p.Width)*k, float64(p.Height)*k
				s.fill(c.x, y, width, frame, pale)
				s.picture(p, c.x+(width-w)/2, y+(frame-h)/2, w, h)
				s.frame(c.x, y, width, frame, 0.15, hair)
			} else {
				s.fill(c.x, y, width, frame, rose)
				s.frame(c.x, y, width, frame, 0.5, alarm)
				if !long(c) {
					top := y + (frame-float64(len(c.missing))*4.4)/2
					for j, l := range c.missing {
						s.textMiddle(c.x+width/2, top+4.4*(float64(j)+0.76), 9, true, alarm, l)
					}
				}
			}
			for k := range min(first, len(c.words)) {
				line(s, c, k, y+frame+1.6+float64(k)*head.lead)
			}
			if m := c.photo.Map; m != nil && m.Width > 0 && m.Height > 0 {
				scale := min(mapSide/m.Width, mapSide/m.Height)
				s.scene(m, c.x+width-m.Width*scale, y+frame+1.6, scale)
			}
		}
	}})
	for k := first; k < most; k++ {
		t.add(piece{height: head.lead, draw: func(s *sheet, y float64) {
			for _, c := range cells {
				if k < len(c.words) {
					line(s, c, k, y)
				}
			}
		}})
	}
	for _, c := range cells {
		if long(c) {
			t.caution(report.Caution{Title: "Photo " + strconv.Itoa(c.photo.Number), Text: c.photo.Missing})
		}
	}
}
