package html

import (
	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/inspection"
)

// data is what the script works on. Lengths are millimetres; plan coordinates
// have y upward, outlines y downward as a screen has it.
type data struct {
	Words    map[string]string `json:"words"`
	Kinds    map[string]kind   `json:"kinds"`
	Plan     planPart          `json:"plan"`
	Plates   []platePart       `json:"plates"`
	Places   placesPart        `json:"places"`
	Proved   []provedPart      `json:"proved"`   // prove-ups tied to an indication
	Readings []readingPart     `json:"readings"` // sound metal
	Notes    []notePart        `json:"notes"`    // visual observations and weld examinations
	Fixtures []fixturePart     `json:"fixtures"`
	Patches  []outlinePart     `json:"patches"` // found on the floor
	Seams    []seamPart        `json:"seams"`
	Tracks   []trackPart       `json:"tracks"` // scan strips
	Repairs  []repairPart      `json:"repairs"`
	Reasons  []string          `json:"reasons"` // of repairs
	Photos   []photoPart       `json:"photos"`
	Loss     []bandPart        `json:"loss"`
	Margin   []bandPart        `json:"margin"`
	Examined []bandPart        `json:"examined"`
	LeftOut  int               `json:"leftOut"`
	Previous *previousPart     `json:"previous"` // the floor at the previous inspection, null without one
	reasons  list
}

type planPart struct {
	Extent [4]number `json:"extent"` // x1, y1, x2, y2, y downward
	Known  bool      `json:"known"`
	Radius number    `json:"radius"`
	Rim    number    `json:"rim"`
	Up     number    `json:"up"`    // bearing of upward
	North  bool      `json:"north"` // false: bearings are unknown
}

type provedPart struct {
	ID        string    `json:"id"`
	Place     int       `json:"place"` // index in places
	Placed    bool      `json:"placed"`
	At        [2]number `json:"at"`
	Remaining number    `json:"remaining"`
	Means     string    `json:"means"`
}

type readingPart struct {
	Plate     int       `json:"plate"`
	At        [2]number `json:"at"`
	Thickness number    `json:"t"`
}

type notePart struct {
	Weld   bool      `json:"weld"`
	ID     string    `json:"id"`
	Kind   string    `json:"kind"`
	Text   string    `json:"text"`
	Plate  string    `json:"plate"`
	Placed bool      `json:"placed"`
	At     [2]number `json:"at"`
	Photos []int     `json:"photos,omitempty"`
}

type fixturePart struct {
	Name  string    `json:"name"`
	Kind  string    `json:"kind"`
	At    [2]number `json:"at"`
	L     number    `json:"l"`
	W     number    `json:"w"`
	Round bool      `json:"round"`
}

type outlinePart struct {
	Name string `json:"name"`
	D    string `json:"d"`
}

type bandPart struct {
	Name   string `json:"name"`
	Letter string `json:"letter"`
	Fill   string `json:"fill"`
	Over   string `json:"over"`
}

func dataOf(a *rules.Assessment, opt Options, words map[string]string) ([]byte, error) {
	in, p := a.Inspection, a.Plan
	fl := draw.FloorOf(a, works(a))
	d := data{
		Words: words, Kinds: kinds(in.Units),
		Plan: planPart{
			Extent: [4]number{place(fl.X1), place(fl.Y1), place(fl.X2), place(fl.Y2)}, Known: fl.X2 > fl.X1,
			Radius: number{p.Radius, p.Radius > 0}, Rim: number{p.Rim, p.Rim > 0}, Up: some(p.UpBearing), North: p.NorthKnown,
		},
		Plates: []platePart{}, Fixtures: []fixturePart{}, Patches: []outlinePart{}, Seams: []seamPart{}, Tracks: []trackPart{}, Repairs: []repairPart{}, Notes: []notePart{},
		reasons: start(), Readings: []readingPart{}, Proved: []provedPart{},
		Loss: bands(fl.Loss), Margin: bands(fl.Margin), Examined: bands(fl.Examined), LeftOut: len(a.LeftOut),
	}
	for i := range in.Plates {
		d.Plates = append(d.Plates, plateOf(a, fl, i))
	}
	d.seams(a)
	d.tracks(a, fl)
	photos := newShelf(a, opt.Thumbs)
	d.places(a, fl, photos)
	d.readings(a)
	d.notes(a, fl, photos)
	for _, o := range p.Openings {
		d.Fixtures = append(d.Fixtures, fixturePart{o.Name, o.Kind, [2]number{place(o.At.X), place(o.At.Y)}, place(o.Length), place(o.Width), o.Round})
	}
	for _, path := range fl.Patches {
		d.Patches = append(d.Patches, outlinePart{path.ID, path.Data(0)})
	}
	for i := range fl.Works {
		d.Repairs = append(d.Repairs, d.repair(a, &a.Repairs.Items[i], fl.Works[i]))
	}
	d.Photos, d.Reasons = photos.list, d.reasons.Words
	d.Previous = d.previous(a, fl)
	return encode(d)
}

func bandOf(list []draw.Band, value func() (float64, bool)) int {
	v, ok := value()
	if !ok {
		return -1
	}
	for i := len(list) - 1; i > 0; i-- {
		if v >= list[i].From-1e-9 {
			return i
		}
	}
	return 0
}

func bands(list []draw.Band) []bandPart {
	out := make([]bandPart, len(list))
	for i, b := range list {
		out[i] = bandPart{b.Name, b.Letter, colour(b.Fill), colour(b.Over)}
	}
	return out
}

func (d *data) readings(a *rules.Assessment) {
	index := plateIndex(a)
	for i := range a.Inspection.Readings {
		r := &a.Inspection.Readings[i]
		if r.Out || !r.X.OK() || !r.Y.OK() || !r.Thickness.OK() {
			continue
		}
		k, ok := index[inspection.Fold(r.Plate.Value)]
		if !ok {
			continue
		}
		if at, ok := a.Plan.ToPlan(k, float64(r.X.Value), float64(r.Y.Value)); ok {
			d.Readings = append(d.Readings, readingPart{k, [2]number{place(at.X), place(at.Y)}, typed(r.Thickness)})
		}
	}
}

func plateIndex(a *rules.Assessment) map[string]int {
	index := map[string]int{}
	for i := range a.Inspection.Plates {
		key := inspection.Fold(a.Inspection.Plates[i].Label.Value)
		if _, ok := index[key]; !ok {
			index[key] = i
		}
	}
	return index
}

func (d *data) notes(a *rules.Assessment, fl *draw.Floor, photos *shelf) {
	for _, n := range fl.Notes {
		p := notePart{Weld: n.Weld, Kind: n.Kind, Placed: n.Placed}
		if n.Placed {
			p.At = [2]number{place(n.X), place(-n.Y)}
		}
		if n.Weld {
			w := &a.Inspection.Welds[n.Row]
			p.ID, p.Plate = w.ID.Text, w.Seam.Text
			p.Text = join(w.Method.Or(""), w.Defect.Or(""), w.Remarks.Or(""))
			p.Photos = photos.named(w.Photo.Or(""))
		} else {
			v := &a.Inspection.Visual[n.Row]
			p.ID, p.Plate = v.ID.Text, v.Plate.Text
			p.Text = join(v.Item.Or(""), v.Observation.Or(""))
			p.Photos = photos.named(v.Photo.Or(""))
		}
		d.Notes = append(d.Notes, p)
	}
}

func join(parts ...string) string {
	out := ""
	for _, p := range parts {
		if p = oneLine(p); p == "" {
			continue
		}
		if out != "" {
			out += "; "
		}
		out += p
	}
	return out
}
