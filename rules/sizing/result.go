// Package sizing judges MFL estimates against ultrasonic prove-ups.
package sizing

import "platebook/rules/unit"

// Pair is one MFL or hand-scan loss with its tied ultrasonic loss, both in
// percent of nominal.
type Pair struct {
	MFL, UT    float64
	Nominal    unit.Length
	Plate      int // index in Inspection.Plates
	Indication int
	ProveUp    int
	By         string
	Side       string
}

// Fit is the comparison over a set of pairs. Fields are unknown when there
// are too few pairs.
type Fit struct {
	Pairs      int
	Bias       unit.Maybe[unit.Percent] // mean MFL − UT, + when MFL calls deeper
	SD         unit.Maybe[unit.Percent] // n − 1
	Within10   unit.Maybe[unit.Percent] // share within 10 points
	WorstUnder unit.Maybe[unit.Percent] // max(0, UT − MFL)
	Slope      unit.Maybe[unit.Ratio]   // b1
	Intercept  unit.Maybe[unit.Percent] // b0
	ResidualSD unit.Maybe[unit.Percent] // s
	MeanX, Sxx float64
	MinX, MaxX float64
	t95        float64 // T(0.95), asked for at every estimate
}

// Group is a Fit of one nominal, technician or side.
type Group struct {
	Name    string
	Nominal unit.Length // of a group of one nominal, its least
	Fit     Fit
}

// Result is the comparison of all pairs and of its groups.
type Result struct {
	Pairs     []Pair
	All       Fit
	ByNominal []Group
	ByPerson  []Group
	BySide    []Group
}
