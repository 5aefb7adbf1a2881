package inspection

import (
	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/unit"
)

// Inspection is everything read from one workbook.
type Inspection struct {
	File        File
	Units       unit.System
	Tank        Tank
	Criteria    *criteria.Set
	Plates      []Plate
	Indications []Indication
	ProveUps    []ProveUp
	Readings    []Reading
	Tracks      []Track
	Photos      []Photo
	Visual      []Visual
	Welds       []Weld
	Fixtures    []Fixture
	Patches     []Patch  // existing
	Repairs     []Repair // planned
	Settlement  []Survey
	Crew        []Person
	Instruments []Instrument
	Checks      []InstrumentCheck
	Sections    []Section // Report sheet
	Answers     []Answer
	Sheets      []Sheet   // the recognised input sheets, in workbook order
	AsOf        unit.Date // time base: the Report date, or what the person gave in its place
}

// File identifies the input.
type File struct {
	Name         string // base name
	Dir          string // for photos; never printed
	SHA256       string // of the file
	ValuesSHA256 string // of the read values, independent of styles and zip order
	Date1904     bool
	Macros       bool
	Results      bool // a results workbook
}

// Sheet is a recognised sheet: where its header row and columns stand.
type Sheet struct {
	Kind    string            // contract name: Prove-ups
	Name    string            // as the workbook spells it
	Header  int               // header row, 0 for Tank-like item lists
	Columns map[string]Column // by contract header without unit
	LastRow int
	Rows    int // data rows
}

// Column is a recognised column.
type Column struct {
	Col    int
	Header string  // as typed
	Unit   string  // as typed, "" when the workbook's Units decide
	Scale  float64 // stored value per number in the column
}

// Sheet is the recognised sheet of a contract name, nil when absent.
func (i *Inspection) Sheet(kind string) *Sheet {
	for n := range i.Sheets {
		if i.Sheets[n].Kind == kind {
			return &i.Sheets[n]
		}
	}
	return nil
}

// HeaderRef is the place of a column's header, or the sheet without it.
func (i *Inspection) HeaderRef(kind, column string) finding.Ref {
	s := i.Sheet(kind)
	if s == nil {
		return finding.Ref{}
	}
	if c, ok := s.Columns[column]; ok {
		return finding.Ref{Sheet: s.Name, Col: c.Col, Row: s.Header}
	}
	return finding.Ref{Sheet: s.Name}
}

// Tank is the Tank sheet, item by item.
type Tank struct {
	ReportNumber, Revision, RevisionNote Text
	ReportStatus                         Word // preliminary, draft, final
	Client, Site, Tank                   Text
	TypeOfInspection, Reason             Text
	InspectionStart, InspectionEnd       Date
	ReportDate                           Date
	Units                                Word

	Product, PreviousProduct   Text
	SpecificGravity            Ratio
	MaximumFillHeight          Length
	Commissioned               Date
	ServiceChange              Date
	PreviousInternalInspection Date
	PreviousReportNumber       Text
	PreviousWorkbook           Text

	Diameter, ShellHeight Length
	ConstructionStandard  Text
	FirstCourseAsBuilt    Length
	FirstCourseNow        Length
	FirstCourseRequired   Length
	ShellSteel            Word
	AllowableStress       Stress
	JointEfficiency       Ratio

	NominalThickness           Length
	FloorInstalled             Date
	Lap                        Length
	FloorSlope                 Word
	Foundation                 Text
	AnnularRing                Word
	AnnularNominal             Length
	AnnularWidth               Length
	Projection                 Length
	ReleasePreventionBarrier   Word
	LeakDetection              Word
	ReinforcedLining           Word
	Lining                     Word // none, thin film, reinforced
	LiningInstalled            Date
	LiningExpectedLife         Years
	CathodicProtection         Word // none, installed, recorded effective
	CathodicProtectionEvidence Text

	PlanUpBearing Angle
	PlanView      Word
	Datum         Text

	DesiredInterval   Years
	JurisdictionLimit Years
	OwnerInstruction  Text

	FirmName, FirmAddress, FirmNumber, Logo Text
	PageSize                                Word

	PreparedBy, ReviewedBy, ResponsibleInspector, InspectorNumber Text
	PreparedDate, ReviewedDate, InspectorDate                     Date
}

