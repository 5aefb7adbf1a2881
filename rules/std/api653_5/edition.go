// Package api653_5 holds the formulas and tables of API Std 653, Tank
// Inspection, Repair, Alteration, and Reconstruction, that a tank floor is
// judged by, under the clause labels of the 5th edition.
//
// The functions are pure: quantities in, quantities out, no defaults. The
// standard was seen in public extracts, not in a licensed copy; what a
// licensed copy must confirm is listed in Verify.
package api653_5

import "strings"

// Document is the standard as a report names it.
const Document = "API Std 653"

// Edition is one edition of the standard with its clause labels.
type Edition struct {
	Name   string
	Labels map[Subject]string
}

// Subject is a thing the standard regulates, whatever number its clause has.
type Subject string

// The subjects that carry clause labels.
const (
	RemainingThickness Subject = "remaining thickness"
	MinimumTable       Subject = "minimum bottom thickness"
	CriticalZone       Subject = "critical zone"
	Projection         Subject = "projection"
	AnnularRing        Subject = "annular ring"
	AnnularTable       Subject = "annular thickness table"
	ShellThickness     Subject = "shell thickness"
	IntervalLimit      Subject = "interval limit"
	BottomRepair       Subject = "bottom repair"
	Settlement         Subject = "settlement"
)

// Subjects lists them all, in the order of the method.
var Subjects = []Subject{
	RemainingThickness, MinimumTable, IntervalLimit, ShellThickness, CriticalZone, AnnularRing, AnnularTable, Projection, BottomRepair, Settlement,
}

// Editions lists the editions known, the one in force first. A label that is
// not known for an edition is absent, never guessed.
//
// Source: API Std 653, 3rd edition 2001 with Addendum 1 2003 (public extract);
// 5th edition 2014 as described in public articles. Verify against a licensed
// copy.
var Editions = []Edition{
	{Name: "5th edition", Labels: map[Subject]string{
		RemainingThickness: "4.4.5.1",
		MinimumTable:       "Table 4.4",
		CriticalZone:       "4.4.5.4",
		Projection:         "4.4.5.7",
		AnnularRing:        "4.4.6",
		AnnularTable:       "Table 4.5",
		ShellThickness:     "4.3.3.1",
		IntervalLimit:      "6.4.2",
		BottomRepair:       "9.10",
		Settlement:         "Annex B",
	}},
	{Name: "5th edition with later addenda", Labels: map[Subject]string{
		BottomRepair: "9.11",
	}},
	{Name: "3rd edition", Labels: map[Subject]string{
		MinimumTable:  "Table 6-1",
		AnnularTable:  "Table 4-4",
		IntervalLimit: "6.4",
	}},
}

// Clause is the label of a subject in the edition in force.
func Clause(s Subject) string { return Editions[0].Labels[s] }

// Verify lists the constants and rules of this package that come from memory
// or from a public extract that is garbled, and want a look into a licensed
// copy.
const (
	VerifyThresholdRule   = "4.4.5.1: what the scan may have missed enters the soil-side rate"
	VerifyThinFilm        = "Table 4.4: a thin film lining never lowers the required thickness"
	VerifyLiningLife      = "4.4.5.1: the product-side rate is 0 only while a lining lives through the interval"
	VerifyCathodic        = "4.4.5.1: conditions under which cathodic protection makes the soil-side rate 0"
	VerifyCriticalNominal = "4.4.5.4: half the bottom thickness is taken without its corrosion allowance"
	VerifyIsolatedPits    = "4.4.5.4, 4.4.6: how isolated pits count in the critical zone and on the ring"
	VerifyAnnularStress   = "Table 4.5: stress 2.34·D·(H − 1)/t with the first course as built"
	VerifyBarrierCap      = "6.4.2: longest subsequent interval with a release-prevention barrier"
)

// Labels are the labels that other editions have for what the edition in force
// calls by a label: "3rd edition: Table 6-1". Where none is known there is
// none.
func Labels(label string) []string {
	var out []string
	for _, subject := range Subjects {
		if label == "" || Clause(subject) != label {
			continue
		}
		for _, e := range Editions[1:] {
			if other := e.Labels[subject]; other != "" {
				out = append(out, e.Name+": "+other)
			}
		}
	}
	return out
}

// Elsewhere says whether a cited clause carries the number that another edition
// has for a subject, and is no part of what the edition in force names.
func Elsewhere(cited string) bool {
	under := func(label string) bool { return cited == label || strings.HasPrefix(cited, label+".") }
	for _, e := range Editions[1:] {
		for _, subject := range Subjects {
			other := e.Labels[subject]
			if other == "" || !under(other) {
				continue
			}
			named := false
			for _, s := range Subjects {
				here := Clause(s)
				named = named || under(here) || strings.HasPrefix(here, other+".")
			}
			if !named {
				return true
			}
		}
	}
	return false
}
