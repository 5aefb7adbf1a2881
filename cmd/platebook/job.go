package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"golang.org/x/sync/errgroup"

	"platebook/render/html"
	"platebook/render/lettering"
	"platebook/render/pdf"
	"platebook/render/photo"
	"platebook/render/report"
	"platebook/render/text"
	"platebook/rules"
	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/save"
)

// job is one workbook on its way from file to outputs.
type job struct {
	t    *talk
	path string
	asOf unit.Date // 0: the report date
	book *workbook.Book
	a    *rules.Assessment
	past past

	beside int // jobs at work at the same time, 0 for this one alone

	target string   // the results workbook to be written: answers in it are carried on; "" for none
	kept   string   // why an earlier file at the target is left as it is
	theirs []string // outputs of another tank at the targets, which are left too
	before []string // outputs of other jobs of this command, likewise

	wrote []string // its outputs

	found bool // in a folder, not named by a person: what an earlier run wrote is not taken

	album  *album
	photos photo.Purpose
	unseen int // photos that a reviewed workbook names, when none is beside it
}

// open reads the workbook.
func (j *job) open(ctx context.Context) error {
	start := time.Now()
	book, err := workbook.Open(ctx, j.path, workbook.Options{AsOf: j.asOf, Unprinted: unprinted})
	if err != nil {
		return err
	}
	j.book = book
	in := book.Inspection
	j.t.detail("%s: read in %s", filepath.Base(j.path), since(start))
	makeRoom(len(in.Indications)+len(in.ProveUps)+len(in.Readings), max(1, j.beside), len(j.past.paths))
	return nil
}

// unprinted is the letters of a text that the report has no font for.
func unprinted(s string) []rune {
	_, lost := lettering.Clean(s)
	return lost
}

// read opens the workbook and judges it.
func (j *job) read(ctx context.Context) error {
	if err := j.open(ctx); err != nil {
		return err
	}
	if j.found && len(j.book.Results) > 0 {
		return workbook.ErrOwn
	}
	j.carryAnswers()
	start, book := time.Now(), j.book
	j.album = openAlbum(filepath.Dir(j.path), book.Inspection.Photos, j.photos)
	before, err := j.earlier(ctx, book.Inspection)
	if err != nil {
		return err
	}
	j.a = rules.AssessSince(book.Inspection, book.Hits, j.album, before)
	j.t.detail("%s: checked and calculated in %s", filepath.Base(j.path), since(start))
	return ctx.Err()
}

// carryAnswers takes over the answers that stand in the results workbook of an
// earlier run, which this run replaces.
func (j *job) carryAnswers() {
	if j.target == "" {
		return
	}
	if a, err := os.Stat(j.target); err != nil {
		return
	} else if b, err := os.Stat(j.path); err == nil && os.SameFile(a, b) {
		return // its answers are read as the input's own
	}
	name := filepath.Base(j.target)
	earlier, err := workbook.EarlierAnswers(j.target, &j.book.Inspection.Tank)
	if err != nil {
		j.kept = fmt.Sprintf("%s is left as it is, since answers in it would be lost: %v", name, err)
		if errors.Is(err, workbook.ErrOtherTank) {
			j.kept = fmt.Sprintf("%s is left as it is: %v", name, err)
			j.theirs = outputsAt(strings.TrimSuffix(j.target, ".results.xlsx"))
		}
		return
	}
	in := j.book.Inspection
	known := make(map[string]bool)
	for _, a := range in.Answers {
		if a.InSheet {
			known[a.Key] = true
		}
	}
	n := 0
	for _, a := range earlier {
		if !known[a.Key] {
			in.Answers = append(in.Answers, a)
			n++
		}
	}
	if n > 0 {
		j.t.tell("%s: %s taken over from %s", filepath.Base(j.path), count(n, "answer"), name)
	}
}

func since(t time.Time) string { return time.Since(t).Round(100 * time.Microsecond).String() }

// inputs are the files that no output may replace.
func (j *job) inputs() []string {
	list := slices.Concat([]string{j.path}, j.past.paths, j.before)
	if j.kept != "" {
		list = append(list, j.target)
	}
	return append(list, j.theirs...)
}

