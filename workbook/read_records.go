package workbook

import "platebook/rules/inspection"

// slot ties a contract header to the field of a record that its cells fill.
// The field comes back as a pointer in an interface, which costs nothing per
// cell and needs no reflection.
type slot[T any] struct {
	header string
	of     func(*T) any
}

var tankSlots = []slot[inspection.Tank]{
	{"Report number", func(t *inspection.Tank) any { return &t.ReportNumber }},
	{"Revision", func(t *inspection.Tank) any { return &t.Revision }},
	{"Revision note", func(t *inspection.Tank) any { return &t.RevisionNote }},
	{"Report status", func(t *inspection.Tank) any { return &t.ReportStatus }},
	{"Client", func(t *inspection.Tank) any { return &t.Client }},
	{"Site", func(t *inspection.Tank) any { return &t.Site }},
	{"Tank", func(t *inspection.Tank) any { return &t.Tank }},
	{"Type of inspection", func(t *inspection.Tank) any { return &t.TypeOfInspection }},
	{"Reason for inspection", func(t *inspection.Tank) any { return &t.Reason }},
	{"Inspection start", func(t *inspection.Tank) any { return &t.InspectionStart }},
	{"Inspection end", func(t *inspection.Tank) any { return &t.InspectionEnd }},
	{"Report date", func(t *inspection.Tank) any { return &t.ReportDate }},
	{"Units", func(t *inspection.Tank) any { return &t.Units }},
	{"Product", func(t *inspection.Tank) any { return &t.Product }},
	{"Previous product", func(t *inspection.Tank) any { return &t.PreviousProduct }},
	{"Specific gravity", func(t *inspection.Tank) any { return &t.SpecificGravity }},
	{"Maximum fill height", func(t *inspection.Tank) any { return &t.MaximumFillHeight }},
	{"Commissioned", func(t *inspection.Tank) any { return &t.Commissioned }},
	{"Service change date", func(t *inspection.Tank) any { return &t.ServiceChange }},
	{"Previous internal inspection", func(t *inspection.Tank) any { return &t.PreviousInternalInspection }},
	{"Previous report number", func(t *inspection.Tank) any { return &t.PreviousReportNumber }},
	{"Previous workbook", func(t *inspection.Tank) any { return &t.PreviousWorkbook }},
	{"Diameter", func(t *inspection.Tank) any { return &t.Diameter }},
	{"Shell height", func(t *inspection.Tank) any { return &t.ShellHeight }},
	{"Construction standard", func(t *inspection.Tank) any { return &t.ConstructionStandard }},
	{"First-course thickness as built", func(t *inspection.Tank) any { return &t.FirstCourseAsBuilt }},
	{"First-course thickness now", func(t *inspection.Tank) any { return &t.FirstCourseNow }},
	{"First-course required thickness", func(t *inspection.Tank) any { return &t.FirstCourseRequired }},
	{"Shell steel", func(t *inspection.Tank) any { return &t.ShellSteel }},
	{"Allowable stress", func(t *inspection.Tank) any { return &t.AllowableStress }},
	{"Joint efficiency", func(t *inspection.Tank) any { return &t.JointEfficiency }},
	{"Nominal thickness", func(t *inspection.Tank) any { return &t.NominalThickness }},
	{"Floor installed", func(t *inspection.Tank) any { return &t.FloorInstalled }},
	{"Lap", func(t *inspection.Tank) any { return &t.Lap }},
	{"Floor slope", func(t *inspection.Tank) any { return &t.FloorSlope }},
	{"Foundation", func(t *inspection.Tank) any { return &t.Foundation }},
	{"Annular ring", func(t *inspection.Tank) any { return &t.AnnularRing }},
	{"Annular nominal thickness", func(t *inspection.Tank) any { return &t.AnnularNominal }},
	{"Annular width inside the shell", func(t *inspection.Tank) any { return &t.AnnularWidth }},
	{"Projection outside the shell", func(t *inspection.Tank) any { return &t.Projection }},
	{"Release-prevention barrier", func(t *inspection.Tank) any { return &t.ReleasePreventionBarrier }},
	{"Leak detection", func(t *inspection.Tank) any { return &t.LeakDetection }},
	{"Reinforced lining over 1.27 mm / 0.05 in", func(t *inspection.Tank) any { return &t.ReinforcedLining }},
	{"Lining", func(t *inspection.Tank) any { return &t.Lining }},
	{"Lining installed", func(t *inspection.Tank) any { return &t.LiningInstalled }},
	{"Lining expected life", func(t *inspection.Tank) any { return &t.LiningExpectedLife }},
	{"Cathodic protection", func(t *inspection.Tank) any { return &t.CathodicProtection }},
	{"Cathodic protection evidence", func(t *inspection.Tank) any { return &t.CathodicProtectionEvidence }},
	{"Plan up bearing", func(t *inspection.Tank) any { return &t.PlanUpBearing }},
	{"Plan view", func(t *inspection.Tank) any { return &t.PlanView }},
	{"Datum", func(t *inspection.Tank) any { return &t.Datum }},
	{"Desired interval", func(t *inspection.Tank) any { return &t.DesiredInterval }},
	{"Jurisdiction limit", func(t *inspection.Tank) any { return &t.JurisdictionLimit }},
	{"Owner instruction", func(t *inspection.Tank) any { return &t.OwnerInstruction }},
	{"Firm name", func(t *inspection.Tank) any { return &t.FirmName }},
	{"Firm address", func(t *inspection.Tank) any { return &t.FirmAddress }},
	{"Firm number or accreditation", func(t *inspection.Tank) any { return &t.FirmNumber }},
	{"Logo", func(t *inspection.Tank) any { return &t.Logo }},
	{"Page size", func(t *inspection.Tank) any { return &t.PageSize }},
	{"Prepared by", func(t *inspection.Tank) any { return &t.PreparedBy }},
	{"Reviewed by", func(t *inspection.Tank) any { return &t.ReviewedBy }},
	{"Responsible inspector", func(t *inspection.Tank) any { return &t.ResponsibleInspector }},
	{"Inspector number", func(t *inspection.Tank) any { return &t.InspectorNumber }},
	{"Prepared by date", func(t *inspection.Tank) any { return &t.PreparedDate }},
	{"Reviewed by date", func(t *inspection.Tank) any { return &t.ReviewedDate }},
	{"Responsible inspector date", func(t *inspection.Tank) any { return &t.InspectorDate }},
}

