package html

import (
	"fmt"
	"strings"

	"platebook/render/draw"
	"platebook/rules"
	"platebook/rules/repair"
)

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
	Reasons   []int     `json:"reasons,omitempty"` // in the data's reasons
	Fails     []string  `json:"fails,omitempty"`
	Remarks   string    `json:"remarks,omitempty"`
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

// foremost are the reasons that a card shows of a repair: of a plate with
// dozens of places the first, and how many more the table of places tells. The
// page stays small where nearly every place is to be repaired.
func foremost(reasons []string) []string {
	const most = 6
	if len(reasons) <= most+1 {
		return reasons
	}
	return append(reasons[:most:most], fmt.Sprintf("%d more, told by the table of places", len(reasons)-most))
}

func (d *data) repair(a *rules.Assessment, it *repair.Item, path draw.Path) repairPart {
	out := repairPart{
		Label: oneLine(it.Label), Kind: string(it.Kind), Shape: it.Shape, Plate: it.Plate, Done: it.Completed, Proposed: it.Proposed, Engineer: it.Engineer,
		Length: number{float64(it.Length), it.Boxed}, Width: number{float64(it.Width), it.Boxed},
		X: number{float64(it.X), it.Boxed}, Y: number{float64(it.Y), it.Boxed}, Thickness: maybe(it.Thickness),
		Takes: oneLine(strings.Join(it.IDs, ", ")),
	}
	for _, why := range foremost(it.Reasons) {
		out.Reasons = append(out.Reasons, d.reasons.index(why))
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
	if ring, ok := draw.RepairOutline(a, it); ok && it.Shape == repair.Tombstone {
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
