package criteria

import "platebook/rules/unit"

// The criteria, by the names the Criteria sheet uses.
const (
	MinimumThickness                 Name = "Minimum thickness"
	MinimumThicknessBarrier          Name = "Minimum thickness, barrier"
	MinimumThicknessReinforcedLining Name = "Minimum thickness, reinforced lining"
	ShortestAgeForARate              Name = "Shortest age for a rate"
	AgeForAReliableRate              Name = "Age for a reliable rate"
	LeastExaminedForARate            Name = "Least examined for a rate"
	PlanningInterval                 Name = "Planning interval"
	RateBasis                        Name = "Rate basis"
	RateAfterRepair                  Name = "Rate after repair"
	SoilSideCauseRemoved             Name = "Soil-side cause removed"
	ProductSideCauseRemoved          Name = "Product-side cause removed"
	MinimumSoilSideRate              Name = "Minimum soil-side rate"
	MinimumProductSideRate           Name = "Minimum product-side rate"
	MillTolerance                    Name = "Mill tolerance"
	MFLThreshold                     Name = "MFL threshold"
	ProveUpThreshold                 Name = "Prove-up threshold"
	UnprovedIndications              Name = "Unproved indications"
	SizingAllowance                  Name = "Sizing allowance"
	SizingMinimumPairs               Name = "Sizing minimum pairs"
	RescanDifference                 Name = "Rescan difference"
	RescanCount                      Name = "Rescan count"
	CrossCheckTolerance              Name = "Cross-check tolerance"
	PositionTolerance                Name = "Position tolerance"
	AssumedIndicationSize            Name = "Assumed indication size"
	AreaBalance                      Name = "Area balance"
	CoatingLimit                     Name = "Coating limit"
	IntervalRule                     Name = "Interval rule"
	IntervalBaseDate                 Name = "Interval base date"
	InitialInterval                  Name = "Initial interval"
	CreditThinFilmLining             Name = "Credit thin film lining"
	CreditReinforcedLining           Name = "Credit reinforced lining"
	CreditCathodicProtection         Name = "Credit cathodic protection"
	CreditBarrier                    Name = "Credit barrier"
	IntervalCap                      Name = "Interval cap"
	IntervalCapWithBarrier           Name = "Interval cap with barrier"
	IntervalCapRateUnknown           Name = "Interval cap, rate unknown"
	OwnerLimit                       Name = "Owner limit"
	CriticalZoneWidth                Name = "Critical zone width"
	BottomCorrosionAllowance         Name = "Bottom corrosion allowance"
	AnnularCorrosionAllowance        Name = "Annular corrosion allowance"
	IsolatedPitsCriticalZoneAndRing  Name = "Isolated pits, critical zone and ring"
	AnnularInterpolation             Name = "Annular interpolation"
	JointEfficiencyIfUnknown         Name = "Joint efficiency if unknown"
	HydrotestPlanned                 Name = "Hydrotest planned"
	ProjectionMinimum                Name = "Projection minimum"
	ThresholdStep                    Name = "Threshold step"
	ExtremeValueInInterval           Name = "Extreme value in interval"
	ExtremeValueSide                 Name = "Extreme value side"
	ExtremeValueMinimumBlocks        Name = "Extreme value minimum blocks"
	RepairThreshold                  Name = "Repair threshold"
	PatchThickness                   Name = "Patch thickness"
	PatchOverlap                     Name = "Patch overlap"
	PatchWeldClearance               Name = "Patch weld clearance"
	PatchMinimum                     Name = "Patch minimum"
	PatchMinimumOverWeld             Name = "Patch minimum over weld"
	PatchGap                         Name = "Patch gap"
	PatchSizeStep                    Name = "Patch size step"
	PatchCornerRadius                Name = "Patch corner radius"
	TombstoneDistance                Name = "Tombstone distance"
	CriticalPatchLength              Name = "Critical patch length"
	CriticalPatchThickness           Name = "Critical patch thickness"
	ReplacePlateAtPatchShare         Name = "Replace plate at patch share"
	ReplacePlateAtPatches            Name = "Replace plate at patches"
	StockSheets                      Name = "Stock sheets"
	Kerf                             Name = "Kerf"
	EdgeTrim                         Name = "Edge trim"
	SmallestOffcut                   Name = "Smallest offcut"
	SettlementCosineR2               Name = "Settlement cosine R2"
	EdgeLimitBe                      Name = "Edge limit Be"
	EdgeLimitBew                     Name = "Edge limit Bew"
	EdgeLimitRadius                  Name = "Edge limit radius"
	BulgeFactor                      Name = "Bulge factor"
	MatchingGate                     Name = "Matching gate"
	UTTolerance                      Name = "UT tolerance"
	NewPitGrowth                     Name = "New pit growth"
	LossBands                        Name = "Loss bands"
)