// stem is the name that outputs share: a results workbook lends its input's.
func stem(path string) string {
	name := filepath.Base(path)
	name = strings.TrimSuffix(name, filepath.Ext(name))
	return strings.TrimSuffix(name, ".results")
}

// outputs is which files a run writes.
type outputs struct {
	dir    string
	only   []string // of outputKinds
	photos bool     // thumbnails in the page

	preliminary bool // the repair list of the same day in place of the report
}

// purpose of the photos: without a report, and thumbnails asked for, none is
// shown.
func (o outputs) purpose() photo.Purpose {
	if o.wants("pdf") || o.wants("html") && o.photos {
		return photo.ForPrint
	}
	return photo.ToCheck
}

// outputKinds is what a run can write.
var outputKinds = []string{"xlsx", "pdf", "html", "json", "csv"}

func (o outputs) wants(kind string) bool {
	return len(o.only) == 0 && kind != "json" && kind != "csv" || slices.Contains(o.only, kind)
}

// write makes the asked outputs side by side; each is whole or absent. The
// report takes longest, so that what is made of tables is made in turn beside
// it; the document comes last and waits for the report before it names it.
func (j *job) write(ctx context.Context, o outputs) ([]text.Output, error) {
	dir := o.dir
	if dir == "" {
		dir = filepath.Dir(j.path)
	}
	if err := makeFolder(dir); err != nil {
		return nil, err
	}
	base := filepath.Join(dir, stem(j.path))
	var results, report, page, lists, document []text.Output
	g, gctx := errgroup.WithContext(ctx)
	shown, sctx := errgroup.WithContext(gctx)
	if o.wants("pdf") {
		shown.Go(guarded(func() error {
			start := time.Now()
			out, err := j.writeReport(sctx, base+".report.pdf", o.preliminary)
			if err != nil {
				return fmt.Errorf("%s: %w", base+".report.pdf", err)
			}
			report = []text.Output{out}
			j.t.detail("%s: report in %s", filepath.Base(out.File), since(start))
			return nil
		}))
	}
	if o.wants("html") {
		shown.Go(guarded(func() error {
			start := time.Now()
			path, err := j.writePage(sctx, base+".floor.html", o.photos)
			if err != nil {
				return fmt.Errorf("%s: %w", base+".floor.html", err)
			}
			page = []text.Output{{Kind: "html", File: path}}
			j.t.detail("%s: floor page in %s", filepath.Base(path), since(start))
			return nil
		}))
	}
	g.Go(shown.Wait)
	g.Go(guarded(func() (err error) {
		if o.wants("xlsx") {
			start := time.Now()
			path, err := workbook.WriteResults(gctx, j.book, base+".results.xlsx", j.a, j.record())
			if err != nil {
				return fmt.Errorf("%s: %w", base+".results.xlsx", err)
			}
			results = []text.Output{{Kind: "xlsx", File: path}}
			j.t.detail("%s: results in %s", filepath.Base(path), since(start))
		}
		if o.wants("csv") {
			if lists, err = j.writeLists(gctx, base); err != nil {
				return err
			}
		}
		if !o.wants("json") {
			return nil
		}
		var other error // of the report or the page: nobody is told twice
		path, err := save.Save(gctx, base+".result.json", j.inputs(), func(w io.Writer) error {
			return text.JSON(w, j.a, text.Program{Version: version, Rules: rules.Version}, func() ([]text.Output, error) {
				other = shown.Wait()
				return relative(slices.Concat(results, report, page, lists)), other
			}, false, true)
		}, nil)
		if other != nil {
			return other
		}
		if err != nil {
			return fmt.Errorf("%s: %w", base+".result.json", err)
		}
		document = []text.Output{{Kind: "json", File: path}}
		return nil
	}))
	if err := g.Wait(); err != nil {
		rethrow(err)
		if errors.Is(err, fs.ErrNotExist) && !errors.Is(err, save.ErrGone) { // it was there, or made, before
			err = fmt.Errorf("the folder %s %w", filepath.ToSlash(dir), save.ErrGone)
		}
		return nil, err
	}
	return slices.Concat(results, report, page, lists, document), nil
}