var plateSlots = []slot[inspection.Plate]{
	{"Plate", func(r *inspection.Plate) any { return &r.Label }},
	{"Type", func(r *inspection.Plate) any { return &r.Type }},
	{"Row", func(r *inspection.Plate) any { return &r.RowNo }},
	{"Position", func(r *inspection.Plate) any { return &r.Position }},
	{"Length", func(r *inspection.Plate) any { return &r.Length }},
	{"Width", func(r *inspection.Plate) any { return &r.Width }},
	{"Nominal", func(r *inspection.Plate) any { return &r.Nominal }},
	{"Installed", func(r *inspection.Plate) any { return &r.Installed }},
	{"Left", func(r *inspection.Plate) any { return &r.Left }},
	{"Bottom", func(r *inspection.Plate) any { return &r.Bottom }},
	{"Turned", func(r *inspection.Plate) any { return &r.Turned }},
	{"Start bearing", func(r *inspection.Plate) any { return &r.StartBearing }},
	{"End bearing", func(r *inspection.Plate) any { return &r.EndBearing }},
	{"Datum corner", func(r *inspection.Plate) any { return &r.DatumCorner }},
	{"Previous plate", func(r *inspection.Plate) any { return &r.PreviousPlate }},
	{"MFL scanned %", func(r *inspection.Plate) any { return &r.MFLScanned }},
	{"Hand scanned %", func(r *inspection.Plate) any { return &r.HandScanned }},
	{"UT gridded %", func(r *inspection.Plate) any { return &r.UTGridded }},
	{"Not examined %", func(r *inspection.Plate) any { return &r.NotExamined }},
	{"Reason not examined", func(r *inspection.Plate) any { return &r.ReasonNotExamined }},
	{"Coating", func(r *inspection.Plate) any { return &r.Coating }},
	{"Scanned by", func(r *inspection.Plate) any { return &r.ScannedBy }},
	{"Scan date", func(r *inspection.Plate) any { return &r.ScanDate }},
	{"Instrument", func(r *inspection.Plate) any { return &r.Instrument }},
	{"Remarks", func(r *inspection.Plate) any { return &r.Remarks }},
}

