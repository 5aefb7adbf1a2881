package workbook

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"platebook/rules/criteria"
	"platebook/rules/finding"
	"platebook/rules/inspection"
	"platebook/rules/unit"
	"platebook/workbook/beside"
	"platebook/workbook/xlsx"
)

// ResultsProperty is the custom document property that names the program's
// own sheets in a results workbook, divided by slashes, which no sheet name
// can hold.
const ResultsProperty = "platebook results"

// Options is what a person says beside the workbook.
type Options struct {
	AsOf unit.Date // time base in place of the Report date; none: the Report date

	Unprinted func(text string) []rune // the letters that the report cannot print; nil: not known
}

// Book is a workbook that was read: what it says, what is wrong with it, and
// the file for whoever writes results into a copy.
type Book struct {
	Inspection *inspection.Inspection
	Hits       []finding.Hit
	File       *xlsx.Book
	Results    []string // the program's own sheets in it, which a new run replaces

	Recorded *Recorded // how those were made, in a workbook that was opened to be run again
}

// Read reads one workbook in one pass. The error is a *finding.Unusable when
// the file cannot be used at all; otherwise everything wrong is in the hits
// and everything good in the inspection.
func Read(ctx context.Context, path string, opt Options) (*inspection.Inspection, []finding.Hit, error) {
	b, err := Open(ctx, path, opt)
	if err != nil {
		return nil, nil, err
	}
	return b.Inspection, b.Hits, nil
}

// Open is Read for callers that also write into a copy of the workbook.
func Open(ctx context.Context, path string, opt Options) (*Book, error) {
	file, err := xlsx.Open(path)
	if err != nil {
		return nil, err
	}
	return read(ctx, file, opt)
}

// OpenBytes is Open for a file that is in memory already.
func OpenBytes(ctx context.Context, name string, data []byte, opt Options) (*Book, error) {
	file, err := xlsx.OpenBytes(name, data)
	if err != nil {
		return nil, err
	}
	return read(ctx, file, opt)
}

// reader is one workbook being read.
type reader struct {
	book       *xlsx.Book
	words      language
	ins        *inspection.Inspection
	unitsKnown bool
	tables     map[string]*table // by contract name
	hits       []finding.Hit
	unusable   *finding.Unusable
	unprinted  func(text string) []rune
}

func (r *reader) hit(h finding.Hit) { r.hits = append(r.hits, h) }

func read(ctx context.Context, file *xlsx.Book, opt Options) (*Book, error) {
	r := newReader(file)
	r.unprinted = opt.Unprinted
	results := resultSheets(file)
	r.ins.File.Results = len(results) > 0
	tabs, findings, err := r.openTabs(ctx, results)
	if err != nil {
		return nil, err
	}
	if err := r.readTabs(ctx, tabs, findings, opt); err != nil {
		return nil, err
	}
	if r.ins.File.ValuesSHA256, err = r.valuesHash(tabs); err != nil {
		return nil, err
	}
	file.Release(results...) // all that is needed of the person's cells has been read
	return &Book{Inspection: r.ins, Hits: r.hits, File: file, Results: results}, nil
}

func newReader(file *xlsx.Book) *reader {
	return &reader{book: file, words: newLanguage(), tables: map[string]*table{}, ins: &inspection.Inspection{
		File: inspection.File{
			Name: file.Name, Dir: filepath.Dir(file.Path), SHA256: file.SHA256,
			Date1904: file.Date1904, Macros: file.Macros,
		},
	}}
}

// readTabs makes an inspection of the sheets' cells.
func (r *reader) readTabs(ctx context.Context, tabs []tab, findings *tab, opt Options) error {
	r.recognise(tabs)
	if r.unusable != nil {
		return r.unusable
	}
	for i := range tabs {
		t := &tabs[i]
		if t.def == nil || !t.def.Items {
			continue
		}
		if t.header = r.words.header(t.def, t.grid); t.header.known < 2 {
			r.noHeader(t)
			continue
		}
		r.readTank(*t)
	}
	r.ins.Criteria = criteria.Defaults(r.ins.Units)
	if err := r.readTables(ctx, tabs); err != nil {
		return err
	}
	if findings != nil {
		r.ins.Answers = append(r.ins.Answers, answersInFindings(findings.sheet.Name, findings.grid, r.book.Date1904)...)
	}
	r.ins.AsOf = opt.AsOf
	if r.ins.AsOf == 0 && r.ins.Tank.ReportDate.OK() {
		r.ins.AsOf = r.ins.Tank.ReportDate.Value
	}
	r.gather(tabs)
	r.otherJobs(tabs)
	r.aboutFile()
	return nil
}

// resultSheets are the sheets in the workbook that the program wrote.
func resultSheets(file *xlsx.Book) []string {
	var names []string
	for _, name := range strings.Split(file.Property(ResultsProperty), "/") {
		if name != "" && file.Sheet(name) != nil && resultName(name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return unmarkedResults(file)
	}
	return names
}

// openTabs reads the cells of every sheet but the program's own; of those
// only Findings, for the answers in it.
func (r *reader) openTabs(ctx context.Context, results []string) (tabs []tab, findings *tab, err error) {
	own := map[string]bool{}
	for _, name := range results {
		own[name] = true
	}
	for _, s := range r.book.Sheets {
		switch {
		case !own[s.Name]:
			tabs = append(tabs, tab{sheet: s})
		case foldHeader(s.Name) == "findings":
			findings = &tab{sheet: s}
		}
	}
	all := make([]*tab, 0, len(tabs)+1)
	for i := range tabs {
		all = append(all, &tabs[i])
	}
	if findings != nil {
		all = append(all, findings)
	}
	errs := make([]error, len(all))
	beside.Run(ctx, len(all), func(i int) { all[i].grid, errs[i] = all[i].sheet.Read() })
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, nil, err
		}
	}
	return tabs, findings, nil
}