// writeLists writes the indications, the pieces for the shop, and each table
// of the results as CSV.
func (j *job) writeLists(ctx context.Context, base string) ([]text.Output, error) {
	results, err := workbook.ResultLists(ctx, j.book, j.a, j.record())
	if err != nil {
		return nil, err
	}
	var made []text.Output
	write := func(path string, list func(io.Writer) error) error {
		path, err := save.Save(ctx, path, j.inputs(), list, nil)
		if err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		made = append(made, text.Output{Kind: "csv", File: path})
		return nil
	}
	err = errors.Join(
		write(base+".indications.csv", func(w io.Writer) error { return text.Indications(w, j.a) }),
		write(base+".pieces.csv", func(w io.Writer) error { return text.Pieces(w, j.a) }))
	for _, r := range results {
		if err == nil {
			err = write(base+"."+r.Name+".csv", func(w io.Writer) error { return text.List(w, r.Rows) })
		}
	}
	return made, err
}

// record is what the results say of the program.
func (j *job) record() workbook.Record {
	return workbook.Record{Version: version, Rules: rules.Version, Inputs: j.inputs()}
}

// relative drops folders from output names: the same input gives the same
// document in any folder.
func relative(made []text.Output) []text.Output {
	out := slices.Clone(made)
	for i := range out {
		out[i].File = filepath.Base(out[i].File)
	}
	return out
}

func (j *job) writeReport(ctx context.Context, path string, preliminary bool) (text.Output, error) {
	in := j.a.Inspection
	var r *report.Report
	if preliminary {
		r = report.BuildPreliminary(j.a, report.Options{Version: version, Logo: j.album.logo(in.Tank.Logo)})
	} else {
		r = report.Build(j.a, report.Options{Version: version, Photos: j.album.photos(in.Photos), Logo: j.album.logo(in.Tank.Logo)})
	}
	var info pdf.Info
	final, err := save.Save(ctx, path, j.inputs(), func(w io.Writer) (err error) {
		info, err = pdf.Write(w, r)
		return err
	}, nil)
	if err != nil {
		return text.Output{}, err
	}
	if len(info.Missing) > 0 {
		j.t.tell("%s: the report's fonts lack %s; the Unicode number of each stands in its place", filepath.Base(final), strings.Join(strings.Split(string(info.Missing), ""), " "))
	}
	return text.Output{Kind: "pdf", File: final, Pages: info.Pages}, nil
}

func (j *job) writePage(ctx context.Context, path string, photos bool) (string, error) {
	opt := html.Options{Version: version}
	if photos {
		opt.Thumbs = j.album.thumbs(html.PhotoFiles(j.a.Inspection))
	}
	return save.Save(ctx, path, j.inputs(), func(w io.Writer) error { return html.Write(w, j.a, opt) }, nil)
}

// failed tells an input or output that could not be used, in words or JSON,
// and marks the error as told.
func (j *job) failed(err error) error {
	if errors.Is(err, context.Canceled) {
		return err
	}
	rule, do := "", ""
	var unusable *finding.Unusable
	if errors.As(err, &unusable) {
		rule, do = unusable.Rule, unusable.Do
	}
	name := filepath.Base(j.path)
	if other := new(otherFile); errors.As(err, &other) {
		name, err = other.name, other.err
	}
	if do == "" {
		do = whatToDo(err)
	}
	if j.t.json {
		b, jerr := text.FailureJSON(text.Program{Version: version, Rules: rules.Version}, name, rule, err.Error(), do, exitFile, false)
		if jerr == nil {
			_, _ = j.t.out.Write(b)
		}
		return &fileError{err}
	}
	if rule != "" {
		rule = " " + rule
	}
	j.t.say("%s: error%s: %s", text.Line(name), rule, text.Line(err.Error()))
	if do != "" {
		j.t.say("    do: %s", do)
	}
	return &fileError{err}
}
