package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/urfave/cli/v2"

	"platebook/render/text"
	"platebook/rules/finding"
	"platebook/rules/unit"
	"platebook/workbook"
	"platebook/workbook/save"
)

func batchCommand(t *talk) *cli.Command {
	return &cli.Command{
		Name:      "batch",
		Usage:     "run many workbooks and folders, and list all tanks in an index by next date",
		ArgsUsage: "DIR-or-FILE…",
		Flags: append([]cli.Flag{
			&cli.IntFlag{Name: "jobs", Usage: "work on `N` workbooks at a time; 0: one for each processor"},
		}, outputFlags()...),
		Action: func(c *cli.Context) error {
			if _, _, err := t.level(); err != nil {
				return err
			}
			if c.NArg() == 0 {
				return &usageError{"batch needs a folder or workbooks: platebook batch DIR"}
			}
			if c.Int("jobs") < 0 {
				return &usageError{"--jobs is 0 or more; 0: one for each processor"}
			}
			o, err := outputsOf(c)
			if err != nil {
				return err
			}
			asOf, err := asOfDate(c)
			if err != nil {
				return err
			}
			if o.dir != "" {
				if err := makeFolder(o.dir); err != nil {
					return (&job{t: t, path: o.dir}).failed(err)
				}
			}
			b := &batch{t: t, list: gatherBatch(c.Args().Slice(), o.dir), outputs: o, asOf: asOf, jobs: c.Int("jobs")}
			return b.run(c.Context)
		},
	}
}

// batch is many workbooks run side by side. Of a finished one only its line
// of the index is kept, so that memory does not grow with their number.
type batch struct {
	t       *talk
	list    *batchList
	outputs outputs
	asOf    unit.Date
	jobs    int

	rows   []workbook.IndexRow
	worst  error
	failed []string
	begun  atomic.Int64 // workbooks handed to a worker
	own    []string     // workbooks that an earlier run wrote, under other names
}

// batchDone is one workbook's outcome on its way to the printer.
type batchDone struct {
	row       workbook.IndexRow
	out, talk bytes.Buffer // what it says on stdout and stderr
	own       string       // why it is no tank of its own: an earlier run wrote it
	do        string
	err       error
}

// lead is how many workbooks, for each worker, may be done before an earlier
// one that takes long: their words wait for its line.
const lead = 4

func (b *batch) run(ctx context.Context) error {
	n := len(b.list.files)
	jobs := b.jobs
	if jobs == 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	jobs = max(1, min(jobs, n))
	b.jobs = jobs
	done := make([]chan *batchDone, n)
	for i := range done {
		done[i] = make(chan *batchDone, 1)
	}
	next, room := make(chan int), make(chan struct{}, lead*jobs)
	var wg sync.WaitGroup
	for range jobs {
		wg.Go(func() {
			for i := range next {
				done[i] <- b.one(ctx, i)
			}
		})
	}
	go func() {
		defer close(next)
		for i := range n {
			select {
			case room <- struct{}{}:
			case <-ctx.Done():
				return
			}
			select {
			case next <- i:
				b.begun.Store(int64(i + 1))
			case <-ctx.Done():
				return
			}
		}
	}()
	defer wg.Wait()
	for i := range n {
		b.t.stage(i, n, b.list.files[i].shown)
		var d *batchDone
		select {
		case d = <-done[i]:
		case <-ctx.Done():
			b.interrupted(ctx, i, done)
			return ctx.Err()
		}
		done[i] = nil
		b.take(d)
		<-room
	}
	b.t.clear()
	return b.finish(ctx)
}

// soon is how long an interrupted batch waits for the workbooks at work: less
// than the program's patience, so that the index is written before its end.
const soon = patience / 3