var indicationSlots = []slot[inspection.Indication]{
	{"ID", func(r *inspection.Indication) any { return &r.ID }},
	{"Plate", func(r *inspection.Indication) any { return &r.Plate }},
	{"X", func(r *inspection.Indication) any { return &r.X }},
	{"Y", func(r *inspection.Indication) any { return &r.Y }},
	{"Length", func(r *inspection.Indication) any { return &r.Length }},
	{"Width", func(r *inspection.Indication) any { return &r.Width }},
	{"Side", func(r *inspection.Indication) any { return &r.Side }},
	{"Method", func(r *inspection.Indication) any { return &r.Method }},
	{"Loss %", func(r *inspection.Indication) any { return &r.Loss }},
	{"Remaining", func(r *inspection.Indication) any { return &r.Remaining }},
	{"Depth", func(r *inspection.Indication) any { return &r.Depth }},
	{"Kind", func(r *inspection.Indication) any { return &r.Kind }},
	{"By", func(r *inspection.Indication) any { return &r.By }},
	{"Date", func(r *inspection.Indication) any { return &r.Date }},
	{"Photo", func(r *inspection.Indication) any { return &r.Photo }},
	{"Remarks", func(r *inspection.Indication) any { return &r.Remarks }},
}

var proveUpSlots = []slot[inspection.ProveUp]{
	{"ID", func(r *inspection.ProveUp) any { return &r.ID }},
	{"Indication", func(r *inspection.ProveUp) any { return &r.Indication }},
	{"Plate", func(r *inspection.ProveUp) any { return &r.Plate }},
	{"X", func(r *inspection.ProveUp) any { return &r.X }},
	{"Y", func(r *inspection.ProveUp) any { return &r.Y }},
	{"Remaining", func(r *inspection.ProveUp) any { return &r.Remaining }},
	{"Depth", func(r *inspection.ProveUp) any { return &r.Depth }},
	{"Sound thickness", func(r *inspection.ProveUp) any { return &r.Sound }},
	{"Side", func(r *inspection.ProveUp) any { return &r.Side }},
	{"Through coating", func(r *inspection.ProveUp) any { return &r.ThroughCoating }},
	{"By", func(r *inspection.ProveUp) any { return &r.By }},
	{"Date", func(r *inspection.ProveUp) any { return &r.Date }},
	{"Instrument", func(r *inspection.ProveUp) any { return &r.Instrument }},
	{"Remarks", func(r *inspection.ProveUp) any { return &r.Remarks }},
}

var readingSlots = []slot[inspection.Reading]{
	{"Plate", func(r *inspection.Reading) any { return &r.Plate }},
	{"X", func(r *inspection.Reading) any { return &r.X }},
	{"Y", func(r *inspection.Reading) any { return &r.Y }},
	{"Thickness", func(r *inspection.Reading) any { return &r.Thickness }},
	{"By", func(r *inspection.Reading) any { return &r.By }},
	{"Date", func(r *inspection.Reading) any { return &r.Date }},
	{"Instrument", func(r *inspection.Reading) any { return &r.Instrument }},
	{"Remarks", func(r *inspection.Reading) any { return &r.Remarks }},
}

var trackSlots = []slot[inspection.Track]{
	{"Plate", func(r *inspection.Track) any { return &r.Plate }},
	{"Track", func(r *inspection.Track) any { return &r.Track }},
	{"Offset", func(r *inspection.Track) any { return &r.Offset }},
	{"Strip width", func(r *inspection.Track) any { return &r.Width }},
	{"Start", func(r *inspection.Track) any { return &r.Start }},
	{"End", func(r *inspection.Track) any { return &r.End }},
	{"Largest loss %", func(r *inspection.Track) any { return &r.LargestLoss }},
	{"By", func(r *inspection.Track) any { return &r.By }},
	{"Date", func(r *inspection.Track) any { return &r.Date }},
}

