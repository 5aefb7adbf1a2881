package extreme

import "fmt"

// Few is the number of blocks below which an estimate is a rough one.
//
// Source: common practice, no source; 20 to 30 blocks or more are better.
const Few = 20

// Cautions are what a reader of the estimate must know, the general ones first.
func (e *Estimate) Cautions() []string {
	out := []string{
		"An estimate from the deepest loss of each examined plate: it says what may be expected where nothing was examined, not what is there.",
		"It holds only where the area not examined corrodes as the examined plates do: it cannot stand for a place with a cause of its own, such as a sump, a low spot or a leaking pad.",
		"Rings, the critical zone and plates of another nominal thickness are left out: they are never pooled.",
	}
	if !e.Made {
		return out
	}
	if n := len(e.Blocks); n < Few {
		out = append(out, fmt.Sprintf("Only %d plates carry it; %d or more are better.", n, Few))
	}
	if e.Without > 0 {
		out = append(out, fmt.Sprintf("Examined plates without an indication are left out of the fit: %d of %d. What is below the scan's threshold on them is not known.", e.Without, e.Without+len(e.Blocks)))
	}
	if e.Doubtful {
		out = append(out, fmt.Sprintf("Doubtful: the points do not follow the line, correlation %.3f, below %.2f.", e.Fit.Correlation, Straight))
	}
	if e.Used {
		return append(out, "It enters the interval, as the criterion Extreme value in interval asks.")
	}
	return append(out, "It is information: no result of this floor rests on it.")
}