// interrupted takes what is done from a place on and writes an index of the
// batch as far as it came. It has a name of its own: an index of all tanks that
// an earlier batch wrote tells more than it and stays.
func (b *batch) interrupted(ctx context.Context, from int, done []chan *batchDone) {
	b.t.clear()
	late, over := context.WithTimeout(context.Background(), soon)
	defer over()
	var rest []workbook.IndexRow
	for i := from; i < len(done); i++ {
		var d *batchDone
		select {
		case d = <-done[i]:
		default:
			if i < int(b.begun.Load()) {
				select {
				case d = <-done[i]:
				case <-late.Done():
				}
			}
		}
		if d != nil && !errors.Is(d.err, context.Canceled) {
			b.take(d)
			continue
		}
		rest = append(rest, workbook.IndexRow{File: b.list.files[i].shown, Failed: "not done: the batch was interrupted"})
	}
	finished, all := len(b.rows), len(b.rows)+len(rest)
	if finished == 0 {
		return // an index of nothing helps nobody
	}
	b.rows = append(b.rows, rest...)
	told := fmt.Sprintf("Interrupted: %d of %s done, the others not", finished, count(all, "workbook"))
	b.t.say("%s", strings.ToLower(told[:1])+told[1:])
	if err := b.index(context.WithoutCancel(ctx), "tanks.interrupted.index", told+". No index of all tanks."); err != nil {
		_ = (&job{t: b.t, path: b.list.home}).failed(err)
	}
}

// one runs one workbook; whatever goes wrong with it stays with it.
func (b *batch) one(ctx context.Context, i int) (d *batchDone) {
	f := b.list.files[i]
	d = &batchDone{row: workbook.IndexRow{File: f.shown}}
	own := &talk{
		out: &d.out, err: &d.talk, json: b.t.json, quiet: b.t.quiet, verbose: b.t.verbose,
		noColour: true, limit: b.t.limit, failOn: b.t.failOn,
	}
	defer func() {
		if p := recover(); p != nil {
			d.err = &bugError{fmt.Sprint(p)}
			d.row = workbook.IndexRow{File: f.shown, Failed: "internal error: " + fmt.Sprint(p)}
			own.internal(f.shown+": "+fmt.Sprint(p), stackOf(p))
		}
	}()
	j := &job{t: own, path: f.path, asOf: b.asOf, beside: b.jobs, found: f.found, photos: b.outputs.purpose()}
	if b.outputs.wants("xlsx") {
		j.target = targetOf(f.path, f.out)
	}
	err := j.read(ctx)
	var made []text.Output
	if err == nil {
		o := b.outputs
		o.dir = f.out
		made, err = j.write(ctx, o)
		j.renamed(made)
	}
	switch {
	case err == nil:
		d.row = workbook.IndexOf(f.shown, j.a)
		if own.json {
			d.err = j.print(made, false, true)
		} else if own.failing(j.a.Findings) {
			d.err = findingsError{}
		}
	case errors.Is(err, context.Canceled):
		d.err = err
	case f.found && errors.Is(err, workbook.ErrOwn):
		d.own = "not taken; this program wrote it, as a review or an index"
		if j.book != nil {
			tank := &j.book.Inspection.Tank
			d.own = fmt.Sprintf("not taken as a tank of its own; it holds the results of %s, report %s. To hold them against a rerun: platebook review; to run it: give it by its name", tank.Tank.Or("a tank"), tank.ReportNumber.Or("without a number"))
		}
	default:
		d.row = workbook.FailedIndex(f.shown, err.Error(), j.a)
		var unusable *finding.Unusable
		if errors.As(err, &unusable) {
			d.do = unusable.Do
			if unusable.Rule != "" {
				d.row.Failed = unusable.Rule + ": " + d.row.Failed
			}
		}
		if d.do == "" {
			d.do = whatToDo(err)
		}
		d.err = &fileError{err}
		if own.json {
			d.err = j.failed(err)
		}
	}
	return d
}

// take prints an outcome in its turn and keeps its line.
func (b *batch) take(d *batchDone) {
	if errors.Is(d.err, context.Canceled) {
		return
	}
	if d.own != "" {
		b.own = append(b.own, d.row.File+": "+d.own)
		return
	}
	if s := strings.TrimRight(d.talk.String(), "\n"); s != "" {
		b.t.say("%s", s)
	}
	if b.t.json {
		_, _ = b.t.out.Write(d.out.Bytes())
	} else {
		b.t.clear()
		fmt.Fprintf(b.t.out, "%s: %s\n", text.Line(d.row.File), text.Line(line(d.row)))
	}
	if d.row.Failed != "" {
		told := text.Line(d.row.File + ": " + d.row.Failed)
		if d.do != "" {
			told += "\n    do: " + d.do
		}
		b.failed = append(b.failed, told)
	}
	if codeOf(d.err) > codeOf(b.worst) {
		b.worst = d.err
	}
	b.rows = append(b.rows, d.row)
}

