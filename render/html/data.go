package html

import (
	"strings"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/inspection"
	"platebook/rules/repair"
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
	Repairs  []repairPart      `json:"repairs"`
	Photos   []photoPart       `json:"photos"`
	Loss     []bandPart        `json:"loss"`
	Margin   []bandPart        `json:"margin"`
	Examined []bandPart        `json:"examined"`
	LeftOut  int               `json:"leftOut"`
	Previous *struct{}         `json:"previous"` // the floor at the previous inspection; none yet
}

type planPart struct {
	Extent [4]number `json:"extent"` // x1, y1, x2, y2, y downward
	Known  bool      `json:"known"`
	Radius number    `json:"radius"`
	Rim    number    `json:"rim"`
	Up     number    `json:"up"`    // bearing of upward
	North  bool      `json:"north"` // false: bearings are unknown
}

type platePart struct {
	Label       string     `json:"label"`
	Type        string     `json:"type"`
	Outline     string     `json:"d"`
	Box         *[4]number `json:"box"` // extent of the outline, y downward
	At          [2]number  `json:"at"`  // of its number, y upward
	Placed      bool       `json:"placed"`
	Why         string     `json:"why,omitempty"`
	Sector      bool       `json:"sector,omitempty"`
	Sump        bool       `json:"sump,omitempty"`
	Sized       bool       `json:"sized"`
	Origin      [2]number  `json:"origin"`
	Turned      number     `json:"turned"`
	Length      number     `json:"length"`
	Width       number     `json:"width"`
	Start       number     `json:"start"`
	End         number     `json:"end"`
	Corner      string     `json:"corner"`
	Nominal     number     `json:"nominal"`
	Sound       number     `json:"sound"`
	SoundFrom   string     `json:"soundFrom"`
	Area        number     `json:"area"`
	Worst       number     `json:"worst"`
	WorstAt     string     `json:"worstAt"`
	Loss        number     `json:"loss"`
	Required    number     `json:"required"`
	Margin      number     `json:"margin"`
	Interval    number     `json:"interval"`
	Examined    number     `json:"examined"`
	Shares      [4]number  `json:"shares"` // MFL, hand, UT, not examined
	Reason      string     `json:"reason,omitempty"`
	Indications int        `json:"indications"`
	ProvedUp    int        `json:"provedUp"`
	Repairs     int        `json:"repairs"`
	Remarks     string     `json:"remarks,omitempty"`
	LossBand    int        `json:"lossBand"`
	MarginBand  int        `json:"marginBand"`
	ShareBand   int        `json:"shareBand"`
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

type repairPart struct {
	Label     string    `json:"label"`
	Kind      string    `json:"kind"`
	Plate     int       `json:"plate"`
	D         string    `json:"d"`
	At        [2]number `json:"at"`
	Length    number    `json:"length"`
	Width     number    `json:"width"`
	Thickness number    `json:"thickness"`
	X         number    `json:"x"` // of the centre, from the datum
	Y         number    `json:"y"`
	Shape     string    `json:"shape,omitempty"`
	Done      bool      `json:"done"`
	Proposed  bool      `json:"proposed"`
	Engineer  bool      `json:"engineer"`
	Takes     string    `json:"takes,omitempty"`
	Reasons   []string  `json:"reasons,omitempty"`
	Fails     []string  `json:"fails,omitempty"`
	Remarks   string    `json:"remarks,omitempty"`
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
		Fixtures: []fixturePart{}, Patches: []outlinePart{}, Repairs: []repairPart{}, Notes: []notePart{},
		Readings: []readingPart{}, Proved: []provedPart{},
		Loss: bands(fl.Loss), Margin: bands(fl.Margin), Examined: bands(fl.Examined), LeftOut: len(a.LeftOut),
	}
	for i := range in.Plates {
		d.Plates = append(d.Plates, plateOf(a, fl, i))
	}
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
		d.Repairs = append(d.Repairs, repairOf(a, &a.Repairs.Items[i], fl.Works[i]))
	}
	d.Photos = photos.list
	return encode(d)
}

