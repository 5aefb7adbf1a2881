package html

import (
	"math"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/floor"
)

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

// seamPart is a weld between plates: a line along the middle of its strip, or
// the ring's radius.
type seamPart struct {
	Kind string     `json:"kind"`
	Name string     `json:"name"`
	Line *[4]number `json:"line,omitempty"` // x1, y1, x2, y2, y downward
	R    *number    `json:"r,omitempty"`
}

type trackPart struct {
	Plate int    `json:"plate"`
	Name  string `json:"name"`
	D     string `json:"d"`
	Loss  number `json:"loss"`
	Band  int    `json:"band"`
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

func (d *data) seams(a *rules.Assessment) {
	for i := range a.Plan.Seams {
		s := &a.Plan.Seams[i]
		p := seamPart{Kind: string(s.Kind), Name: plateName(a, s.A)}
		if s.B >= 0 {
			p.Name += "/" + plateName(a, s.B)
		}
		switch {
		case s.Kind == floor.RingSeam:
			r := place((s.Inner + s.Outer) / 2)
			p.R = &r
		case len(s.Strip) < 2:
			continue
		default:
			line := middle(s.Strip)
			p.Line = &line
		}
		d.Seams = append(d.Seams, p)
	}
}

// middle is the line through the middle of a strip along its longest side; a
// strip without width is that line already.
func middle(r floor.Ring) [4]number {
	var c, along floor.Point
	longest := 0.0
	for i, p := range r {
		q := r[(i+1)%len(r)]
		if d := math.Hypot(q.X-p.X, q.Y-p.Y); d > longest {
			longest, along = d, floor.Point{X: (q.X - p.X) / d, Y: (q.Y - p.Y) / d}
		}
		c.X, c.Y = c.X+p.X/float64(len(r)), c.Y+p.Y/float64(len(r))
	}
	from, to := 0.0, 0.0
	for _, p := range r {
		at := (p.X-c.X)*along.X + (p.Y-c.Y)*along.Y
		from, to = min(from, at), max(to, at)
	}
	return [4]number{place(c.X + from*along.X), place(-c.Y - from*along.Y), place(c.X + to*along.X), place(-c.Y - to*along.Y)}
}

func plateName(a *rules.Assessment, i int) string {
	if i < 0 || i >= len(a.Inspection.Plates) {
		return ""
	}
	return oneLine(a.Inspection.Plates[i].Label.Text)
}

func (d *data) tracks(a *rules.Assessment, fl *draw.Floor) {
	for _, t := range fl.Tracks {
		d.Tracks = append(d.Tracks, trackPart{t.Plate, oneLine(a.Inspection.Tracks[t.Row].Track.Text), t.Path.Data(0), some(t.Loss), t.Band})
	}
}