// readTables reads all sheets but the item list.
func (r *reader) readTables(ctx context.Context, tabs []tab) error {
	var tables []*table
	for i := range tabs {
		t := &tabs[i]
		if t.def == nil || t.def.Items {
			continue
		}
		if t.header = r.words.header(t.def, t.grid); t.header.known < 2 {
			r.noHeader(t)
			continue
		}
		tables = append(tables, r.newTable(*t))
	}
	beside.Run(ctx, len(tables), func(i int) { tables[i].prepare() })
	if err := ctx.Err(); err != nil {
		return err
	}
	home := homes{}
	for _, t := range tables {
		r.tables[t.def.Name] = t
		if name := map[string]string{"Plates": "Plate", "Instruments": "Instrument"}[t.def.Name]; name != "" {
			home[name] = t.spellings(name)
		}
	}
	answers := make([]inspection.Answer, 0)
	beside.Run(ctx, len(tables), func(i int) {
		tables[i].nameRows(home)
		r.readRecords(ctx, tables[i], &answers)
	})
	r.ins.Answers = answers
	return ctx.Err()
}

// spellings gives the labels of a home sheet as they are typed there.
func (t *table) spellings(header string) map[string]string {
	c := t.named(header)
	m := make(map[string]string, len(t.rows))
	for i := range t.rows {
		if text := keyText(t.rows[i].Cell(c.col).Raw, t.date1904); c.col > 0 && text != "" {
			if f := inspection.Fold(text); m[f] == "" {
				m[f] = text
			}
		}
	}
	return m
}

// readRecords reads one table into its own part of the inspection.
func (r *reader) readRecords(ctx context.Context, t *table, answers *[]inspection.Answer) {
	in := r.ins
	switch t.def.Name {
	case "Plates":
		in.Plates = readTable(ctx, t, plateSlots, func(p *inspection.Plate) *inspection.Row { return &p.Row })
		t.mixedCoverage(in.Plates)
	case "Indications":
		in.Indications = readTable(ctx, t, indicationSlots, func(p *inspection.Indication) *inspection.Row { return &p.Row })
		t.mixedPercents("Loss %", func(n int) bool {
			m := in.Indications[n].Method
			return inspection.Is(m, "MFL") || inspection.Is(m, "hand scan")
		}, func(n int) *inspection.Percent { return &in.Indications[n].Loss })
	case "Prove-ups":
		in.ProveUps = readTable(ctx, t, proveUpSlots, func(p *inspection.ProveUp) *inspection.Row { return &p.Row })
	case "Readings":
		in.Readings = readTable(ctx, t, readingSlots, func(p *inspection.Reading) *inspection.Row { return &p.Row })
	case "Tracks":
		in.Tracks = readTable(ctx, t, trackSlots, func(p *inspection.Track) *inspection.Row { return &p.Row })
		t.mixedPercents("Largest loss %", func(int) bool { return true },
			func(n int) *inspection.Percent { return &in.Tracks[n].LargestLoss })
	case "Photos":
		in.Photos = readTable(ctx, t, photoSlots, func(p *inspection.Photo) *inspection.Row { return &p.Row })
	case "Visual":
		in.Visual = readTable(ctx, t, visualSlots, func(p *inspection.Visual) *inspection.Row { return &p.Row })
	case "Welds":
		in.Welds = readTable(ctx, t, weldSlots, func(p *inspection.Weld) *inspection.Row { return &p.Row })
	case "Fixtures":
		in.Fixtures = readTable(ctx, t, fixtureSlots, func(p *inspection.Fixture) *inspection.Row { return &p.Row })
	case "Existing patches":
		in.Patches = readTable(ctx, t, patchSlots, func(p *inspection.Patch) *inspection.Row { return &p.Row })
	case "Planned repairs":
		in.Repairs = readTable(ctx, t, repairSlots, func(p *inspection.Repair) *inspection.Row { return &p.Row })
	case "Settlement":
		in.Settlement = readTable(ctx, t, surveySlots, func(p *inspection.Survey) *inspection.Row { return &p.Row })
	case "Crew":
		in.Crew = readTable(ctx, t, personSlots, func(p *inspection.Person) *inspection.Row { return &p.Row })
	case "Instruments":
		in.Instruments = readTable(ctx, t, instrumentSlots, func(p *inspection.Instrument) *inspection.Row { return &p.Row })
	case "Checks":
		in.Checks = readTable(ctx, t, checkSlots, func(p *inspection.InstrumentCheck) *inspection.Row { return &p.Row })
	case "Criteria":
		readCriteria(t, in.Criteria)
	case "Report":
		in.Sections = readTable(ctx, t, sectionSlots, func(p *inspection.Section) *inspection.Row { return &p.Row })
	case "Answers":
		*answers = takeAnswers(readTable(ctx, t, answerSlots, func(p *givenAnswer) *inspection.Row { return &p.Row }))
	default:
		panic("workbook: no records for sheet " + t.def.Name)
	}
}

// noHeader reports a sheet whose headers are lost. An optional sheet without
// a single cell is as good as absent.
func (r *reader) noHeader(t *tab) {
	if len(t.grid.Rows) == 0 && !t.def.Required {
		return
	}
	r.hit(finding.Hit{
		Rule: "S106", Kind: t.def.Name, Ref: finding.Ref{Sheet: t.sheet.Name},
		Message: fmt.Sprintf("no headers in rows 1–%d", headerRows),
	})
}