func plateOf(a *rules.Assessment, fl *draw.Floor, i int) platePart {
	w, pl, r := &a.Inspection.Plates[i], &a.Plan.Plates[i], &a.Result.Plates[i]
	out := platePart{
		Label: oneLine(w.Label.Text), Type: w.Type.Or(""), Placed: len(fl.Plates[i].Segments) > 0, Why: pl.Why, Sector: pl.Sector, Sump: pl.Sump,
		Sized: pl.Sized, Origin: [2]number{some(pl.Origin.X), some(pl.Origin.Y)}, Turned: some(pl.Turned),
		Length: number{pl.Length, pl.Length > 0}, Width: number{pl.Width, pl.Width > 0}, Start: some(pl.Start), End: some(pl.End), Corner: pl.Corner,
		Nominal: maybe(r.Nominal), Sound: maybe(r.Sound), SoundFrom: string(r.SoundFrom), Area: number{float64(pl.NetArea), pl.Measured},
		Worst: maybe(r.Worst), WorstAt: r.WorstAt, Loss: maybe(r.WorstLoss), Required: maybe(r.Required), Margin: maybe(r.Margin),
		Interval: maybe(r.Interval), Examined: maybe(r.Examined),
		Shares: [4]number{typed(w.MFLScanned), typed(w.HandScanned), typed(w.UTGridded), typed(w.NotExamined)},
		Reason: oneLine(w.ReasonNotExamined.Or("")), Indications: r.Indications, ProvedUp: r.ProvedUp, Repairs: r.Repairs, Remarks: oneLine(w.Remarks.Or("")),
		LossBand: bandOf(fl.Loss, r.WorstLoss.Float), MarginBand: bandOf(fl.Margin, r.Margin.Float), ShareBand: bandOf(fl.Examined, r.Examined.Float),
	}
	if out.Placed {
		out.Outline = fl.Plates[i].Data(0)
		out.At = [2]number{place(pl.Label.X), place(pl.Label.Y)}
		out.Box = boxOf(fl.Plates[i])
	}
	return out
}

func boxOf(p draw.Path) *[4]number {
	x1, y1, x2, y2 := p.Segments[0].X, p.Segments[0].Y, p.Segments[0].X, p.Segments[0].Y
	for _, s := range p.Segments {
		if s.Op != draw.Close {
			x1, y1, x2, y2 = min(x1, s.X), min(y1, s.Y), max(x2, s.X), max(y2, s.Y)
		}
	}
	return &[4]number{place(x1), place(y1), place(x2), place(y2)}
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

// works is the floor's repairs as the repair plan draws them: planned ones, or
// the program's proposal.
func works(a *rules.Assessment) []draw.Work {
	if a.Repairs == nil {
		return nil
	}
	out := make([]draw.Work, len(a.Repairs.Items))
	for i := range a.Repairs.Items {
		it := &a.Repairs.Items[i]
		out[i] = draw.Work{
			Label: it.Label, Kind: string(it.Kind), Plate: it.Plate, Box: it.Box, Boxed: it.Boxed, Shape: it.Shape,
			Done: it.Completed, Proposed: it.Proposed,
		}
	}
	return out
}

func repairOf(a *rules.Assessment, it *repair.Item, path draw.Path) repairPart {
	out := repairPart{
		Label: oneLine(it.Label), Kind: string(it.Kind), Shape: it.Shape, Plate: it.Plate, Done: it.Completed, Proposed: it.Proposed, Engineer: it.Engineer,
		Length: number{float64(it.Length), it.Boxed}, Width: number{float64(it.Width), it.Boxed},
		X: number{float64(it.X), it.Boxed}, Y: number{float64(it.Y), it.Boxed}, Thickness: maybe(it.Thickness),
		Takes: oneLine(strings.Join(it.IDs, ", ")), Reasons: it.Reasons,
	}
	if it.Row >= 0 {
		out.Remarks = oneLine(a.Inspection.Repairs[it.Row].Remarks.Or(""))
	}
	for _, c := range it.Checks {
		if c.Known && !c.OK {
			out.Fails = append(out.Fails, c.ID+": "+c.Text(a.Inspection.Units))
		}
	}
	// One along the shell has a frame of its own.
	if ring, ok := a.Repairs.Ring(it); ok && it.Shape == repair.Tombstone {
		path.Segments = nil
		for i, q := range ring {
			s := draw.Segment{Op: draw.Line, X: q.X, Y: -q.Y}
			if i == 0 {
				s.Op = draw.Move
			}
			path.Segments = append(path.Segments, s)
		}
		path.Segments = append(path.Segments, draw.Segment{Op: draw.Close})
	}
	switch {
	case it.Kind == repair.Replace || it.Kind == repair.Line:
		path.Segments = nil // the whole plate
		fallthrough
	case len(path.Segments) == 0:
		if it.Plate >= 0 && a.Plan.Plates[it.Plate].Placed {
			at := a.Plan.Plates[it.Plate].Label
			out.At = [2]number{place(at.X), place(at.Y)}
		}
	default:
		out.D = path.Data(0)
		b := boxOf(path)
		out.At = [2]number{place((b[0].v + b[2].v) / 2), place(-(b[1].v + b[3].v) / 2)}
	}
	return out
}