// Plate is one row of Plates.
type Plate struct {
	Row
	Label                                           Label
	Type                                            Word // rectangular, sketch, annular, sump
	RowNo, Position                                 Label
	Length, Width, Nominal                          Length
	Installed                                       Date
	Left, Bottom                                    Length
	Turned                                          Angle
	StartBearing, EndBearing                        Angle
	DatumCorner                                     Word // bottom left, bottom right, top left, top right
	PreviousPlate                                   Label
	MFLScanned, HandScanned, UTGridded, NotExamined Percent
	ReasonNotExamined                               Text
	Coating                                         Length
	ScannedBy                                       Text
	ScanDate                                        Date
	Instrument                                      Text
	Remarks                                         Text
}

// Indication is one row of Indications.
type Indication struct {
	Row
	ID, Plate      Label
	X, Y           Length
	Length, Width  Length
	Side           Word // product, soil, unknown
	Method         Word // MFL, hand scan, UT, visual
	Loss           Percent
	Remaining      Length
	Depth          Length
	Kind           Word // pit, cluster, general, groove, mechanical, not relevant
	By             Text
	Date           Date
	Photo, Remarks Text
}

// ProveUp is one row of Prove-ups.
type ProveUp struct {
	Row
	ID, Indication, Plate Label
	X, Y                  Length
	Remaining, Depth      Length
	Sound                 Length
	Side                  Word
	ThroughCoating        Word
	By                    Text
	Date                  Date
	Instrument, Remarks   Text
}

// Reading is one row of Readings.
type Reading struct {
	Row
	Plate               Label
	X, Y                Length
	Thickness           Length
	By                  Text
	Date                Date
	Instrument, Remarks Text
}

// Track is one scan strip.
type Track struct {
	Row
	Plate, Track  Label
	Offset, Width Length
	Start, End    Length
	LargestLoss   Percent
	By            Text
	Date          Date
}

// Photo is one row of Photos.
type Photo struct {
	Row
	File, Plate Label
	X, Y        Length
	Indication  Label
	Direction   Text
	Caption     Text
}

// Visual is one visual observation.
type Visual struct {
	Row
	ID, Plate   Label
	X, Y        Length
	Item        Word
	Observation Text
	Weight      Word
	Photo       Text
}

// Weld is one weld examination.
type Weld struct {
	Row
	ID           Label
	Seam         Label
	X, Y         Length
	Bearing      Angle
	Method       Word
	TestedLength Length
	Result       Word
	Defect       Text
	DefectLength Length
	By           Text
	Date         Date
	Photo        Text
	Remarks      Text
}

// Fixture is a sump, column, manway, nozzle or support.
type Fixture struct {
	Row
	Name          Label
	Kind          Word
	Bearing       Angle
	Radius        Length
	Length, Width Length
	Diameter      Length
	Pad           Word
	Remarks       Text
}

// Patch is a patch found on the floor.
type Patch struct {
	Row
	Label, Plate  Label
	X, Y          Length
	Length, Width Length
	Thickness     Length
	Installed     Date
	Shape         Word // rounded rectangle, circle, tombstone
}

// Repair is one row of Planned repairs.
type Repair struct {
	Row
	Label         Label
	Kind          Word // patch, weld build-up, replace plate, line
	Plate         Label
	X, Y          Length
	Length, Width Length
	Thickness     Length
	Shape         Word
	Indications   Labels
	Status        Word // planned, completed
	Completed     Date
	Retest        Text
	Remarks       Text
}

// Survey is one settlement point.
type Survey struct {
	Row
	Kind      Word // shell, edge, bulge, depression
	Point     Label
	Bearing   Angle
	Elevation Length
	Radius    Length
	Measured  Length
	WeldAngle Angle
	Remarks   Text
}

// Person is one certificate of one person.
type Person struct {
	Row
	Name, Employer Text
	Method         Word
	Level          Text
	Certificate    Text
	ValidUntil     Date
}

// Instrument is one row of Instruments.
type Instrument struct {
	Row
	Name           Label
	Kind           Word
	Serial         Text
	CalibrationDue Date
	Reference      Length
}

// InstrumentCheck is one function check.
type InstrumentCheck struct {
	Row
	Instrument Label
	Date       Date
	Shift      Word
	Reference  Length
	Result     Word
	By         Text
}

// Section is one row of the Report sheet.
type Section struct {
	Row
	Name    Text
	Include Word
	Text    Text
}

// Answer is one answer to one or several findings.
type Answer struct {
	Row
	Findings Labels
	Answer   Text
	By       Text
	Date     Date
	Until    Date
	Value    string   // value as typed beside an answer given in Findings
	Values   []string // those of each of the keys, when the answer stands for several
	InSheet  bool     // given in the Findings sheet of a results workbook
}