// Table lists every criterion in the order of the Criteria sheet.
var Table = []Definition{
	{Name: MinimumThickness, Kind: unit.Thickness, SI: "2.54", US: "0.10", Mark: Standard, Clause: "Table 4.4", Section: 5, Low: 0, High: 50, Help: "Required thickness of the floor at the next inspection where a leak is not detected and contained."},
	{Name: MinimumThicknessBarrier, Kind: unit.Thickness, SI: "1.27", US: "0.05", Mark: Standard, Clause: "Table 4.4", Section: 5, Low: 0, High: 50, Help: "The same with a release-prevention barrier that detects and contains a leak."},
	{Name: MinimumThicknessReinforcedLining, Kind: unit.Thickness, SI: "1.27", US: "0.05", Mark: Standard, Clause: "Table 4.4", Section: 5, Low: 0, High: 50, Help: "The same under a reinforced lining over 1.27 mm (0.05 in) that is still within its life."},
	{Name: ShortestAgeForARate, Kind: unit.Time, SI: "1", US: "1", Mark: Practice, Section: 4, Low: 0, High: 100, Help: "Metal younger than this gives no corrosion rate."},
	{Name: AgeForAReliableRate, Kind: unit.Time, SI: "5", US: "5", Mark: Practice, Section: 4, Low: 0, High: 100, Help: "A floor younger than this takes the initial interval rule."},
	{Name: LeastExaminedForARate, Kind: unit.Share, SI: "80", US: "80", Mark: Practice, Section: 4, Low: 0, High: 100, Help: "Less of the floor examined than this: the rate is unknown."},
	{Name: PlanningInterval, Kind: unit.Time, SI: "10", US: "10", Mark: Practice, Section: 10, Low: 0, High: 100, Help: "Years used to propose repairs when no Desired interval is given."},
	{Name: RateBasis, Shape: Choice, Words: []string{"floor", "plate"}, SI: "floor", US: "floor", Mark: Practice, Section: 4, Help: "floor: the worst rates of the floor meet its least thickness. plate: each plate by itself, the shortest wins."},
	{Name: RateAfterRepair, Shape: Choice, Words: []string{"as found", "recomputed"}, SI: "as found", US: "as found", Mark: Practice, Section: 4, Help: "Whether rates after repair stay as found or are taken from what remains."},
	{Name: SoilSideCauseRemoved, Shape: Choice, Words: []string{"yes", "no"}, SI: "no", US: "no", Mark: Practice, Section: 4, Help: "yes lets the soil-side rate be recomputed after repair."},
	{Name: ProductSideCauseRemoved, Shape: Choice, Words: []string{"yes", "no"}, SI: "no", US: "no", Mark: Practice, Section: 4, Help: "yes lets the product-side rate be recomputed after repair."},
	{Name: MinimumSoilSideRate, Kind: unit.RateKind, SI: "0", US: "0", Mark: Practice, Section: 4, Low: 0, High: 5, Help: "The soil-side rate is never taken below this."},
	{Name: MinimumProductSideRate, Kind: unit.RateKind, SI: "0", US: "0", Mark: Practice, Section: 4, Low: 0, High: 5, Help: "The product-side rate is never taken below this."},
	{Name: MillTolerance, Kind: unit.Thickness, SI: "0.25", US: "0.010", Mark: Practice, Section: 4, Low: 0, High: 50, Help: "Sound metal this close to nominal has no measurable loss."},
	{Name: MFLThreshold, Kind: unit.Share, SI: "20", US: "20", Mark: Practice, Section: 3, Low: 0, High: 100, Help: "Least loss the scan finds; shallower pits may be anywhere it was used. 0 switches the rule off."},
	{Name: ProveUpThreshold, Kind: unit.Share, SI: "40", US: "40", Mark: Practice, Section: 3, Low: 0, High: 100, Help: "From this estimated loss on, an ultrasonic prove-up is expected."},
	{Name: UnprovedIndications, Shape: Choice, Words: []string{"estimate minus allowance", "estimate", "exclude", "block"}, SI: "estimate minus allowance", US: "estimate minus allowance", Mark: Practice, Section: 3, Help: "How an MFL estimate without a prove-up counts."},
	{Name: SizingAllowance, Kind: unit.Points, SI: "10", US: "10", Mark: Practice, Section: 3, Low: 0, High: 50, Help: "Percentage points added to an unproved MFL loss."},
	{Name: SizingMinimumPairs, Shape: Whole, Kind: unit.Number, SI: "8", US: "8", Mark: Practice, Section: 3, Low: 1, High: 1000, Help: "From this many MFL and UT pairs on a nominal, the allowance comes from their regression."},
	{Name: RescanDifference, Kind: unit.Points, SI: "20", US: "20", Mark: Practice, Section: 8, Low: 0, High: 50, Help: "MFL and UT further apart than this count towards a rescan."},
	{Name: RescanCount, Shape: Whole, Kind: unit.Number, SI: "3", US: "3", Mark: Practice, Section: 8, Low: 1, High: 1000, Help: "This many such pairs on a plate ask for a rescan."},
	{Name: CrossCheckTolerance, Kind: unit.Share, SI: "5", US: "5", Mark: Practice, Section: 3, Low: 0, High: 100, Help: "Loss, Remaining and Depth of one row may differ by this share of nominal."},
	{Name: PositionTolerance, Kind: unit.Position, SI: "25", US: "1", Mark: Practice, Section: 2, Low: 0, High: 3000, Help: "Slack of a measured position."},
	{Name: AssumedIndicationSize, Kind: unit.Position, SI: "25", US: "1", Mark: Practice, Section: 2, Low: 0, High: 3000, Help: "Extent of an indication whose Length or Width is blank."},
	{Name: AreaBalance, Kind: unit.Share, SI: "2", US: "2", Mark: Practice, Section: 2, Low: 0, High: 100, Help: "Largest difference between the plates' area and the floor's."},
	{Name: CoatingLimit, Kind: unit.Coating, SI: "6000", US: "240", Mark: Practice, Section: 0, Low: 0, High: 3000, Help: "Thickest coating the scan is trusted through."},
	{Name: IntervalRule, Shape: Choice, Words: []string{"automatic", "initial", "subsequent"}, SI: "automatic", US: "automatic", Mark: Derived, Section: 5, Help: "Which cap applies; automatic: initial while the floor is younger than Age for a reliable rate."},
	{Name: IntervalBaseDate, Shape: Choice, Words: []string{"inspection end", "report date"}, SI: "inspection end", US: "inspection end", Mark: Practice, Section: 1, Help: "The day the interval counts from."},
	{Name: InitialInterval, Kind: unit.Time, SI: "10", US: "10", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Initial interval before credits."},
	{Name: CreditThinFilmLining, Kind: unit.Time, SI: "2", US: "2", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Years added to the initial interval for a thin film lining."},
	{Name: CreditReinforcedLining, Kind: unit.Time, SI: "5", US: "5", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Years added to the initial interval for a reinforced lining."},
	{Name: CreditCathodicProtection, Kind: unit.Time, SI: "5", US: "5", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Years added to the initial interval for cathodic protection recorded effective."},
	{Name: CreditBarrier, Kind: unit.Time, SI: "10", US: "10", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Years added to the initial interval for a release-prevention barrier."},
	{Name: IntervalCap, Kind: unit.Time, SI: "20", US: "20", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Longest interval without a release-prevention barrier."},
	{Name: IntervalCapWithBarrier, Kind: unit.Time, SI: "30", US: "30", Mark: Public, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Longest interval with a release-prevention barrier."},
	{Name: IntervalCapRateUnknown, Kind: unit.Time, SI: "10", US: "10", Mark: Standard, Clause: "6.4.2", Section: 5, Low: 0, High: 100, Help: "Longest interval when the corrosion rate is not known."},
	{Name: OwnerLimit, Kind: unit.Time, SI: "", US: "", Mark: Practice, Section: 5, Low: 0, High: 100, Help: "Longest interval the owner allows."},
	{Name: CriticalZoneWidth, Kind: unit.Position, SI: "76.2", US: "3", Mark: Standard, Clause: "4.4.5.4", Section: 2, Low: 0, High: 3000, Help: "Width of the critical zone from the inside of the shell."},
	{Name: BottomCorrosionAllowance, Kind: unit.Thickness, SI: "0", US: "0", Mark: Practice, Section: 5, Low: 0, High: 50, Help: "Corrosion allowance of the floor plates."},
	{Name: AnnularCorrosionAllowance, Kind: unit.Thickness, SI: "0", US: "0", Mark: Practice, Section: 6, Low: 0, High: 50, Help: "Corrosion allowance of the annular ring."},
	{Name: IsolatedPitsCriticalZoneAndRing, Shape: Choice, Words: []string{"count", "general requirement"}, SI: "count", US: "count", Mark: Memory, Clause: "4.4.5.4", Section: 6, Help: "Whether isolated pits are held against the requirement of the critical zone and the annular ring."},
	{Name: AnnularInterpolation, Shape: Choice, Words: []string{"next column", "linear"}, SI: "next column", US: "next column", Mark: Derived, Clause: "Table 4.5", Section: 6, Help: "How the annular thickness table is read between its columns."},
	{Name: JointEfficiencyIfUnknown, Kind: unit.None, SI: "0.70", US: "0.70", Mark: Public, Clause: "4.3.3.1", Section: 6, Low: 0, High: 1, Help: "Joint efficiency of the shell when Tank gives none."},
	{Name: HydrotestPlanned, Shape: Choice, Words: []string{"yes", "no"}, SI: "no", US: "no", Mark: Public, Clause: "4.3.3.1", Section: 6, Help: "yes: the specific gravity is taken as at least 1."},
	{Name: ProjectionMinimum, Kind: unit.Size, SI: "9.525", US: "0.375", Mark: Standard, Clause: "4.4.5.7", Section: 6, Low: 0, High: 3000, Help: "Least projection of the floor outside the shell."},
	{Name: ThresholdStep, Kind: unit.Thickness, SI: "0.25", US: "0.010", Mark: Practice, Section: 7, Low: 0, High: 50, Help: "Step of the table of repair thresholds."},
	{Name: ExtremeValueInInterval, Shape: Choice, Words: []string{"yes", "no"}, SI: "no", US: "no", Mark: Practice, Section: 9, Help: "Whether the extreme-value estimate of the area not examined enters the interval."},
	{Name: ExtremeValueSide, Shape: Choice, Words: []string{"soil", "product"}, SI: "soil", US: "soil", Mark: Practice, Section: 9, Help: "Side of the extreme-value estimate."},
	{Name: ExtremeValueMinimumBlocks, Shape: Whole, Kind: unit.Number, SI: "10", US: "10", Mark: Practice, Section: 9, Low: 1, High: 1000, Help: "Fewest plates for an extreme-value estimate."},
	{Name: RepairThreshold, Kind: unit.Thickness, SI: "", US: "", Mark: Practice, Section: 10, Low: 0, High: 50, Help: "Every location thinner than this is repaired."},
	{Name: PatchThickness, Kind: unit.Thickness, SI: "", US: "", Mark: Practice, Section: 10, Low: 0, High: 50, Help: "Thickness of new patches; blank: the plate's nominal."},
	{Name: PatchOverlap, Kind: unit.Size, SI: "50", US: "2", Mark: Public, Clause: "9.10.1.1", Section: 10, Low: 0, High: 3000, Help: "Patch beyond the corrosion on every side."},
	{Name: PatchWeldClearance, Kind: unit.Size, SI: "50", US: "2", Mark: Public, Clause: "9.10.1.1", Section: 10, Low: 0, High: 3000, Help: "Least distance of a patch weld to another weld."},
	{Name: PatchMinimum, Kind: unit.Size, SI: "150", US: "6", Mark: Public, Clause: "9.10.1.1", Section: 10, Low: 0, High: 3000, Help: "Least side of a patch."},
	{Name: PatchMinimumOverWeld, Kind: unit.Size, SI: "300", US: "12", Mark: Public, Clause: "9.10.1.1", Section: 10, Low: 0, High: 3000, Help: "Least side of a patch that covers a seam."},
	{Name: PatchGap, Kind: unit.Size, SI: "50", US: "2", Mark: Derived, Clause: "9.10.1.1", Section: 10, Low: 0, High: 3000, Help: "Patches nearer than this are merged."},
	{Name: PatchSizeStep, Kind: unit.Size, SI: "10", US: "0.5", Mark: Practice, Section: 10, Low: 0, High: 3000, Help: "Patch sizes are rounded up to this step."},
	{Name: PatchCornerRadius, Kind: unit.Size, SI: "50", US: "2", Mark: Practice, Section: 10, Low: 0, High: 3000, Help: "Radius of patch corners."},
	{Name: TombstoneDistance, Kind: unit.Size, SI: "150", US: "6", Mark: Standard, Clause: "9.10.1.2", Section: 10, Low: 0, High: 3000, Help: "A patch nearer to the shell than this is carried to it."},
	{Name: CriticalPatchLength, Kind: unit.Size, SI: "609.6", US: "24", Mark: Standard, Clause: "9.10.1.2", Section: 10, Low: 0, High: 3000, Help: "Longest patch along the shell in the critical zone."},
	{Name: CriticalPatchThickness, Kind: unit.Thickness, SI: "6.35", US: "0.25", Mark: Standard, Clause: "9.10.1.2", Section: 10, Low: 0, High: 50, Help: "Thickest patch in the critical zone."},
	{Name: ReplacePlateAtPatchShare, Kind: unit.Share, SI: "30", US: "30", Mark: Practice, Section: 10, Low: 0, High: 100, Help: "Over this share of its area patched, replacing the plate is proposed."},
	{Name: ReplacePlateAtPatches, Shape: Whole, Kind: unit.Number, SI: "6", US: "6", Mark: Practice, Section: 10, Low: 1, High: 1000, Help: "From this many patches on, replacing the plate is proposed."},
	{Name: StockSheets, Shape: List, Kind: unit.Size, SI: "1500x6000; 2000x6000; 2500x10000", US: "72x240; 96x240; 96x360", Mark: Practice, Section: 11, Help: "Sheet sizes the patches are cut from."},
	{Name: Kerf, Kind: unit.Size, SI: "3", US: "0.125", Mark: Practice, Section: 11, Low: 0, High: 3000, Help: "Width of a cut."},
	{Name: EdgeTrim, Kind: unit.Size, SI: "10", US: "0.375", Mark: Practice, Section: 11, Low: 0, High: 3000, Help: "Strip lost at each edge of a stock sheet."},
	{Name: SmallestOffcut, Kind: unit.Size, SI: "300", US: "12", Mark: Practice, Section: 11, Low: 0, High: 3000, Help: "Least side of a leftover piece worth keeping."},
	{Name: SettlementCosineR2, Kind: unit.None, SI: "0.90", US: "0.90", Mark: Memory, Clause: "Annex B", Section: 12, Low: 0, High: 1, Help: "Least fit of the cosine curve to the shell settlement."},
	{Name: EdgeLimitBe, Kind: unit.Settlement, SI: "", US: "", Mark: Public, Clause: "Annex B", Section: 12, Low: 0, High: 3000, Help: "Edge settlement allowed, weld parallel to the shell, read from the figure."},
	{Name: EdgeLimitBew, Kind: unit.Settlement, SI: "", US: "", Mark: Public, Clause: "Annex B", Section: 12, Low: 0, High: 3000, Help: "Edge settlement allowed, weld square to the shell, read from the figure."},
	{Name: EdgeLimitRadius, Kind: unit.Height, SI: "", US: "", Mark: Public, Clause: "Annex B", Section: 12, Low: 0, High: 75000, Help: "Radius at which the edge limits were read."},
	{Name: BulgeFactor, Kind: unit.Slope, SI: "30.833333", US: "0.37", Mark: Public, Clause: "Annex B", Section: 12, Low: 0, High: 1000, Help: "Allowed bulge or depression for each metre (foot) of its radius."},
	{Name: MatchingGate, Kind: unit.Position, SI: "125", US: "5", Mark: Practice, Section: 13, Low: 0, High: 3000, Help: "Indications further apart than this are not the same one."},
	{Name: UTTolerance, Kind: unit.Thickness, SI: "0.5", US: "0.020", Mark: Memory, Section: 13, Low: 0, High: 50, Help: "Uncertainty of one ultrasonic reading."},
	{Name: NewPitGrowth, Shape: Choice, Words: []string{"from threshold", "from zero"}, SI: "from threshold", US: "from threshold", Mark: Derived, Section: 13, Help: "Growth assumed of a pit that was not there last time."},
	{Name: LossBands, Shape: List, Kind: unit.Share, SI: "20; 40; 60; 80", US: "20; 40; 60; 80", Mark: Practice, Section: 14, Help: "Lower edges of the loss bands."},
}