// line is what a batch says of a workbook.
func line(r workbook.IndexRow) string {
	if r.Failed != "" {
		return "failed: " + r.Failed
	}
	s := r.Standing
	if r.Smallest.Known {
		s += fmt.Sprintf("; smallest %s (%s)", unit.Thickness.TextUnit(r.Units, float64(r.Smallest.V), 0), r.At)
	}
	switch {
	case r.Next != 0:
		s += fmt.Sprintf("; interval %s years, calculated next date %s", unit.IntervalText(r.Interval.V), r.Next)
	case r.Interval.Known:
		s += "; repair before return to service"
	default:
		s += "; no interval"
	}
	return s + "; " + totals(r.Counts)
}

// finish writes the index and names what failed.
func (b *batch) finish(ctx context.Context) error {
	l := b.list
	if len(l.files) == 0 {
		b.t.tell("no workbook found")
	}
	if l.markers > 0 {
		b.t.tell("%s skipped: ~$ files only mark an open workbook", count(l.markers, "file"))
	}
	if l.outputs > 0 {
		b.t.tell("%s of earlier runs not taken as input", count(l.outputs, "output"))
	}
	for _, why := range b.own {
		b.t.say("%s", text.Line(why))
	}
	for _, name := range l.others {
		b.t.tell("%s: not taken; save it as .xlsx first", name)
	}
	for _, name := range l.odd {
		b.t.tell("%s: not taken; it is no file", name)
	}
	for _, name := range l.links {
		b.t.tell("%s: not looked into: a link to a folder; name the folder itself", name)
	}
	for _, name := range l.twice {
		b.t.tell("%s: given twice, run once", filepath.ToSlash(name))
	}
	for _, name := range l.moved {
		b.t.tell("%s: its outputs stand in a folder of their own, since another workbook has its name", name)
	}
	if slices.ContainsFunc(l.files, func(f batchFile) bool { _, err := os.Lstat(f.path); return err == nil }) {
		if err := b.index(ctx, "tanks.index", ""); err != nil {
			if err = (&job{t: b.t, path: b.list.home}).failed(err); codeOf(err) > codeOf(b.worst) {
				b.worst = err
			}
		}
	}
	for _, why := range l.broken {
		b.t.say("%s", why)
		if codeOf(b.worst) < exitFile {
			b.worst = &fileError{errors.New(why)}
		}
	}
	if len(b.failed) > 0 {
		b.t.say("%d of %s failed:", len(b.failed), count(len(b.rows), "workbook"))
		for _, f := range b.failed {
			b.t.say("  %s", f)
		}
	}
	return b.worst
}

// index writes the index under a name.
func (b *batch) index(ctx context.Context, name, caution string) error {
	workbook.SortIndex(b.rows)
	if err := makeFolder(b.list.home); err != nil {
		return err
	}
	inputs := make([]string, len(b.list.files))
	for i, f := range b.list.files {
		inputs[i] = f.path
	}
	base := filepath.Join(b.list.home, name)
	book, err := workbook.WriteIndex(ctx, base+".xlsx", inputs, b.rows, caution)
	if err != nil {
		return err
	}
	list, err := save.Save(ctx, base+".csv", inputs, func(w io.Writer) error { return workbook.IndexCSV(w, b.rows) }, nil)
	if err != nil {
		return err
	}
	for _, p := range []string{book, list} {
		if b.t.json {
			b.t.tell("wrote %s", filepath.ToSlash(p))
		} else {
			fmt.Fprintf(b.t.out, "wrote %s\n", text.Plain(filepath.ToSlash(p)))
		}
	}
	return nil
}
