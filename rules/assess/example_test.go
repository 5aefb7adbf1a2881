package assess

import (
	"testing"

	"platebook/rules/criteria"
)

// Derived: method sections 3 to 5, the example tank as found.
func TestExampleAsFound(t *testing.T) {
	r := example().desired(10).assess()
	near(t, "MFL 35 %", known(t, "r", find(t, r, "2-1/4").Remaining), 3.4925, 1e-9)
	near(t, "pit gauge", known(t, "r", find(t, r, "3-2/3").Remaining), 5.00, 1e-9)
	if b := find(t, r, "2-1/4").Basis; b != ByAllowance {
		t.Errorf("basis %q", b)
	}
	for _, l := range r.Locations {
		if l.Kind == ThresholdAt {
			near(t, "threshold", float64(l.Remaining.V), 5.08, 1e-9)
		}
	}
	a := r.AsFound
	near(t, "UPr", known(t, "UPr", a.SoilRate), 0.114303, 5e-7)
	near(t, "StPr", known(t, "StPr", a.ProductRate), 0.0540015, 5e-8)
	near(t, "MRT(10)", known(t, "MRT", a.MRT), 1.80945, 5e-6)
	near(t, "Or", known(t, "Or", a.Interval), 5.65938, 5e-6)
	if a.NextDate.String() != "2031-12-28" || a.GovernedBy != GovCorrosion {
		t.Errorf("next %v by %s", a.NextDate, a.GovernedBy)
	}
	if a.SoilMinAt != "2-1/4" || a.ProductMinAt != "3-2/3" {
		t.Errorf("minima at %s, %s", a.SoilMinAt, a.ProductMinAt)
	}
}

// Derived: method section 5, 3.4925 and 3.60 repaired, rate as found and
// recomputed.
func TestExampleRepaired(t *testing.T) {
	repaired := func() *builder {
		return example().desired(10).
			repair("R1", "patch", "2-2", 500, 500, 150, 150, 6.35, "planned").
			repair("R2", "patch", "2-1", 1500, 900, 150, 150, 6.35, "planned")
	}
	a := repaired().assess().AsPlanned
	near(t, "RT", known(t, "RT", a.SoilMin), 4.40, 1e-9)
	near(t, "MRT(10)", known(t, "MRT", a.MRT), 2.71695, 5e-6)
	near(t, "Or", known(t, "Or", a.Interval), 11.0514, 5e-5)
	if a.NextDate.String() != "2037-05-19" {
		t.Errorf("next %v", a.NextDate)
	}
	a = repaired().set(criteria.RateAfterRepair, "recomputed").assess().AsPlanned
	near(t, "UPr", known(t, "UPr", a.SoilRate), 0.0780021, 5e-8)
	near(t, "sum", float64(a.SoilRate.V+a.ProductRate.V), 0.132004, 5e-7)
	near(t, "Or", known(t, "Or", a.Interval), 14.0905, 5e-5)
	if a.NextDate.String() != "2040-06-02" {
		t.Errorf("next %v", a.NextDate)
	}
	// thin film with 14 years left: W 11.0514, V 16.2725 → 14 by the lining
	b := repaired().lining("thin film", "2026-05-01", 14)
	a = b.assess().AsPlanned
	near(t, "Or with lining", known(t, "Or", a.Interval), 14, 1e-9)
	if a.GovernedBy != GovLining {
		t.Errorf("governed by %s", a.GovernedBy)
	}
	near(t, "StPr as used", known(t, "StPr", a.ProductRate), 0, 0)
}