var photoSlots = []slot[inspection.Photo]{
	{"File", func(r *inspection.Photo) any { return &r.File }},
	{"Plate", func(r *inspection.Photo) any { return &r.Plate }},
	{"X", func(r *inspection.Photo) any { return &r.X }},
	{"Y", func(r *inspection.Photo) any { return &r.Y }},
	{"Indication", func(r *inspection.Photo) any { return &r.Indication }},
	{"Direction", func(r *inspection.Photo) any { return &r.Direction }},
	{"Caption", func(r *inspection.Photo) any { return &r.Caption }},
}

var visualSlots = []slot[inspection.Visual]{
	{"ID", func(r *inspection.Visual) any { return &r.ID }},
	{"Plate", func(r *inspection.Visual) any { return &r.Plate }},
	{"X", func(r *inspection.Visual) any { return &r.X }},
	{"Y", func(r *inspection.Visual) any { return &r.Y }},
	{"Item", func(r *inspection.Visual) any { return &r.Item }},
	{"Observation", func(r *inspection.Visual) any { return &r.Observation }},
	{"Weight", func(r *inspection.Visual) any { return &r.Weight }},
	{"Photo", func(r *inspection.Visual) any { return &r.Photo }},
}

var weldSlots = []slot[inspection.Weld]{
	{"ID", func(r *inspection.Weld) any { return &r.ID }},
	{"Seam", func(r *inspection.Weld) any { return &r.Seam }},
	{"X", func(r *inspection.Weld) any { return &r.X }},
	{"Y", func(r *inspection.Weld) any { return &r.Y }},
	{"Bearing", func(r *inspection.Weld) any { return &r.Bearing }},
	{"Method", func(r *inspection.Weld) any { return &r.Method }},
	{"Tested length", func(r *inspection.Weld) any { return &r.TestedLength }},
	{"Result", func(r *inspection.Weld) any { return &r.Result }},
	{"Defect", func(r *inspection.Weld) any { return &r.Defect }},
	{"Defect length", func(r *inspection.Weld) any { return &r.DefectLength }},
	{"By", func(r *inspection.Weld) any { return &r.By }},
	{"Date", func(r *inspection.Weld) any { return &r.Date }},
	{"Photo", func(r *inspection.Weld) any { return &r.Photo }},
	{"Remarks", func(r *inspection.Weld) any { return &r.Remarks }},
}

var fixtureSlots = []slot[inspection.Fixture]{
	{"Name", func(r *inspection.Fixture) any { return &r.Name }},
	{"Kind", func(r *inspection.Fixture) any { return &r.Kind }},
	{"Bearing", func(r *inspection.Fixture) any { return &r.Bearing }},
	{"Radius", func(r *inspection.Fixture) any { return &r.Radius }},
	{"Length", func(r *inspection.Fixture) any { return &r.Length }},
	{"Width", func(r *inspection.Fixture) any { return &r.Width }},
	{"Diameter", func(r *inspection.Fixture) any { return &r.Diameter }},
	{"Pad", func(r *inspection.Fixture) any { return &r.Pad }},
	{"Remarks", func(r *inspection.Fixture) any { return &r.Remarks }},
}

var patchSlots = []slot[inspection.Patch]{
	{"Patch", func(r *inspection.Patch) any { return &r.Label }},
	{"Plate", func(r *inspection.Patch) any { return &r.Plate }},
	{"X", func(r *inspection.Patch) any { return &r.X }},
	{"Y", func(r *inspection.Patch) any { return &r.Y }},
	{"Length", func(r *inspection.Patch) any { return &r.Length }},
	{"Width", func(r *inspection.Patch) any { return &r.Width }},
	{"Thickness", func(r *inspection.Patch) any { return &r.Thickness }},
	{"Installed", func(r *inspection.Patch) any { return &r.Installed }},
	{"Shape", func(r *inspection.Patch) any { return &r.Shape }},
}

