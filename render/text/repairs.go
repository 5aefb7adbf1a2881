package text

import (
	"platebook/rules"
	"platebook/rules/repair"
	"platebook/rules/unit"
)

type thresholdPart struct {
	Below    number `json:"repair_below_mm"`
	Repairs  int    `json:"repairs"`
	Area     number `json:"area_m2"`
	Plates   int    `json:"plates"`
	Mass     number `json:"mass_kg"`
	Sheets   int    `json:"stock_sheets"`
	Interval number `json:"interval_years"`
	Uncapped number `json:"interval_uncapped_years"`
	AtLeast  number `json:"at_least_years"`
}

type repairsPart struct {
	List      []repairPart `json:"list"`
	Proposed  bool         `json:"proposed"`
	Pieces    int          `json:"pieces"`
	Area      number       `json:"area_m2"`
	Mass      number       `json:"mass_kg"`
	PlateMass number       `json:"plate_mass_kg"`
	Sheets    int          `json:"stock_sheets"`
	BoundArea int          `json:"bound_area_sheets"`
	BoundDual int          `json:"bound_dual_sheets"`
	Yield     number       `json:"yield_pct"`
	Weld      number       `json:"weld_m"`
	VacuumBox number       `json:"vacuum_box_m"`
	Needed    number       `json:"threshold_needed_mm"`
	Cutting   []sheetPart  `json:"cutting"`
	Separate  []string     `json:"ordered_separately"`
}

type repairPart struct {
	Repair      string      `json:"repair"`
	Kind        string      `json:"kind"`
	Plate       string      `json:"plate"`
	X           number      `json:"x_mm"`
	Y           number      `json:"y_mm"`
	Length      number      `json:"length_mm"`
	Width       number      `json:"width_mm"`
	Thickness   number      `json:"thickness_mm"`
	Shape       words       `json:"shape"`
	Zone        words       `json:"zone"`
	Indications []string    `json:"indications"`
	Reasons     []string    `json:"reasons"`
	Checks      []checkPart `json:"checks"`
	Engineering bool        `json:"engineering"`
	Completed   bool        `json:"completed"`
}

type checkPart struct {
	ID     string  `json:"id"`
	OK     verdict `json:"ok"`
	Value  number  `json:"value"`
	Limit  number  `json:"limit"`
	Clause words   `json:"clause"`
	Source words   `json:"source"`
	Note   words   `json:"note"`
}

type sheetPart struct {
	Thickness float64     `json:"thickness_mm"`
	Length    float64     `json:"length_mm"`
	Width     float64     `json:"width_mm"`
	Pieces    []placePart `json:"pieces"`
}

type placePart struct {
	Repair string  `json:"repair"`
	X      float64 `json:"x_mm"`
	Y      float64 `json:"y_mm"`
	Length float64 `json:"length_mm"`
	Width  float64 `json:"width_mm"`
	Turned bool    `json:"turned"`
}

func (d *document) repairs(a *rules.Assessment) {
	r := a.Repairs
	if r == nil {
		return
	}
	for _, l := range r.Thresholds() {
		d.Thresholds = append(d.Thresholds, thresholdPart{
			some(float64(l.Below)), l.Repairs, some(float64(l.Area)), l.Plates, some(float64(l.Mass)), l.Sheets,
			maybe(l.Interval), maybe(l.Uncapped), maybe(l.AtLeast),
		})
	}
	p := &repairsPart{
		List: []repairPart{}, Proposed: r.Proposed, Pieces: r.Pieces, Area: some(float64(r.Area)), Mass: maybe(r.Mass), PlateMass: maybe(r.PlateMass),
		Sheets: r.Sheets, BoundArea: r.BoundArea, BoundDual: r.BoundDual, Yield: maybe(r.Yield),
		Weld: some(float64(r.Weld / unit.Metre)), VacuumBox: some(float64(r.Vacuum / unit.Metre)), Needed: maybe(r.Needed),
		Cutting: []sheetPart{}, Separate: []string{},
	}
	for i := range r.Items {
		p.List = append(p.List, repairOf(a, &r.Items[i]))
	}
	for _, g := range r.Cutting.Groups {
		if g.Layout == nil {
			continue
		}
		for _, s := range g.Layout.Sheets {
			part := sheetPart{float64(g.Thickness), s.Size.Length, s.Size.Width, []placePart{}}
			for _, at := range s.Pieces {
				part.Pieces = append(part.Pieces, placePart{r.Items[g.Pieces[at.Piece].Item].Label, at.X, at.Y, at.Length, at.Width, at.Turned})
			}
			p.Cutting = append(p.Cutting, part)
		}
	}
	for _, s := range r.Cutting.Separate {
		p.Separate = append(p.Separate, r.Items[s.Item].Label)
	}
	d.Repairs = p
}

func repairOf(a *rules.Assessment, it *repair.Item) repairPart {
	p := repairPart{
		Repair: it.Label, Kind: string(it.Kind), Plate: a.Inspection.Plates[it.Plate].Label.Text,
		X: number{float64(it.X), it.Boxed}, Y: number{float64(it.Y), it.Boxed},
		Length: number{float64(it.Length), it.Length > 0}, Width: number{float64(it.Width), it.Width > 0}, Thickness: maybe(it.Thickness),
		Shape: words(it.Shape), Zone: words(it.Zone), Indications: append([]string{}, it.IDs...), Reasons: append([]string{}, it.Reasons...),
		Checks: []checkPart{}, Engineering: it.Engineer, Completed: it.Completed,
	}
	for _, c := range it.Checks {
		p.Checks = append(p.Checks, checkPart{c.ID, verdict{c.OK, c.Known}, maybe(c.Value), maybe(c.Limit), words(c.Clause), words(c.Source), words(c.Note)})
	}
	return p
}
