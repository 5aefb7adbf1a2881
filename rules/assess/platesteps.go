package assess

// Under rate basis plate a step names the plate its numbers are of. These are
// the words, so that the results can lead from them to the plate's places.

// Titles of inputs that are of one plate.
const (
	LeastSoil    = "smallest remaining, soil side"
	LeastProduct = "smallest remaining, product side"
	SoilRate     = "soil-side rate"
	ProductRate  = "product-side rate"
)

// PlateColumn is a column of results with the places of one plate only.
func PlateColumn(column, plate string) string { return column + ", " + plate }

// LeastText is the source of a least thickness of one plate.
func LeastText(s State, plate string) string { return "least of " + plate + ", " + s.Words() }

// PlateRateText is the source of a rate of one plate.
func PlateRateText(s State, plate string) string { return "rate of " + plate + ", " + s.Words() }

// PlateName is what a step calls a plate.
func PlateName(label string) string { return "plate " + label }

// nameOf is what a group of places is called: a plate, or under rate basis
// plate what lies on none.
func (w *work) nameOf(g *group) string { return w.plateName(g.plate) }

func (w *work) plateName(k int) string {
	if k < 0 {
		return ExtremeLabel
	}
	return PlateName(w.in.Plates[k].Label.Value)
}