var repairSlots = []slot[inspection.Repair]{
	{"Repair", func(r *inspection.Repair) any { return &r.Label }},
	{"Kind", func(r *inspection.Repair) any { return &r.Kind }},
	{"Plate", func(r *inspection.Repair) any { return &r.Plate }},
	{"X", func(r *inspection.Repair) any { return &r.X }},
	{"Y", func(r *inspection.Repair) any { return &r.Y }},
	{"Length", func(r *inspection.Repair) any { return &r.Length }},
	{"Width", func(r *inspection.Repair) any { return &r.Width }},
	{"Thickness", func(r *inspection.Repair) any { return &r.Thickness }},
	{"Shape", func(r *inspection.Repair) any { return &r.Shape }},
	{"Indications", func(r *inspection.Repair) any { return &r.Indications }},
	{"Status", func(r *inspection.Repair) any { return &r.Status }},
	{"Completed", func(r *inspection.Repair) any { return &r.Completed }},
	{"Retest", func(r *inspection.Repair) any { return &r.Retest }},
	{"Remarks", func(r *inspection.Repair) any { return &r.Remarks }},
}

var surveySlots = []slot[inspection.Survey]{
	{"Kind", func(r *inspection.Survey) any { return &r.Kind }},
	{"Point", func(r *inspection.Survey) any { return &r.Point }},
	{"Bearing", func(r *inspection.Survey) any { return &r.Bearing }},
	{"Elevation", func(r *inspection.Survey) any { return &r.Elevation }},
	{"Radius", func(r *inspection.Survey) any { return &r.Radius }},
	{"Measured", func(r *inspection.Survey) any { return &r.Measured }},
	{"Weld angle", func(r *inspection.Survey) any { return &r.WeldAngle }},
	{"Remarks", func(r *inspection.Survey) any { return &r.Remarks }},
}

var personSlots = []slot[inspection.Person]{
	{"Name", func(r *inspection.Person) any { return &r.Name }},
	{"Employer", func(r *inspection.Person) any { return &r.Employer }},
	{"Method", func(r *inspection.Person) any { return &r.Method }},
	{"Level", func(r *inspection.Person) any { return &r.Level }},
	{"Certificate", func(r *inspection.Person) any { return &r.Certificate }},
	{"Valid until", func(r *inspection.Person) any { return &r.ValidUntil }},
}

var instrumentSlots = []slot[inspection.Instrument]{
	{"Instrument", func(r *inspection.Instrument) any { return &r.Name }},
	{"Kind", func(r *inspection.Instrument) any { return &r.Kind }},
	{"Serial", func(r *inspection.Instrument) any { return &r.Serial }},
	{"Calibration due", func(r *inspection.Instrument) any { return &r.CalibrationDue }},
	{"Reference plate thickness", func(r *inspection.Instrument) any { return &r.Reference }},
}

var checkSlots = []slot[inspection.InstrumentCheck]{
	{"Instrument", func(r *inspection.InstrumentCheck) any { return &r.Instrument }},
	{"Date", func(r *inspection.InstrumentCheck) any { return &r.Date }},
	{"Shift", func(r *inspection.InstrumentCheck) any { return &r.Shift }},
	{"Reference plate thickness", func(r *inspection.InstrumentCheck) any { return &r.Reference }},
	{"Result", func(r *inspection.InstrumentCheck) any { return &r.Result }},
	{"By", func(r *inspection.InstrumentCheck) any { return &r.By }},
}

var sectionSlots = []slot[inspection.Section]{
	{"Section", func(r *inspection.Section) any { return &r.Name }},
	{"Include", func(r *inspection.Section) any { return &r.Include }},
	{"Text", func(r *inspection.Section) any { return &r.Text }},
}

// givenAnswer is a row of the Answers sheet before its texts are taken over.
type givenAnswer struct {
	inspection.Row
	findings inspection.Labels
	answer   inspection.Text
	by       inspection.Text
	date     inspection.Date
	until    inspection.Date
}

var answerSlots = []slot[givenAnswer]{
	{"Finding", func(r *givenAnswer) any { return &r.findings }},
	{"Answer", func(r *givenAnswer) any { return &r.answer }},
	{"By", func(r *givenAnswer) any { return &r.by }},
	{"Date", func(r *givenAnswer) any { return &r.date }},
	{"Until", func(r *givenAnswer) any { return &r.until }},
}
